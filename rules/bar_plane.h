// The plane a bent bar lies in.
#pragma once

#include "core/geometry/centreline.h"

namespace hoopwright {

/// The plane through the middle of a centreline's points with the least spread across it.
struct BarPlane {
    Vec3 middle = Vec3::Zero(), normal = Vec3::UnitZ();  ///< normal: unit
    double off_mm = 0;     ///< farthest the centreline strays from it, either way
    bool decided = false;  ///< false: the bar is straight, and lies in many planes
};
/// @pre line not empty
BarPlane planeOf(const Centreline& line);

}  // namespace hoopwright
