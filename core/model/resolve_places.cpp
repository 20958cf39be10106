// Path points to places in space.
#include <cmath>

#include "core/base/text.h"
#include "core/model/resolve_landing.h"
#include "core/model/resolver.h"
#include "core/model/sheet_shape.h"

namespace hoopwright::resolving {

namespace {

// Nothing on a car is a kilometre away; a number that size is a slip, and its squares would drown the rest.
constexpr double kFarthest_mm = 1e6;

bool sane(const Vec3& v) {
    return v.allFinite() && v.cwiseAbs().maxCoeff() <= kFarthest_mm;
}

}  // namespace

std::vector<PlacedPoint> Resolver::placePath(const Bar& bar) {
    std::vector<PlacedPoint> places;
    places.reserve(bar.member->path.size());
    for (int number = 0; number < static_cast<int>(bar.member->path.size()); ++number) {
        std::optional<PlacedPoint> placed = place(bar, number);
        if (!placed) continue;
        placed->number = number;
        if (sane(placed->at)) {
            places.push_back(*placed);
        } else {
            report(Kind::bad_value, bar,
                   "point " + std::to_string(number + 1) + " of its path is not a place within a kilometre.",
                   "check its coordinates");
        }
    }
    return places;
}

std::optional<PlacedPoint> Resolver::place(const Bar& bar, int number) {
    const auto k = static_cast<std::size_t>(number);
    const Place3& said = bar.member->path[k].place;
    if (const auto* fixed = std::get_if<FixedPoint>(&said)) {
        return PlacedPoint{bar.side == Side::right ? mirrored(fixed->at) : fixed->at};
    }
    if (const auto* at_car = std::get_if<AtCarPoint>(&said)) return placeAtCar(bar, *at_car);
    if (const auto* on_plate = std::get_if<OnPlate>(&said)) return placeOnPlate(bar, *on_plate);
    if (bar.hosts[k] < 0) return std::nullopt;  // reported when its host was looked for
    return placeLanding(bar, bar.hosts[k], *std::get_if<Landing>(&said));
}

std::optional<PlacedPoint> Resolver::placeAtCar(const Bar& bar, const AtCarPoint& said) {
    const bool right = bar.side == Side::right;
    const std::string name = right ? hoopwright::otherSide(said.point) : said.point;
    const std::optional<Vec3> point = job_.car.pointAt(name);
    if (!point && job_.car.point(hoopwright::otherSide(name))) {
        report(Kind::no_such_point, bar, "goes to " + name + ", and only the other side was measured.",
               "measure it, or say in the car's file that the car is symmetric");
        return std::nullopt;
    }
    if (!point) {
        std::vector<std::string> names;
        for (const CarPoint& one : job_.car.points) names.push_back(one.name);
        const std::string meant = didYouMean(said.point, names);
        report(Kind::no_such_point, bar, "goes to " + said.point + ", which is not a point of this car.",
               meant.empty() ? "measure it, or name a point of the car" : "did you mean " + meant + "?");
        return std::nullopt;
    }
    return PlacedPoint{*point + (right ? mirrored(said.offset) : said.offset)};
}

std::optional<PlacedPoint> Resolver::placeOnPlate(const Bar& bar, const OnPlate& said) {
    const Found found = plate_names_.find(said.plate, bar.side);
    if (found.index < 0) {
        const std::vector<std::string> ids = plate_names_.ids();
        const std::string base(splitName(said.plate).base);
        const std::string meant = didYouMean(base, ids);
        if (found.miss == Found::Miss::which_side) {
            report(Kind::no_such_plate, bar, "stands on plate " + said.plate + ", of which there are two.",
                   "say " + said.plate + ".left or " + said.plate + ".right");
        } else if (found.miss == Found::Miss::not_mirrored) {
            report(Kind::no_such_plate, bar,
                   "stands on plate " + said.plate + ", but " + base + " is one plate, not a pair.",
                   "write " + base);
        } else {
            report(
                Kind::no_such_plate, bar,
                "stands on plate " + said.plate + ", which is not there or has no shape.",
                meant.empty() || meant == base ? "name a plate of this cage" : "did you mean " + meant + "?");
        }
        return std::nullopt;
    }
    const ResolvedPlate& plate = cage_.plates[static_cast<std::size_t>(found.index)];
    Vec2 offset = said.offset;
    if (bar.side == Side::right) {
        // What the left-hand copy does on its plate, mirrored; a single plate keeps its own axes.
        offset.y() = -offset.y();
        if (found.single)
            offset =
                plate.axes.leftCols<2>().transpose() * mirrored(Vec3(plate.axes.leftCols<2>() * said.offset));
    }
    PlacedPoint placed{placeOnSheet(plate, offset)};
    placed.plate = found.index;
    return placed;
}

std::optional<PlacedPoint> Resolver::placeLanding(const Bar& bar, int host, const Landing& said) {
    const Centreline& line = made_[static_cast<std::size_t>(host)].line;
    const std::string& host_id = bars_[static_cast<std::size_t>(host)].id;
    if (line.empty()) {
        report(Kind::no_such_member, bar, "lands on " + host_id + ", which has no shape of its own.",
               "put " + host_id + " right first");
        return std::nullopt;
    }
    if (!(std::abs(said.value) <= kFarthest_mm)) {
        report(Kind::bad_value, bar,
               "lands on " + host_id + " at a value that is not a place within a kilometre.",
               "check the number");
        return std::nullopt;
    }
    Ask ask = askOf(said);
    if (bar.side == Side::right) {
        ask = forRightHand(ask, line, bars_[static_cast<std::size_t>(host)].side == Side::centre);
    }
    const Spot spot = spotOn(line, ask, job_.cage.unit);
    const Vec3 at = line.point(spot.station_mm);
    if (spot.trouble != Spot::Trouble::none) {
        report(spot.trouble == Spot::Trouble::misses ? Kind::landing_misses : Kind::landing_ambiguous, bar,
               "lands on " + host_id + " " + spot.what + ".", spot.remedy, at);
    }
    PlacedPoint placed{at + (bar.side == Side::right ? mirrored(said.offset) : said.offset)};
    placed.host = host;
    return placed;
}

}  // namespace hoopwright::resolving
