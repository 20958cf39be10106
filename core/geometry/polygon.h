// A flat outline filled with triangles.
#pragma once

#include <cstdint>
#include <vector>

#include "core/geometry/vec.h"

namespace hoopwright {

/// Triangles (indices into `outline`) that fill a simple polygon, counter-clockwise, convex or not.
std::vector<std::uint32_t> fillPolygon(const std::vector<Vec2>& outline);
struct FilledRing {
    std::vector<std::uint32_t> triangles;  ///< indices into the ring, counter-clockwise about the normal
    Vec3 normal = Vec3::UnitZ();           ///< unit; the ring runs right-handed about it
};
/// A ring in space that need not be quite flat, filled as seen along its own normal (Newell's). No triangles
/// if it is no wider than a line. @param ring  does not repeat its first point
FilledRing fillRing(const std::vector<Vec3>& ring);

}  // namespace hoopwright
