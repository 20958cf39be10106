// What is left of triangles behind planes.
#pragma once

#include <span>

#include "core/mesh/mesh_tree.h"
#include "core/mesh/triangle_distance.h"

namespace hoopwright {

/// Corners, in order, of the part of a triangle in all half spaces; fewer than three: nothing is left. The
/// result is good until `room` is used again. Method: Sutherland and Hodgman 1974.
std::span<const Vec3> keptPart(const Triangle& t, std::span<const HalfSpace> keep, std::vector<Vec3>& room);

/// The part of a mesh in all half spaces, cut through the triangles.
TriangleMesh clipped(const TriangleMesh& mesh, std::span<const HalfSpace> keep);

}  // namespace hoopwright
