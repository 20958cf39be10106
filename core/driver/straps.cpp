#include "core/driver/straps.h"

#include <array>
#include <cmath>
#include <numbers>

#include "core/driver/clearance.h"

namespace hoopwright {
namespace {

/// From -pi to pi, right-handed about `axis`.
double turn(const Vec3& from, const Vec3& to, const Vec3& axis) {
    return std::atan2(axis.dot(from.cross(to)), from.dot(to));
}

/// Unit, from the axis to where lines from a point touch a bar, in the cross-section at `axis_at`.
struct Tangents {
    int count = 0;
    std::array<Vec3, 2> out;
};
Tangents tangents(const Vec3& from, const Vec3& axis_at, const Vec3& axis, double radius_mm) {
    Vec3 arm = from - axis_at;
    arm -= arm.dot(axis) * axis;
    const double distance = arm.norm();
    if (!(distance > radius_mm)) return {};
    const Vec3 along = arm / distance, across = axis.cross(along);
    const double c = radius_mm / distance, s = std::sqrt(1 - c * c);
    return {2, {c * along + s * across, c * along - s * across}};
}

/// The straps' figures once their two ends are known.
void measure(const Driver& driver, ShoulderStrap& strap) {
    const Vec3 run = strap.support - strap.shoulder;
    strap.run_mm = run.norm();
    strap.angle_rad = std::atan2(-run.z(), -run.x());
    strap.plan_rad = std::atan2(strap.side * run.y(), -run.x());
    strap.behind_seat_mm = strap.run_mm;
    if (driver.seat) {
        const Vec3& slot = strap.side > 0 ? driver.seat->slot_left : driver.seat->slot_right;
        strap.behind_seat_mm = (strap.support - slot).norm();
        const double share = std::abs(run.x()) > 1e-9 ? (slot.x() - strap.shoulder.x()) / run.x() : 0;
        strap.over_slot_mm = strap.shoulder.z() + share * run.z() - slot.z();
    }
}

/// Where a strap at y crosses the bar, the place nearest to the shoulder.
std::optional<double> stationAt(const ResolvedMember& bar, const Vec3& shoulder, double y) {
    std::optional<double> best;
    double least = 0;
    for (const double station : bar.line.crossings({0, y, 0}, Vec3::UnitY())) {
        const double now = (bar.line.point(station) - shoulder).norm();
        if (best && now >= least) continue;
        best = station;
        least = now;
    }
    return best;
}

class StrapMaker {
public:
    StrapMaker(const Driver& driver, const CageGeometry& cage, std::span<const int> bars)
        : driver_(driver), cage_(cage), bars_(bars) {}

    Expected<ShoulderStraps> both() const {
        ShoulderStraps out;
        for (const int side : {1, -1}) {
            Expected<ShoulderStrap> one = strap(side);
            if (!one) return Reason{one.reason()};
            out.both.push_back(*std::move(one));
        }
        out.spread_mm = (out.both[0].support - out.both[1].support).norm();
        return out;
    }

private:
    std::optional<Vec3> anchor(int side) const {
        const auto& anchors = driver_.belts.shoulder_anchors;
        if (!anchors) return std::nullopt;
        return side > 0 ? anchors->left : anchors->right;
    }

    Expected<ShoulderStrap> strap(int side) const {
        ShoulderStrap out;
        out.side = side;
        out.shoulder = side > 0 ? driver_.shoulder_left : driver_.shoulder_right;
        out.anchor = anchor(side);
        if (bars_.empty()) return toAnchor(std::move(out));
        const double y = driver_.shoulders().y() + 0.5 * side * driver_.belts.spacing_mm;
        std::optional<ShoulderStrap> best;
        bool in_bar = false;
        for (const int bar : bars_) {
            const ResolvedMember& m = cage_.members[static_cast<std::size_t>(bar)];
            const std::optional<double> station = stationAt(m, out.shoulder, y);
            if (!station) continue;
            std::optional<ShoulderStrap> now = overBar(out, bar, *station);
            in_bar = in_bar || !now;
            if (now && (!best || now->run_mm < best->run_mm)) best = std::move(now);
        }
        if (best) return *std::move(best);
        return Reason{in_bar ? "the shoulder lies inside the bar"
                             : "the bar does not reach as far across as the straps"};
    }

