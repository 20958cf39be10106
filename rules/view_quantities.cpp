// What the driver sees past the bars, and what they leave of the door.
#include <algorithm>
#include <cmath>

#include "core/driver/doorway.h"
#include "core/driver/sight.h"
#include "rules/measuring.h"

namespace hoopwright {
namespace {

/// Of the places, the one a bar comes nearest to hiding.
Measured sightGap(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    if (run.place(with.place).empty()) return Measured::unknown(run.placeMissing(with.place));
    const Vec3& eye = run.scene().driver(what).eye;
    SightTo least;
    least.clear_rad = 1e300;
    for (const PlacePoint& place : run.place(with.place)) {
        SightTo now = sightTo(eye, "", place.at, run.scene().cage());
        if (now.clear_rad < least.clear_rad) least = std::move(now);
    }
    if (least.member < 0) return Measured::unknown("the cage has no members");
    Measured out = Measured::number(least.clear_rad);
    if (!show) return out;
    // To the edge of the bar, off the line of sight towards its axis; past the line where the bar hides it.
    const Vec3 arm = least.on_bar - eye, way = (least.at - eye).normalized();
    const Vec3 off = arm - arm.dot(way) * way;
    const Vec3 aside = off.norm() > 1e-9 ? Vec3(off.normalized()) : Vec3(way.unitOrthogonal());
    const Vec3 edge =
        eye + arm.norm() * (std::cos(least.clear_rad) * way + std::sin(least.clear_rad) * aside);
    return std::move(out).with(
        {{ShownLine{eye, least.at, false}, ShownAngle{eye, least.at, edge}}, {least.member}, least.on_bar});
}

Measured windshieldHidden(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const Driver& driver = run.scene().driver(what);
    const Sight seen = sight(driver, run.scene().job().car, run.scene().cage());
    if (!seen.windshield_hidden)
        return Measured::unknown("the car has no line 'windshield' ahead of the eye");
    Measured out = Measured::number(*seen.windshield_hidden);
    if (!show) return out;
    Shown shown = shownPoint(driver.eye);
    for (const CarLine& line : run.scene().job().car.lines) {
        if (line.name != "windshield") continue;
        for (std::size_t i = 0; i < line.points.size(); ++i)
            shown.shapes.push_back(
                ShownLine{line.points[i], line.points[(i + 1) % line.points.size()], false});
    }
    for (const HiddenShare& bar : seen.windshield_bars) shown.members.push_back(bar.member);
    return std::move(out).with(std::move(shown));
}

Measured clearOpening(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const Expected<Doorway> door =
        doorway(run.scene().driver(what), run.scene().job().car, run.scene().cage(), with.line);
    if (!door) return Measured::unknown(door.reason());
    Measured out = Measured::number(door->clear_round_mm);
    if (!show) return out;
    const Vec3 half(door->clear_round_mm / 2, 0, 0);
    Shown shown = shownLine(door->round_at - half, door->round_at + half);
    shown.members = door->round_members;
    return std::move(out).with(std::move(shown));
}

}  // namespace

std::vector<Quantity> viewQuantities() {
    constexpr auto d = SubjectKind::driver;
    constexpr auto num = ValueKind::number;
    return {
        {{"sight_gap", Dimension::angle, "driver",
          "At the eye, from the line of sight to a place to the nearest edge of a bar; negative: a bar hides "
          "it.",
          "a driver, the place"},
         d,
         num,
         only(Arg::place),
         0,
         sightGap,
         {}},
        {{"windshield_hidden", Dimension::none, "driver",
          "Share of the view through the windshield that bars hide from the eye, 0 to 1.",
          "a driver, the car's line windshield"},
         d,
         num,
         0,
         0,
         windshieldHidden,
         {}},
        {{"clear_opening", Dimension::length, "driver",
          "Seen from the side, diameter of the largest round that passes the door opening on the driver's "
          "side "
          "between its edge and the bars.",
          "a driver, the car's line"},
         d,
         num,
         only(Arg::line),
         0,
         clearOpening,
         {}},
    };
}

}  // namespace hoopwright
