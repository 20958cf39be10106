// Where a ray meets the outside of a tube, found by nothing but the distance to lines and circles.
#pragma once

#include <optional>
#include <vector>

#include "core/geometry/cope.h"
#include "core/model/cage_geometry.h"

namespace hoopwright {

/// How far a point is from the outside of a tube or from a plate; negative inside.
struct Gap {
    double distance_mm = 0;
    bool past_end = false;  ///< nearest to where the tube is carried on past its end
};

/// One thing a branch may meet: a tube, carried on straight past its ends, a flat face that has no end, or a
/// piece of sheet as large as it is.
class Obstacle {
public:
    static Obstacle tube(const Centreline& line, double radius_mm);
    static Obstacle face(const Vec3& point, const Vec3& normal);
    /// @param axes  unit, along its sides  @param half_mm  of its sides
    static Obstacle sheet(const Vec3& middle, const Eigen::Matrix3d& axes, const Vec3& half_mm);
    Gap gap(const Vec3& p) const;

private:
    const Centreline* line_ = nullptr;
    double radius_mm_ = 0;
    Vec3 point_ = Vec3::Zero(), normal_ = Vec3::UnitZ();
    Eigen::Matrix3d axes_ = Eigen::Matrix3d::Identity();
    Vec3 half_mm_ = Vec3::Zero();  ///< zero: no sheet
};

/// What the end of a member of a cage lands on. A plate with flaps is its sheet, folds sharp; the notches
/// between flaps side by side are not in it.
std::vector<Obstacle> obstaclesOf(const CageGeometry& cage, const ResolvedEnd& end);

/// A line along a tube's wall: foot + s inward.
struct Generator {
    Vec3 foot, inward;
    Vec3 at(double s_mm) const { return foot + s_mm * inward; }
};
Generator generatorOf(const CopeEnd& end, double radius_mm, double phi_rad);

/// Steps from `from_mm` towards the host by no more than the distance left, so it can't pass a surface: the
/// place reached when the surface is `kOnSurface_mm` away. Nothing if it comes to `to_mm`, or the surface
/// is that of a tube past its end.
inline constexpr double kOnSurface_mm = 1e-10;
std::optional<double> march(const Generator& generator, const Obstacle& obstacle, double from_mm,
                            double to_mm);
/// The first meeting with any of them.
std::optional<double> march(const Generator& generator, const std::vector<Obstacle>& obstacles,
                            double from_mm, double to_mm);

}  // namespace hoopwright
