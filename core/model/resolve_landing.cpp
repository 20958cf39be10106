#include "core/model/resolve_landing.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "core/base/text.h"
#include "core/geometry/distance.h"
#include "core/model/resolve_names.h"

namespace hoopwright::resolving {

namespace {

// A host whose ends lie this far on both sides of the centre plane crosses it; less is a bar in the plane.
constexpr double kCrosses_mm = 1.0;
// Round-off of a distance counted from the other end.
constexpr double kSameStation_mm = 1e-6;

bool crossesMiddle(const Centreline& host) {
    const double y0 = host.start().y(), y1 = host.end().y();
    return (y0 > kCrosses_mm && y1 < -kCrosses_mm) || (y0 < -kCrosses_mm && y1 > kCrosses_mm);
}

int axisOf(Landing::By by) {
    if (by == Landing::By::station_x) return 0;
    return by == Landing::By::across_y ? 1 : 2;
}

std::string saidPlane(const Ask& ask, LengthUnit unit) {
    const std::string value = showLength(ask.value, {unit});
    if (ask.by == Landing::By::station_x) return "where x is " + value;
    return ask.by == Landing::By::across_y ? "where y is " + value : "at height " + value;
}

/// The point of the host nearest to a plane it never reaches, with the range it does reach.
Spot missedPlane(const Centreline& host, const Ask& ask, LengthUnit unit) {
    const int axis = axisOf(ask.by);
    const Box box = host.bounds();
    const double low = box.min()[axis], high = box.max()[axis];
    const Vec3 up = Vec3::Unit(axis);
    Spot spot;
    spot.station_mm = nearestToPlane(host, Vec3::Zero(), ask.value > high ? Vec3(-up) : up).station_a_mm;
    spot.trouble = Spot::Trouble::misses;
    const char* name = axis == 0 ? "x " : axis == 1 ? "y " : "";
    spot.what = saidPlane(ask, unit) + ", which it never reaches";
    spot.remedy = "it runs from " + std::string(name) + showLength(low, {unit}) + " to " + name +
                  showLength(high, {unit}) + "; choose a value between them";
    return spot;
}

/// Station of that end's nearest place for a distance or fraction off the host.
Spot alongHost(const Centreline& host, double from_first_mm, const std::string& said, LengthUnit unit) {
    Spot spot;
    spot.station_mm = std::clamp(from_first_mm, 0.0, host.length_mm());
    if (std::abs(from_first_mm - spot.station_mm) <= kSameStation_mm) return spot;
    spot.trouble = Spot::Trouble::misses;
    spot.what = said + ", which is off its end";
    spot.remedy = "it is " + showLength(host.length_mm(), {unit}) + " long";
    return spot;
}

Spot crossing(const Centreline& host, const Ask& ask, LengthUnit unit) {
    const Vec3 normal = Vec3::Unit(axisOf(ask.by));
    std::vector<double> stations = host.crossings(ask.value * normal, normal);
    if (stations.empty()) return missedPlane(host, ask, unit);
    Spot spot;
    spot.station_mm = stations.front();
    if (ask.side != Side::centre) {
        const double sign = ask.side == Side::left ? 1 : -1;
        std::erase_if(stations, [&](double s) { return sign * host.point(s).y() <= 0; });
        if (stations.empty()) {
            spot.trouble = Spot::Trouble::misses;
            spot.what = saidPlane(ask, unit) + " on the " + std::string(sideWord(ask.side)) +
                        ", where it does not pass";
            spot.remedy = "leave the side out, or say the other one";
            return spot;
        }
        spot.station_mm = stations.front();
    }
    if (stations.size() > 1) {
        spot.trouble = Spot::Trouble::ambiguous;
        spot.what = saidPlane(ask, unit) + ", where it passes " + std::to_string(stations.size()) + " times";
        spot.remedy = ask.side == Side::centre ? "say which side, or give a distance along it"
                                               : "give a distance along it";
    }
    return spot;
}

}  // namespace

Ask askOf(const Landing& landing) {
    return {landing.by, landing.value, landing.from_last_end, landing.side};
}

Ask forRightHand(const Ask& ask, const Centreline& host, bool host_is_single) {
    Ask out = ask;
    out.side = otherSide(ask.side);
    if (ask.by == Landing::By::across_y) out.value = -ask.value;
    if (!host_is_single || !crossesMiddle(host)) return out;
    if (ask.by == Landing::By::fraction) out.value = 1 - ask.value;
    if (ask.by == Landing::By::distance || ask.by == Landing::By::end) out.from_last_end = !ask.from_last_end;
    return out;
}

Spot spotOn(const Centreline& host, const Ask& ask, LengthUnit unit) {
    switch (ask.by) {
        case Landing::By::distance: {
            const double from_first = ask.from_last_end ? host.length_mm() - ask.value : ask.value;
            return alongHost(host, from_first, "at " + showLength(ask.value, {unit}) + " along it", unit);
        }
        case Landing::By::fraction:
            return alongHost(host, ask.value * host.length_mm(),
                             "at " + shortest(ask.value) + " of its length", unit);
        case Landing::By::end: {
            Spot spot;
            spot.station_mm = ask.from_last_end ? host.length_mm() : 0;
            return spot;
        }
        case Landing::By::height:
        case Landing::By::station_x:
        case Landing::By::across_y:
            break;
    }
    return crossing(host, ask, unit);
}

}  // namespace hoopwright::resolving
