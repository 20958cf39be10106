#include "core/survey/measuring.h"

#include <algorithm>
#include <cmath>

#include "core/survey/survey.h"

namespace hoopwright {
namespace {

using Key = MeasuringFigure::Key;
using Kind = MeasuringItem::Kind;

const DatumPlane* planeOf(const Car& car, std::string_view name) {
    const auto found = std::ranges::find(car.planes, name, &DatumPlane::name);
    return found == car.planes.end() ? nullptr : &*found;
}

std::optional<double> planeX(const Car& car, std::string_view name) {
    if (name == kDoorEdge) return 0.0;
    const DatumPlane* plane = planeOf(car, name);
    return plane ? std::optional(plane->x_mm) : std::nullopt;
}

std::optional<double> pointFigure(const Car& car, const CarPoint& point, const MeasuringFigure& figure) {
    if (figure.key == Key::tape) {
        if (const auto* by = std::get_if<ByTapes>(&point.taken)) {
            const auto read = std::ranges::find(by->tapes, figure.from, &Tape::from);
            if (read != by->tapes.end()) return read->length_mm;
        }
        const CarPoint* from = car.point(figure.from);
        return from ? std::optional((point.at - from->at).norm()) : std::nullopt;
    }
    if (figure.key == Key::height) return point.at.z();
    if (figure.key == Key::out) return std::abs(point.at.y());
    const std::optional<double> x = planeX(car, figure.from);
    return x ? std::optional(point.at.x() - *x) : std::nullopt;
}

std::optional<double> railFigure(const FrameRail& rail, Key key) {
    const double value = key == Key::width            ? rail.width_mm
                         : key == Key::section_height ? rail.height_mm
                                                      : rail.wall_mm;
    return value > 0 ? std::optional(value) : std::nullopt;
}

Reason lacking(const std::string& what) {
    return {what};
}

/// The readings as a way to take the point.
Expected<CarPoint> takenPoint(const MeasuringItem& item, const std::vector<std::optional<double>>& figures) {
    CarPoint point;
    point.name = item.name;
    point.tolerance_mm = item.tolerance_mm;
    point.how = item.hook;
    if (item.figures.front().key == Key::tape) {
        ByTapes by;
        by.lies = ByTapes::Lies::above;
        for (std::size_t i = 0; i < figures.size(); ++i) {
            if (figures[i]) by.tapes.push_back({item.figures[i].from, *figures[i], 0});
        }
        if (by.tapes.size() < 3) return lacking(item.title + " needs three tapes at least, better all four");
        point.taken = by;
        return point;
    }
    if (!std::ranges::all_of(figures, [](const auto& one) { return one.has_value(); }))
        return lacking(item.title + " needs its height, its distance out and its distance ahead");
    ByOffsets by;
    by.height_mm = *figures[0];
    by.out_mm = *figures[1];
    by.plane = item.figures[2].from;
    by.ahead_mm = *figures[2];
    // Places without a side lie on the centreline or, where they do not, on the side they are drawn on.
    if (otherSide(item.name) == item.name && by.out_mm != 0)
        by.toward = item.drawn.y() < 0 ? ByOffsets::Toward::right : ByOffsets::Toward::left;
    point.taken = by;
    return point;
}

void putPoint(Car& car, CarPoint point) {
    const auto known = std::ranges::find(car.points, point.name, &CarPoint::name);
    if (known == car.points.end()) {
        car.points.push_back(std::move(point));
        return;
    }
    // What its owner said of it stays; the readings are new.
    if (known->tolerance_mm > 0) point.tolerance_mm = known->tolerance_mm;
    if (!known->how.empty()) point.how = known->how;
    *known = std::move(point);
}

void putRail(Car& car, const MeasuringItem& item, const std::vector<std::optional<double>>& figures) {
    auto known = std::ranges::find(car.rails, item.name, &FrameRail::name);
    if (known == car.rails.end()) {
        FrameRail rail;
        rail.name = item.name;
        known = car.rails.insert(car.rails.end(), std::move(rail));
    }
    known->width_mm = *figures[0];
    known->height_mm = *figures[1];
    known->wall_mm = *figures[2];
}

void putPlane(Car& car, const MeasuringItem& item, double x_mm) {
    const auto known = std::ranges::find(car.planes, item.name, &DatumPlane::name);
    if (known == car.planes.end()) {
        car.planes.push_back({item.name, x_mm, item.tolerance_mm});
    } else {
        known->x_mm = x_mm;
    }
}

}  // namespace

std::optional<double> figureNow(const Car& car, const MeasuringItem& item, const MeasuringFigure& figure) {
    switch (item.kind) {
        case Kind::ground:
            return car.ground_z_mm < 0 ? std::optional(-car.ground_z_mm) : std::nullopt;
        case Kind::plane: {
            const DatumPlane* plane = planeOf(car, item.name);
            return plane ? std::optional(plane->x_mm) : std::nullopt;
        }
        case Kind::rail: {
            const FrameRail* rail = car.rail(item.name);
            return rail ? railFigure(*rail, figure.key) : std::nullopt;
        }
        case Kind::point:
            break;
    }
    const CarPoint* point = car.point(item.name);
    return point ? pointFigure(car, *point, figure) : std::nullopt;
}

bool isMeasured(const Car& car, const MeasuringItem& item) {
    return figureNow(car, item, item.figures.front()).has_value() ||
           (item.kind == Kind::point && car.point(item.name));
}

Expected<Car> withFigures(Car car, const MeasuringItem& item,
                          const std::vector<std::optional<double>>& figures, const LengthStyle& style) {
    const bool all = std::ranges::all_of(figures, [](const auto& one) { return one.has_value(); });
    if (item.kind == Kind::point) {
        Expected<CarPoint> point = takenPoint(item, figures);
        if (!point) return Reason{point.reason()};
        putPoint(car, *std::move(point));
    } else if (!all) {
        return lacking(item.title + " needs all of its figures");
    } else if (item.kind == Kind::ground) {
        if (*figures[0] <= 0)
            return lacking("the sill stands above the ground: write its height, more than 0");
        car.ground_z_mm = -*figures[0];
    } else if (item.kind == Kind::plane) {
        putPlane(car, item, *figures[0]);
    } else {
        if (std::ranges::any_of(figures, [](const auto& one) { return *one <= 0; }))
            return lacking(item.title + " has a size of 0 or less: measure it again");
        putRail(car, item, figures);
    }
    const std::vector<SurveyProblem> problems = settle(car, style);
    if (problems.empty()) return car;
    return Reason{problems.front().what + ": " + problems.front().remedy};
}

}  // namespace hoopwright
