// Shoulder straps from the shoulder to the bar they wrap over or to their anchors, and lap belts.
#include <algorithm>
#include <cmath>

#include "core/driver/straps.h"
#include "rules/measuring.h"

namespace hoopwright {
namespace {

/// Both straps; or what is missing.
Expected<ShoulderStraps> strapsOf(const TableRun& run, const Subject& what, const Arguments& with) {
    const Driver& driver = run.scene().driver(what);
    if (with.members < 0) return shoulderStraps(driver, run.scene().cage());
    const std::vector<int> bars = run.members(with.members, what);
    if (bars.empty()) return Reason{run.noMember(with.members)};
    return shoulderStraps(driver, run.scene().cage(), bars);
}

using Strap = ShoulderStrap;

template <double (*figure)(const Strap&), ShownShape (*shape)(const Strap&)>
Measured ofStraps(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const Expected<ShoulderStraps> straps = strapsOf(run, what, with);
    if (!straps) return Measured::unknown(straps.reason());
    const double left = figure(straps->both[0]), right = figure(straps->both[1]);
    Measured out = Measured::stretch(std::min(left, right), std::max(left, right));
    if (!show) return out;
    Shown shown;
    for (const Strap& strap : straps->both) {
        shown.shapes.push_back(ShownLine{strap.shoulder, strap.support, false});
        shown.shapes.push_back(shape(strap));
        if (strap.bar >= 0) shown.members = {strap.bar};
    }
    shown.look_at = straps->both[0].support;
    return std::move(out).with(std::move(shown));
}

double angle(const Strap& s) {
    return s.angle_rad;
}
ShownShape fromTheSide(const Strap& s) {
    const Vec3 &from = s.shoulder, &to = s.support;
    return ShownAngle{from, {to.x(), from.y(), to.z()}, {to.x(), from.y(), from.z()}};
}
double planAngle(const Strap& s) {
    return std::abs(s.plan_rad);
}
ShownShape fromAbove(const Strap& s) {
    const Vec3 &from = s.shoulder, &to = s.support;
    return ShownAngle{from, {to.x(), to.y(), from.z()}, {to.x(), from.y(), from.z()}};
}
double below(const Strap& s) {
    return s.shoulder.z() - s.bar_top.z();
}
ShownShape drop(const Strap& s) {
    const Vec3& top = s.bar_top;
    return ShownLine{{top.x(), top.y(), s.shoulder.z()}, top, true};
}
double length(const Strap& s) {
    return s.run_mm;
}
ShownShape wholeRun(const Strap& s) {
    return ShownLine{s.shoulder, s.support, true};
}
double behindSeat(const Strap& s) {
    return s.behind_seat_mm;
}
ShownShape runBehindSeat(const Strap& s) {
    const Vec3 way = s.support - s.shoulder;
    const double share = way.norm() > 1e-9 ? s.behind_seat_mm / way.norm() : 0;
    return ShownLine{s.support - share * way, s.support, true};
}

/// What lies behind the seat can only be told of a seat that was measured.
Measured beltBehindSeat(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    if (!run.scene().driver(what).seat) return Measured::unknown("no seat is measured for this driver");
    return ofStraps<behindSeat, runBehindSeat>(run, what, with, show);
}

Measured beltSpacing(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const Driver& driver = run.scene().driver(what);
    Measured out = Measured::number(driver.belts.spacing_mm);
    if (!show) return out;
    const Expected<ShoulderStraps> straps = strapsOf(run, what, with);
    if (!straps) return std::move(out).with(shownPoint(driver.shoulders()));
    return std::move(out).with(shownLine(straps->both[0].support, straps->both[1].support));
}

Measured lapAngle(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const Driver& driver = run.scene().driver(what);
    if (driver.belts.lap_anchors.empty())
        return Measured::unknown("no lap belt anchors are given for this driver");
    double low = 1e300, high = -1e300;
    Shown shown;
    for (const LapStrap& strap : lapStraps(driver)) {
        const Vec3& anchor = strap.anchor;
        low = std::min(low, strap.angle_rad);
        high = std::max(high, strap.angle_rad);
        shown.shapes.push_back(ShownAngle{
            anchor, {driver.hip.x(), anchor.y(), driver.hip.z()}, {driver.hip.x(), anchor.y(), anchor.z()}});
        shown.look_at = anchor;
    }
    Measured out = Measured::stretch(low, high);
    return show ? std::move(out).with(std::move(shown)) : std::move(out);
}

}  // namespace

std::vector<Quantity> beltQuantities() {
    constexpr auto d = SubjectKind::driver;
    constexpr auto num = ValueKind::number;
    const auto L = Dimension::length;
    const auto A = Dimension::angle;
    const ArgSet bar = only(Arg::members);
    const char* needs = "a driver, the bar the straps wrap over";
    return {
        {{"belt_angle", A, "driver",
          "In side view, of the strap from the shoulder to where it first touches the bar, or to its anchor; "
          "below level is positive; both straps.",
          needs},
         d,
         num,
         0,
         bar,
         ofStraps<angle, fromTheSide>,
         {}},
        {{"belt_plan_angle", A, "driver", "Of the straps to straight back, in plan; both straps.", needs},
         d,
         num,
         0,
         bar,
         ofStraps<planAngle, fromAbove>,
         {}},
        {{"belt_bar_below_shoulder", L, "driver",
          "From the shoulder down to the top of the bar, or to its anchor; both straps.", needs},
         d,
         num,
         0,
         bar,
         ofStraps<below, drop>,
         {}},
        {{"belt_run", L, "driver",
          "From the shoulder to where the strap first touches the bar, or to its anchor; both straps.",
          needs},
         d,
         num,
         0,
         bar,
         ofStraps<length, wholeRun>,
         {}},
        {{"belt_behind_seat", L, "driver",
          "From the seat's slot to where the strap first touches the bar, or to its anchor; both straps.",
          "a driver with a seat, the bar the straps wrap over"},
         d,
         num,
         0,
         bar,
         beltBehindSeat,
         {}},
        {{"belt_spacing", L, "driver", "Centre to centre of the straps at the bar.", "a driver"},
         d,
         num,
         0,
         0,
         beltSpacing,
         {}},
        {{"lap_angle", A, "driver", "In side view, from the lap anchors up to the hip point, to level.",
          "a driver, lap anchors"},
         d,
         num,
         0,
         0,
         lapAngle,
         {}},
    };
}

}  // namespace hoopwright
