// One triangle against a point or a segment.
#pragma once

#include "core/geometry/vec.h"

namespace hoopwright {

struct Triangle {
    Vec3 a, b, c;
};

/// A point of the triangle than which none is nearer to p. Of triangles with hardly any area: to within that
/// of its edges. Source: Ericson, Real-Time Collision Detection, 2005, 5.1.5 (from memory).
Vec3 nearestOnTriangle(const Vec3& p, const Triangle& t);

struct SegmentAndTriangle {
    double distance = 0;
    double share = 0;  ///< where on the segment, 0 to 1
    Vec3 on_triangle = Vec3::Zero();
};
/// Segment p0-p1 and triangle, the nearest points of both; 0 where it goes through. Only looked for where
/// they come nearer than `within`; else the distance returned is no less than `within`.
SegmentAndTriangle nearestOfSegment(const Vec3& p0, const Vec3& p1, const Triangle& t, double within);

}  // namespace hoopwright
