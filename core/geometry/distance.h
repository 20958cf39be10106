// Least distances, exact on straights and arcs, with the two nearest points.
#pragma once

#include <optional>

#include "core/geometry/centreline.h"

namespace hoopwright {

/// Nearest points of two things. Stations are meaningful where that side is a centreline.
struct Nearest {
    double distance_mm = 0;  ///< between the two points
    Vec3 on_a = Vec3::Zero();
    Vec3 on_b = Vec3::Zero();
    double station_a_mm = 0;
    double station_b_mm = 0;
};

/// Distances are between centrelines; the gap between two tubes is this less both radii.
/// Straights in closed form; bends by halving with proven bounds, error at most kDistanceError_mm. The points
/// of a flat minimum are some place in it. @pre no centreline is empty.
inline constexpr double kDistanceError_mm = 1e-6;
Nearest nearest(const Centreline& a, const Centreline& b);
Nearest nearest(const Centreline& a, Stretch part_of_a, const Centreline& b);
Nearest nearest(const Centreline& a, const Vec3& point);
/// Nothing when they are farther apart than `limit_mm` (to the error); much cheaper than nearest() for far
/// pairs.
std::optional<Nearest> nearestWithin(const Centreline& a, const Centreline& b, double limit_mm);
/// Segment p0-p1 against a centreline (a line between two hoop tops, say): on_b lies on the segment.
Nearest nearestToSegment(const Centreline& a, const Vec3& p0, const Vec3& p1);

/// Signed height of the nearest (lowest along n) point of the centreline over the plane n.(x-p)=0, n unit.
Nearest nearestToPlane(const Centreline& a, const Vec3& p, const Vec3& n);
/// The tube itself over a plane: where a square-cut end meets it the rim counts, not the axis. Negative:
/// below. Exact for bends of a radius no less than the tube's.
double tubeOverPlane_mm(const Centreline& a, double radius_mm, const Vec3& p, const Vec3& n);

/// An ellipsoid (a helmet): centre, orthonormal axes as columns, half lengths along them [mm], all > 0.
struct Ellipsoid {
    Vec3 centre = Vec3::Zero();
    Eigen::Matrix3d axes = Eigen::Matrix3d::Identity();
    Vec3 half_mm = Vec3::Ones();
    /// Farthest point in direction d (any length > 0): support point.
    Vec3 support(const Vec3& d) const;
    /// Signed distance of p to the surface (negative inside) and the nearest surface point.
    Nearest toPoint(const Vec3& p) const;
};
/// Centreline to ellipsoid surface; negative inside. on_a on the centreline, on_b on the surface.
Nearest nearest(const Centreline& a, const Ellipsoid& e);
/// Ellipsoid to the straight line segment p0-p1; negative when it pierces.
Nearest nearestToSegment(const Ellipsoid& e, const Vec3& p0, const Vec3& p1);

}  // namespace hoopwright
