// Where the belts run: shoulder straps over the belt bar or to eyes, lap straps to their anchors.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "core/base/expected.h"
#include "core/model/cage_geometry.h"

namespace hoopwright {

/// A taut strap that comes from a point and lies on a round bar in one cross-section of it, where collars
/// hold it. The free part is a straight line that only touches the bar: square to the radius at `touches`.
struct WrapStart {
    Vec3 axis_at = Vec3::Zero();  ///< on the bar's centreline, in that cross-section
    Vec3 touches = Vec3::Zero();  ///< on the bar's outside
    Vec3 out = Vec3::UnitZ();     ///< unit, from axis_at to touches
};
/// Over the side `over` points to (unit, up for a strap that goes over the top); nothing when the point is in
/// the bar. Exact: in the cross-section, cos of the angle at the axis is radius over distance.
std::optional<WrapStart> wrapOver(const Vec3& from, const Vec3& axis_at, const Vec3& axis, double radius_mm,
                                  const Vec3& over);

/// One shoulder strap, from the top of the shoulder to its first support and on.
struct ShoulderStrap {
    int side = 1;                  ///< 1 left, -1 right
    Vec3 shoulder = Vec3::Zero();  ///< where it leaves the person
    Vec3 support = Vec3::Zero();   ///< where it first touches the bar; without one, the anchor
    int bar = -1;                  ///< the bar it touches, index into CageGeometry::members; -1: none
    double station_mm = 0;         ///< of the cross-section on the bar
    Vec3 bar_top =
        Vec3::Zero();     ///< of the bar's outside where the strap crosses it; without a bar, the anchor
    WrapStart on_bar;     ///< where bar >= 0
    double wrap_rad = 0;  ///< how far round the bar it lies; a whole turn where it is anchored there
    std::optional<Vec3> leaves;  ///< where it leaves the bar for the anchor
    std::optional<Vec3> anchor;
    double angle_rad = 0;  ///< in side view, of the strap behind the shoulder to level; below is positive
    double plan_rad = 0;   ///< in plan, to straight back; outwards is positive
    double run_mm = 0;     ///< from shoulder to support
    double behind_seat_mm =
        0;  ///< of that, what lies behind the seat's slot: slot to support; without a seat, all
    double over_slot_mm = 0;  ///< height of the straight strap over the middle of the slot; 0 without a seat
};
/// The left one, then the right one.
struct ShoulderStraps {
    std::vector<ShoulderStrap> both;
    double spread_mm = 0;  ///< between the two where they first touch
};
/// The straps over one of these bars (the nearest of them where several are crossed), or to the anchors. A
/// bar that the straight line to the anchors clears is not a support. The reason says what is missing.
Expected<ShoulderStraps> shoulderStraps(const Driver& driver, const CageGeometry& cage,
                                        std::span<const int> bars);
/// Over the bar the driver's file names; the reason where it names none and has no anchors.
Expected<ShoulderStraps> shoulderStraps(const Driver& driver, const CageGeometry& cage);
/// Members of that name: "belt_bar", or of a mirrored pair "belt_bar.left" and "belt_bar.right".
std::vector<int> barsNamed(const CageGeometry& cage, std::string_view name);

/// A lap strap: from the hip point to its anchor, seen from the side.
struct LapStrap {
    Vec3 anchor = Vec3::Zero();
    double angle_rad =
        0;  ///< of the line from anchor up to the hip point, to level, in side view, 0 to 90 degrees
    double run_mm = 0;   ///< in space
    bool behind = true;  ///< the anchor lies behind the hip point
};
std::vector<LapStrap> lapStraps(const Driver& driver);

}  // namespace hoopwright
