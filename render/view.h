// Where the picture is taken from.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "core/geometry/vec.h"

namespace hoopwright {

/// A camera: looks from `eye` to `target`, z up. Perspective with the vertical angle, or true orthographic
/// where `orthographic_height_mm` > 0. An upright perspective (two-point) keeps its picture plane plumb and
/// shifts the lens so that the target stays in the middle: verticals of the car are verticals of the picture.
struct View {
    Vec3 eye = {4000, 3000, 2000};
    Vec3 target = Vec3::Zero();
    Vec3 up = Vec3::UnitZ();
    double vertical_angle_rad = 0.49;  ///< 28 degrees
    double orthographic_height_mm = 0;
    bool upright = false;  ///< asked for; orthographic views and those steeper than kSteepestUpright are not

    Vec3 sight() const { return (target - eye).normalized(); }
    /// Square to the picture plane: along the sight, of an upright view level.
    Vec3 forward() const;
    bool isUpright() const;
    /// How far the lens is shifted up, at unit depth; 0 where the view is not upright.
    double shift() const;
    /// Pixel (origin top left, y down) of a point, z = depth in mm along forward (<= 0: behind).
    Vec3 project(const Vec3& p, int width_px, int height_px) const;
    /// Ray through a pixel: a point and a unit direction.
    std::pair<Vec3, Vec3> ray(double x_px, double y_px, int width_px, int height_px) const;
    /// Turn about the target (azimuth about z, elevation kept within +-89.9 deg), pan in the picture plane,
    /// zoom to a point.
    View orbited(double azimuth_rad, double elevation_rad) const;
    View panned(double right_mm, double up_mm) const;
    View zoomedAt(double factor, const Vec3& keep) const;
};

/// The greatest tangent of an upright view's slope up or down: 55 degrees. Beyond, a shifted lens shows the
/// car drawn out like a shadow.
inline constexpr double kSteepestUpright = 1.43;

/// "front", "rear", "left", "right", "top", "three_quarter", "three_quarter_rear", "driver".
const std::vector<std::string>& standardViews();
/// A standard view fitted to the box with a margin, for a picture of that aspect (width / height).
View standardView(std::string_view name, const Box& box, double aspect);
View fitted(View view, const Box& box, double aspect);

}  // namespace hoopwright
