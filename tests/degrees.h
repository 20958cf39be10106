// Angles of tests are written in degrees.
#pragma once

#include <numbers>

namespace hoopwright {

inline constexpr double kDegree = std::numbers::pi / 180;   ///< rad in a degree
inline constexpr double kDegrees = 180 / std::numbers::pi;  ///< degrees in a radian

}  // namespace hoopwright
