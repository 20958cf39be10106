// Once round, and half.
#pragma once

#include <numbers>

#include "render/mesh.h"

namespace hoopwright {

inline constexpr double kPi = std::numbers::pi, kTurn = 2 * kPi;

/// A corner of a part without a colour of its own.
inline std::uint32_t addCorner(Mesh& mesh, const Vec3& at, const Vec3& normal, double light = 1) {
    MeshCorner corner;
    corner.at = at.cast<float>();
    corner.normal = normal.cast<float>();
    corner.light = static_cast<float>(light);
    return mesh.add(corner);
}

}  // namespace hoopwright
