// A person's own measures, and bars against them.
#include <algorithm>
#include <cmath>

#include "rules/measuring.h"

namespace hoopwright {
namespace {

Measured figure(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const Driver& driver = run.scene().driver(what);
    Measured out = Measured::word(driver.figure.empty() ? "measured" : driver.figure);
    return show ? std::move(out).with(shownPoint(driver.hip)) : std::move(out);
}

/// From each point of the part to the nearest point of the place.
Measured partToPlace(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    if (run.place(with.place).empty()) return Measured::unknown(run.placeMissing(with.place));
    double low = 1e300, high = -1e300;
    Shown shown;
    for (BodyPart part : with.parts) {
        if (!hasPoint(part))
            return Measured::unknown("the " + std::string(partWord(part)) + " has no measured point");
        for (const Vec3& at : bodyPoints(run.scene().driver(what), part)) {
            const auto places = run.place(with.place);
            const auto nearest = std::min_element(
                places.begin(), places.end(),
                [&](const auto& a, const auto& b) { return (a.at - at).norm() < (b.at - at).norm(); });
            const double distance = (nearest->at - at).norm();
            if (distance < low) shown = shownLine(at, nearest->at);
            low = std::min(low, distance);
            high = std::max(high, distance);
        }
    }
    if (low > high) return Measured::unknown("that part is not measured for this driver");
    Measured out = Measured::stretch(low, high);
    return show ? std::move(out).with(std::move(shown)) : std::move(out);
}

/// Between the insides of these bars at the height of the shoulders, less the width of the shoulders.
Measured widthOverShoulders(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const Driver& driver = run.scene().driver(what);
    if (!driver.shoulder_width_mm) return Measured::unknown("no shoulder width is measured for this driver");
    const Vec3 at = driver.shoulders();
    double left = 1e300, right = -1e300;
    Shown shown;
    for (int i : run.members(with.members, what)) {
        const ResolvedMember& m = run.scene().member(i);
        for (double station : m.line.crossings(at, Vec3::UnitZ())) {
            const Vec3 p = m.line.point(station);
            const double half = levelHalfWidth_y(m.radius_mm(), m.line.tangent(station));
            if (p.y() > at.y()) left = std::min(left, p.y() - half);
            if (p.y() <= at.y()) right = std::max(right, p.y() + half);
            if (show) shown.members.push_back(i);
        }
    }
    if (left > 1e299 || right < -1e299)
        return Measured::unknown("none of these bars passes on both sides at the shoulders' height");
    Measured out = Measured::number(left - right - *driver.shoulder_width_mm);
    if (!show) return out;
    const double half = *driver.shoulder_width_mm / 2;
    shown.shapes.push_back(ShownLine{{at.x(), left, at.z()}, {at.x(), right, at.z()}, true});
    shown.shapes.push_back(ShownLine{{at.x(), at.y() + half, at.z()}, {at.x(), at.y() - half, at.z()}, true});
    shown.look_at = at;
    return std::move(out).with(std::move(shown));
}

/// At the height of the shoulders, from the person's middle across to the outer face of these bars, on the
/// nearer side.
Measured middleToOutside(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const Vec3 at = run.scene().driver(what).shoulders();
    double left = -1e300, right = 1e300;
    int left_bar = -1, right_bar = -1;
    for (int i : run.members(with.members, what)) {
        const ResolvedMember& m = run.scene().member(i);
        for (double station : m.line.crossings(at, Vec3::UnitZ())) {
            const double y = m.line.point(station).y();
            const double half = levelHalfWidth_y(m.radius_mm(), m.line.tangent(station));
            if (y > at.y() && y + half > left) left = y + half, left_bar = i;
            if (y <= at.y() && y - half < right) right = y - half, right_bar = i;
        }
    }
    if (left_bar < 0 || right_bar < 0)
        return Measured::unknown("none of these bars passes on both sides at the shoulders' height");
    const bool to_left = left - at.y() <= at.y() - right;
    Measured out = Measured::number(to_left ? left - at.y() : at.y() - right);
    if (!show) return out;
    Shown shown = shownLine(at, {at.x(), to_left ? left : right, at.z()});
    shown.members = {to_left ? left_bar : right_bar};
    return std::move(out).with(std::move(shown));
}

/// Inside edge to inside edge of the straps.
Measured beltGap(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const Driver& driver = run.scene().driver(what);
    const double gap = driver.belts.spacing_mm - driver.belts.strap_width_mm;
    Measured out = Measured::number(gap);
    if (!show) return out;
    const Vec3 at = driver.shoulders(), half(0, gap / 2, 0);
    return std::move(out).with(shownLine(at - half, at + half));
}

}  // namespace

std::vector<Quantity> personQuantities() {
    constexpr auto d = SubjectKind::driver;
    const auto L = Dimension::length;
    return {
        {{"figure", Dimension::none, "driver",
          "The published figure the person was started from, or `measured`.", "a driver"},
         d,
         ValueKind::word,
         0,
         0,
         figure,
         {}},
        {{"part_to_place", L, "driver", "From a measured point of the body to the nearest point of a place.",
          "a driver, the place"},
         d,
         ValueKind::number,
         Arg::body_part | Arg::place,
         0,
         partToPlace,
         {}},
        {{"width_over_shoulders", L, "driver",
          "Between the insides of these bars at the height of the shoulders, less the width of the "
          "shoulders.",
          "a driver with a shoulder width, bars on both sides there"},
         d,
         ValueKind::number,
         only(Arg::members),
         0,
         widthOverShoulders,
         {}},
        {{"middle_to_outside", L, "driver",
          "Level across at the height of the shoulders, from the person's middle to the outer face of these "
          "bars, "
          "on the nearer side.",
          "a driver, bars on both sides there"},
         d,
         ValueKind::number,
         0,
         only(Arg::members),
         middleToOutside,
         {}},
        {{"belt_gap", L, "driver", "Between the inner edges of the two straps at the bar.", "a driver"},
         d,
         ValueKind::number,
         0,
         0,
         beltGap,
         {}},
    };
}

}  // namespace hoopwright
