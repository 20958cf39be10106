// Where two segments are nearest.
#pragma once

#include "core/geometry/vec.h"

namespace hoopwright {

/// Fractions along each, 0 to 1, and the distance.
struct SegmentPair {
    double a = 0;
    double b = 0;
    double distance = 0;
};
/// Either may be a point. Closed form with clamping (Lumelsky 1985; Ericson, Real-Time Collision Detection,
/// 2005, 5.1.9; from memory).
SegmentPair nearestSegments(const Vec3& a0, const Vec3& a1, const Vec3& b0, const Vec3& b1);

}  // namespace hoopwright
