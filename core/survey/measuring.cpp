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

/// 0, 1, 2 for x, y, z; -1 for all others.
int axisOf(Key key) {
    return key == Key::x ? 0 : key == Key::y ? 1 : key == Key::z ? 2 : -1;
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
    if (figure.key == Key::height) return point.at.z() - (figure.from == kFromGround ? car.ground_z_mm : 0);
    if (figure.key == Key::out) return std::abs(point.at.y());
    if (const int axis = axisOf(figure.key); axis >= 0) return point.at[axis];
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

using Figures = std::vector<std::optional<double>>;

/// @param known the point as it was given before; null if it is new
Expected<ByTapes> takenTapes(const MeasuringItem& item, const Figures& figures, const CarPoint* known) {
    const auto* before = known ? std::get_if<ByTapes>(&known->taken) : nullptr;
    ByTapes by;
    by.lies = ByTapes::Lies::above;
    if (before) {
        by.lies = before->lies;
        by.near = before->near;
    }
    for (std::size_t i = 0; i < figures.size(); ++i) {
        if (!figures[i]) continue;
        Tape tape{item.figures[i].from, *figures[i], 0};
        if (before) {
            const auto was = std::ranges::find(before->tapes, tape.from, &Tape::from);
            if (was != before->tapes.end()) tape.tolerance_mm = was->tolerance_mm;
        }
        by.tapes.push_back(std::move(tape));
    }
    if (by.tapes.size() < 3) return lacking(item.title + " needs three tapes at least, better all four");
    return by;
}

ByOffsets takenOffsets(const MeasuringItem& item, const Figures& figures, const CarPoint* known) {
    ByOffsets by;
    by.height_mm = *figures[0];
    by.from = item.figures[0].from == kFromGround ? ByOffsets::From::ground : ByOffsets::From::sill;
    by.out_mm = *figures[1];
    by.plane = item.figures[2].from;
    by.ahead_mm = *figures[2];
    if (otherSide(item.name) != item.name || by.out_mm == 0) return by;
    // Places without a side lie on the centreline or, where they do not, on the side they were on, else on
    // the one they are drawn on.
    const auto* before = known ? std::get_if<ByOffsets>(&known->taken) : nullptr;
    by.toward = before && before->toward != ByOffsets::Toward::by_name ? before->toward
                : (known ? known->at.y() : item.drawn.y()) < 0         ? ByOffsets::Toward::right
                                                                       : ByOffsets::Toward::left;
    return by;
}

/// The readings as a way to take the point.
Expected<CarPoint> takenPoint(const MeasuringItem& item, const Figures& figures, const CarPoint* known) {
    CarPoint point;
    point.name = item.name;
    point.tolerance_mm = item.tolerance_mm;
    point.how = item.hook;
    if (known) {  // what its owner said of it stays; the readings are new
        if (known->tolerance_mm > 0) point.tolerance_mm = known->tolerance_mm;
        if (!known->how.empty()) point.how = known->how;
    }
    const Key first = item.figures.front().key;
    const bool all = std::ranges::all_of(figures, [](const auto& one) { return one.has_value(); });
    if (first == Key::tape) {
        Expected<ByTapes> by = takenTapes(item, figures, known);
        if (!by) return Reason{by.reason()};
        point.taken = *std::move(by);
    } else if (first == Key::x) {
        if (!all) return lacking(item.title + " needs its x, its y and its z");
        point.at = {*figures[0], *figures[1], *figures[2]};
    } else {
        if (!all) return lacking(item.title + " needs its height, its distance out and its distance ahead");
        point.taken = takenOffsets(item, figures, known);
    }
    return point;
}

void putPoint(Car& car, CarPoint point) {
    const auto known = std::ranges::find(car.points, point.name, &CarPoint::name);
    if (known == car.points.end()) {
        car.points.push_back(std::move(point));
    } else {
        *known = std::move(point);
    }
}

std::string spaced(std::string name) {
    std::ranges::replace(name, '_', ' ');
    return name;
}

/// "b pillar top, left".
std::string spoken(const std::string& point) {
    const std::size_t dot = point.find('.');
    if (dot == std::string::npos) return spaced(point);
    return spaced(point.substr(0, dot)) + ", " + point.substr(dot + 1);
}

MeasuringFigure tapeFrom(const std::vector<MeasuringStage>& walk, const std::string& point) {
    const MeasuringItem* datum = itemOf(walk, point);
    return {Key::tape, point, "from " + (datum ? std::to_string(datum->number) : spoken(point))};
}

std::vector<MeasuringFigure> offsetFigures(ByOffsets::From from, const std::string& plane) {
    const bool ground = from == ByOffsets::From::ground;
    return {{Key::height, ground ? std::string(kFromGround) : "",
             ground ? "height over ground" : "height over sill"},
            {Key::out, "", "out from centreline"},
            {Key::ahead, plane, "ahead of " + spaced(plane)}};
}

std::vector<MeasuringFigure> coordinateFigures() {
    return {{Key::x, "", "x, forward"}, {Key::y, "", "y, to the left"}, {Key::z, "", "z, up"}};
}

PointWay sheetsWay(const MeasuringItem& item) {
    const Key first = item.figures.empty() ? Key::x : item.figures.front().key;
    return first == Key::tape ? PointWay::tapes : first == Key::x ? PointWay::coordinates : PointWay::offsets;
}

/// Points a new one may be taped from: the sills, else the first ones the car has.
std::vector<std::string> datumsFor(const Car& car, const std::string& point) {
    constexpr std::size_t kFour = 4;
    const bool right = point.ends_with(".right");
    const std::string here = right ? ".right" : ".left", there = right ? ".left" : ".right";
    std::vector<std::string> out;
    for (const std::string& sill : {"sill_b" + here, "sill_a" + here, "sill_b" + there, "sill_a" + there}) {
        if (sill != point && car.point(sill)) out.push_back(sill);
    }
    for (const CarPoint& one : car.points) {
        if (out.size() >= kFour) break;
        if (one.name != point && std::ranges::find(out, one.name) == out.end()) out.push_back(one.name);
    }
    return out;
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

PointWay wayOf(const CarPoint& point) {
    return std::holds_alternative<ByTapes>(point.taken)     ? PointWay::tapes
           : std::holds_alternative<ByOffsets>(point.taken) ? PointWay::offsets
                                                            : PointWay::coordinates;
}

const MeasuringItem* itemOf(const std::vector<MeasuringStage>& walk, std::string_view point) {
    for (const MeasuringStage& stage : walk) {
        for (const MeasuringItem& item : stage.items) {
            if (item.kind == Kind::point && item.name == point) return &item;
        }
    }
    return nullptr;
}

MeasuringItem asGiven(const Car& car, const std::vector<MeasuringStage>& walk, const MeasuringItem& item) {
    MeasuringItem out = item;
    const CarPoint* point = item.kind == Kind::point ? car.point(item.name) : nullptr;
    if (!point) return out;
    if (const auto* by = std::get_if<ByTapes>(&point->taken)) {
        if (sheetsWay(item) != PointWay::tapes) out.figures.clear();
        for (const Tape& tape : by->tapes) {
            const MeasuringFigure figure = tapeFrom(walk, tape.from);
            if (std::ranges::find(out.figures, figure.from, &MeasuringFigure::from) == out.figures.end())
                out.figures.push_back(figure);
        }
        return out;
    }
    if (const auto* by = std::get_if<ByOffsets>(&point->taken)) {
        const bool as_asked = sheetsWay(item) == PointWay::offsets && by->from == ByOffsets::From::sill &&
                              item.figures[2].from == by->plane;
        if (!as_asked) out.figures = offsetFigures(by->from, by->plane);
        return out;
    }
    out.figures = coordinateFigures();
    return out;
}

MeasuringItem asAsked(const Car& car, const std::vector<MeasuringStage>& walk, const MeasuringItem& item,
                      PointWay way) {
    if (const CarPoint* point = car.point(item.name); point && wayOf(*point) == way)
        return asGiven(car, walk, item);
    MeasuringItem out = item;
    if (sheetsWay(item) == way) return out;
    if (way == PointWay::coordinates) {
        out.figures = coordinateFigures();
    } else if (way == PointWay::offsets) {
        out.figures = offsetFigures(ByOffsets::From::sill, std::string(kDoorEdge));
    } else {
        out.figures.clear();
        for (const std::string& datum : datumsFor(car, item.name))
            out.figures.push_back(tapeFrom(walk, datum));
    }
    return out;
}

std::optional<double> figureRead(const Car& car, const MeasuringItem& item, const MeasuringFigure& figure) {
    if (item.kind != Kind::point) return figureNow(car, item, figure);
    const CarPoint* point = car.point(item.name);
    if (!point) return std::nullopt;
    if (const auto* by = std::get_if<ByTapes>(&point->taken)) {
        const auto read = std::ranges::find(by->tapes, figure.from, &Tape::from);
        const bool has = figure.key == Key::tape && read != by->tapes.end();
        return has ? std::optional(read->length_mm) : std::nullopt;
    }
    if (const auto* by = std::get_if<ByOffsets>(&point->taken)) {
        const bool from_ground = by->from == ByOffsets::From::ground;
        if (figure.key == Key::height && (figure.from == kFromGround) == from_ground) return by->height_mm;
        if (figure.key == Key::out) return by->out_mm;
        if (figure.key == Key::ahead && figure.from == by->plane) return by->ahead_mm;
        return std::nullopt;
    }
    const int axis = axisOf(figure.key);
    return axis >= 0 ? std::optional(point->at[axis]) : std::nullopt;
}

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
        Expected<CarPoint> point = takenPoint(item, figures, car.point(item.name));
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
