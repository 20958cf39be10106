// What a line of sight meets first of a mesh.
#pragma once

#include "core/mesh/placed_mesh.h"

namespace hoopwright {

/// As near to the mesh as a place found along a ray comes.
inline constexpr double kAlongRayError_mm = 0.01;
/// The first place of the mesh, of what is kept of it, along the ray from `from`; nothing within
/// `farthest_mm`. Method: steps as long as nothing is nearer (sphere tracing, Hart 1996): the distance is
/// exact, so that no triangle is stepped over. A ray that runs along a surface for long, nearer than a tenth
/// of a millimetre, ends on it. @pre way is of length 1
std::optional<OnMesh> firstAlong(const PlacedMesh& mesh, const Vec3& from, const Vec3& way,
                                 double farthest_mm);

}  // namespace hoopwright