    Expected<ShoulderStrap> toAnchor(ShoulderStrap out) const {
        if (!out.anchor) return Reason{"no belt bar is named for this driver"};
        out.support = out.bar_top = *out.anchor;
        measure(driver_, out);
        return out;
    }

    std::optional<ShoulderStrap> overBar(ShoulderStrap out, int index, double station) const {
        const ResolvedMember& bar = cage_.members[static_cast<std::size_t>(index)];
        const Vec3 at = bar.line.point(station), axis = bar.line.tangent(station);
        const auto start = wrapOver(out.shoulder, at, axis, bar.radius_mm(), Vec3::UnitZ());
        if (!start) return std::nullopt;
        out.bar = index;
        out.station_mm = station;
        out.on_bar = *start;
        out.support = start->touches;
        out.bar_top = at + Vec3(0, 0, uprightHalfHeight(bar.radius_mm(), axis));
        out.wrap_rad = 2 * std::numbers::pi;
        if (out.anchor) layOn(out, axis, bar.radius_mm());
        measure(driver_, out);
        return out;
    }

    /// On over the bar to the anchor; or straight past it, where the line to the anchor stays outside the
    /// bar.
    static void layOn(ShoulderStrap& out, const Vec3& axis, double radius_mm) {
        const Tangents ends = tangents(*out.anchor, out.on_bar.axis_at, axis, radius_mm);
        if (ends.count == 0 || (*out.anchor - out.support).dot(out.on_bar.out) >= 0) {
            out.bar = -1;
            out.wrap_rad = 0;
            out.support = out.bar_top = *out.anchor;
            return;
        }
        // Round the bar the strap turns on the way it came; it leaves where that way points to the anchor.
        const Vec3 coming = out.support - out.shoulder;
        const Vec3 about = out.on_bar.out.cross(coming - coming.dot(axis) * axis).normalized();
        for (const Vec3& end : ends.out) {
            const Vec3 leaves = out.on_bar.axis_at + radius_mm * end;
            if ((*out.anchor - leaves).dot(about.cross(end)) <= 0) continue;
            const double angle = turn(out.on_bar.out, end, about);
            out.wrap_rad = angle < 0 ? angle + 2 * std::numbers::pi : angle;
            out.leaves = leaves;
        }
    }

    const Driver& driver_;
    const CageGeometry& cage_;
    std::span<const int> bars_;
};

}  // namespace

std::optional<WrapStart> wrapOver(const Vec3& from, const Vec3& axis_at, const Vec3& axis, double radius_mm,
                                  const Vec3& over) {
    const Tangents both = tangents(from, axis_at, axis, radius_mm);
    if (both.count == 0) return std::nullopt;
    const Vec3 out = both.out[0].dot(over) >= both.out[1].dot(over) ? both.out[0] : both.out[1];
    return WrapStart{axis_at, axis_at + radius_mm * out, out};
}

Expected<ShoulderStraps> shoulderStraps(const Driver& driver, const CageGeometry& cage,
                                        std::span<const int> bars) {
    return StrapMaker(driver, cage, bars).both();
}

Expected<ShoulderStraps> shoulderStraps(const Driver& driver, const CageGeometry& cage) {
    if (driver.belts.bar.empty()) return shoulderStraps(driver, cage, {});
    const std::vector<int> bars = barsNamed(cage, driver.belts.bar);
    if (bars.empty())
        return Reason{"the cage has no member '" + driver.belts.bar + "' for this driver's straps"};
    return shoulderStraps(driver, cage, bars);
}

std::vector<int> barsNamed(const CageGeometry& cage, std::string_view name) {
    std::vector<int> out;
    for (std::size_t i = 0; i < cage.members.size(); ++i) {
        const std::string_view id = cage.members[i].id;
        const bool side_of = id.size() > name.size() && id.starts_with(name) && id[name.size()] == '.';
        if (id == name || side_of) out.push_back(static_cast<int>(i));
    }
    return out;
}

std::vector<LapStrap> lapStraps(const Driver& driver) {
    std::vector<LapStrap> out;
    for (const Vec3& anchor : driver.belts.lap_anchors) {
        const Vec3 up = driver.hip - anchor;
        out.push_back(
            {anchor, std::atan2(up.z(), std::abs(up.x())), up.norm(), anchor.x() <= driver.hip.x()});
    }
    return out;
}

}  // namespace hoopwright
