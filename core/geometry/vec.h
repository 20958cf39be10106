// Points and directions in the car's axes (ISO 8855: x forward, y to the driver's left, z up), mm.
#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>

namespace hoopwright {

using Vec2 = Eigen::Vector2d;
using Vec3 = Eigen::Vector3d;

/// Axis-aligned box; empty until something is added.
using Box = Eigen::AlignedBox3d;

/// Mirror in the car's centre plane (y -> -y).
inline Vec3 mirrored(const Vec3& v) {
    return {v.x(), -v.y(), v.z()};
}

}  // namespace hoopwright
