#include "render/camera.h"

#include <algorithm>
#include <cmath>

#include "render/graph.h"

namespace hoopwright {

void applyView(osg::Camera& camera, const View& view, const Box& bounds, double aspect) {
    const Vec3 forward = view.forward();
    double nearest = 1e300, farthest = -1e300;
    for (int i = 0; i < 8 && !bounds.isEmpty(); ++i) {
        const double depth = forward.dot(bounds.corner(static_cast<Box::CornerType>(i)) - view.eye);
        nearest = std::min(nearest, depth);
        farthest = std::max(farthest, depth);
    }
    if (bounds.isEmpty()) nearest = 100, farthest = 10000;
    constexpr double kGround_mm = 20000;
    camera.setComputeNearFarMode(osg::CullSettings::DO_NOT_COMPUTE_NEAR_FAR);
    const bool upright = view.isUpright();
    camera.setViewMatrixAsLookAt(toOsgDouble(view.eye),
                                 toOsgDouble(upright ? Vec3(view.eye + forward) : view.target),
                                 toOsgDouble(upright ? Vec3(Vec3::UnitZ()) : view.up));
    if (view.orthographic_height_mm > 0) {
        const double half = view.orthographic_height_mm / 2;
        camera.setProjectionMatrixAsOrtho(-half * aspect, half * aspect, -half, half, nearest - kGround_mm,
                                          farthest + kGround_mm);
        return;
    }
    const double near_plane = std::clamp(0.7 * nearest, 15.0, 5000.0);
    const double far_plane = std::max(farthest, near_plane) + kGround_mm;
    const double half = near_plane * std::tan(view.vertical_angle_rad / 2),
                 middle = near_plane * view.shift();
    camera.setProjectionMatrixAsFrustum(-half * aspect, half * aspect, middle - half, middle + half,
                                        near_plane, far_plane);
}

}  // namespace hoopwright
