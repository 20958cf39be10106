// Convex hull of points in space.
#pragma once

#include <array>
#include <span>
#include <vector>

#include "core/geometry/vec.h"

namespace hoopwright {

struct HullFace {
    std::array<int, 3> corners;  ///< indices of points, counter-clockwise from outside
    Vec3 normal;                 ///< unit, outward
    double offset = 0;           ///< normal . x on the face
};

/// Faces of the convex hull; none if the points lie in one plane (within 1e-4 mm). Points are moved by up to
/// 2e-5 mm, always the same way, so that four never lie in one plane; every point is within 1e-4 mm of the
/// hull. Method: incremental hull, any text on computational geometry. Time: points times faces.
std::vector<HullFace> convexHull(std::span<const Vec3> points);

}  // namespace hoopwright
