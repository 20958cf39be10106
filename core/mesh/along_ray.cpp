#include "core/mesh/along_ray.h"

namespace hoopwright {

std::optional<OnMesh> firstAlong(const PlacedMesh& mesh, const Vec3& from, const Vec3& way,
                                 double farthest_mm) {
    constexpr int kMostSteps = 4000;
    double along = 0;
    std::optional<OnMesh> near;
    for (int step = 0; step < kMostSteps && along <= farthest_mm; ++step) {
        near = mesh.nearest(from + along * way, MeshTree::kAnyDistance);
        if (!near) return std::nullopt;
        if (near->distance <= kAlongRayError_mm) return near;
        along += near->distance;
    }
    if (along > farthest_mm || near->distance > 10 * kAlongRayError_mm) return std::nullopt;
    return near;
}

}  // namespace hoopwright
