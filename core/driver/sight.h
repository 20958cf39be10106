// What the driver sees past the tubes: mirrors, the road over the dash, the view through the windshield.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/model/cage_geometry.h"

namespace hoopwright {

/// A straight look from the eye to something.
struct SightTo {
    std::string name;  ///< of the car point: "mirror.left"
    Vec3 at = Vec3::Zero();
    int member =
        -1;  ///< the bar that comes nearest to the line of sight on this side of it; -1: there is none
    double clear_rad =
        0;  ///< angle at the eye from the line of sight to the edge of that bar; negative: the bar hides it
    Vec3 on_bar = Vec3::Zero();  ///< on its centreline, where it comes nearest
};
/// Angle at the eye between the line of sight and the nearest edge of a bar, for a place in space.
SightTo sightTo(const Vec3& eye, const std::string& name, const Vec3& at, const CageGeometry& cage);

/// The lowest the driver can look straight ahead: over dash, cowl and bonnet in the eye's own fore-aft plane.
struct SightAhead {
    std::string line;          ///< the car's line that ends the view
    Vec3 over = Vec3::Zero();  ///< where it does
    double down_rad = 0;       ///< of that line of sight to level; below is positive
    std::optional<double>
        ground_ahead_mm;  ///< from the eye to where it meets the ground; nothing: it never does
};

/// A bar that hides a stretch of what is at eye height.
struct HiddenStretch {
    int member = -1;
    double from_rad = 0, to_rad = 0;  ///< azimuth, 0 ahead, to the left positive; from < to
};

/// How much of the windshield's view a bar hides.
struct HiddenShare {
    int member = -1;
    double share = 0;
};

struct Sight {
    std::vector<SightTo> mirrors;  ///< the car's points whose name starts with "mirror"
    std::optional<SightAhead>
        ahead;  ///< nothing: the car has no line dash, cowl or bonnet that the plane cuts
    std::vector<HiddenStretch>
        hidden;  ///< within kViewSide_rad of straight ahead, from the right to the left
    std::optional<double>
        windshield_hidden;  ///< 0 to 1, by solid angle at the eye; nothing: no line windshield
    std::vector<HiddenShare>
        windshield_bars;  ///< the bars that do it, most first; one may hide what another does
};
inline constexpr double kViewSide_rad = 100 * 3.14159265358979323846 / 180;
/// One eye, the head held still. Tubes count with the driver's own dimensions bare; hidden stretches are
/// exact to 0.02 degrees, the windshield's share to about 0.3 percent.
Sight sight(const Driver& driver, const Car& car, const CageGeometry& cage);

}  // namespace hoopwright
