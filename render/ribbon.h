// Strips, rings and rods swept along a curve.
#pragma once

#include <vector>

#include "render/mesh.h"

namespace hoopwright {

/// A flat strap of a width and thickness along `points`; `out[i]` is the side that shows at point i.
Mesh ribbonMesh(const std::vector<Vec3>& points, const std::vector<Vec3>& out, double width_mm,
                double thickness_mm, Rgb colour);
/// A round rod along `points` with hemispherical ends left off; a ring when `closed`.
Mesh rodMesh(const std::vector<Vec3>& points, double radius_mm, int sides, bool closed, Rgb colour);

}  // namespace hoopwright
