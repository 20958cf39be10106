// Shoulder straps from the shoulder to the top of the bar they wrap over, and lap belts.
#include <algorithm>
#include <cmath>

#include "rules/measuring.h"

namespace hoopwright {
namespace {

struct Strap {
    Vec3 shoulder = Vec3::Zero();
    Vec3 top = Vec3::Zero();  ///< of the bar, where the strap comes to it
    int bar = -1;
};

std::optional<Strap> strapTo(const TableRun& run, int bar, const Vec3& shoulder, double y) {
    const ResolvedMember& m = run.scene().member(bar);
    std::optional<Strap> out;
    if (m.line.empty()) return out;
    for (double station : m.line.crossings({0, y, 0}, Vec3::UnitY())) {
        const Vec3 p = m.line.point(station);
        const Vec3 top(p.x(), p.y(), p.z() + uprightHalfHeight(m.radius_mm(), m.line.tangent(station)));
        // A bar that crosses twice carries the strap where it comes first.
        if (!out || (top - shoulder).norm() < (out->top - shoulder).norm()) out = Strap{shoulder, top, bar};
    }
    return out;
}

/// Both straps; or what is missing.
struct Straps {
    std::vector<Strap> found;
    std::string missing;
};
Straps strapsOf(const TableRun& run, const Subject& what, const Arguments& with) {
    const Driver& driver = run.scene().driver(what);
    std::vector<int> bars = run.members(with.members, what);
    if (with.members < 0) {
        if (driver.belts.bar.empty()) return {{}, "no belt bar is named for this driver"};
        bars.clear();
        for (int i = 0; i < run.scene().memberCount(); ++i) {
            const std::string& id = run.scene().member(i).id;
            if (id == driver.belts.bar || id.starts_with(driver.belts.bar + ".")) bars.push_back(i);
        }
        if (bars.empty())
            return {{}, "the cage has no member '" + driver.belts.bar + "' for this driver's straps"};
    }
    if (bars.empty()) return {{}, run.noMember(with.members)};
    Straps out;
    for (const double half : {0.5, -0.5}) {
        const Vec3& shoulder = half > 0 ? driver.shoulder_left : driver.shoulder_right;
        const double y = driver.shoulders().y() + half * driver.belts.spacing_mm;
        std::optional<Strap> best;
        for (int bar : bars) {
            const std::optional<Strap> now = strapTo(run, bar, shoulder, y);
            if (now && (!best || (now->top - shoulder).norm() < (best->top - shoulder).norm())) best = now;
        }
        if (!best) return {{}, "the bar does not reach as far across as the straps"};
        out.found.push_back(*best);
    }
    return out;
}

template <double (*figure)(const Strap&)>
Measured ofStraps(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const Straps straps = strapsOf(run, what, with);
    if (straps.found.empty()) return Measured::unknown(straps.missing);
    const double left = figure(straps.found[0]), right = figure(straps.found[1]);
    Measured out = Measured::stretch(std::min(left, right), std::max(left, right));
    if (!show) return out;
    Shown shown;
    for (const Strap& strap : straps.found) {
        shown.shapes.push_back(ShownLine{strap.shoulder, strap.top, true});
        shown.shapes.push_back(
            ShownAngle{strap.shoulder, strap.top, {strap.top.x(), strap.shoulder.y(), strap.shoulder.z()}});
    }
    shown.members = {straps.found[0].bar};
    shown.look_at = straps.found[0].top;
    return std::move(out).with(std::move(shown));
}

// Source of the construction: the strap leaves the top of the bar; angle = atan2(shoulder - top of bar, run
// back).
double angle(const Strap& s) {
    return std::atan2(s.shoulder.z() - s.top.z(), s.shoulder.x() - s.top.x());
}
double planAngle(const Strap& s) {
    return std::atan2(std::abs(s.shoulder.y() - s.top.y()), s.shoulder.x() - s.top.x());
}
double below(const Strap& s) {
    return s.shoulder.z() - s.top.z();
}
double length(const Strap& s) {
    return (s.shoulder - s.top).norm();
}

Measured beltSpacing(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const Driver& driver = run.scene().driver(what);
    Measured out = Measured::number(driver.belts.spacing_mm);
    if (!show) return out;
    const Straps straps = strapsOf(run, what, with);
    if (straps.found.empty()) return std::move(out).with(shownPoint(driver.shoulders()));
    return std::move(out).with(shownLine(straps.found[0].top, straps.found[1].top));
}

Measured lapAngle(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const Driver& driver = run.scene().driver(what);
    if (driver.belts.lap_anchors.empty())
        return Measured::unknown("no lap belt anchors are given for this driver");
    double low = 1e300, high = -1e300;
    Shown shown;
    for (const Vec3& anchor : driver.belts.lap_anchors) {
        const double now = std::atan2(driver.hip.z() - anchor.z(), std::abs(driver.hip.x() - anchor.x()));
        low = std::min(low, now);
        high = std::max(high, now);
        shown.shapes.push_back(ShownAngle{anchor, driver.hip, {driver.hip.x(), anchor.y(), anchor.z()}});
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
          "In side view, from the shoulder to the top of the bar; below level is positive; both straps.",
          needs},
         d,
         num,
         0,
         bar,
         ofStraps<angle>,
         {}},
        {{"belt_plan_angle", A, "driver", "Of the straps to straight back, in plan; both straps.", needs},
         d,
         num,
         0,
         bar,
         ofStraps<planAngle>,
         {}},
        {{"belt_bar_below_shoulder", L, "driver",
          "From the shoulder down to the top of the bar; both straps.", needs},
         d,
         num,
         0,
         bar,
         ofStraps<below>,
         {}},
        {{"belt_run", L, "driver", "From the shoulder to the top of the bar; both straps.", needs},
         d,
         num,
         0,
         bar,
         ofStraps<length>,
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
