#include "core/mesh/placed_mesh.h"

#include "core/mesh/clip.h"
#include "core/mesh/triangle_distance.h"

namespace hoopwright {

PlacedMesh::PlacedMesh(MeshTreeRef tree, const MeshPlacement& placement,
                       std::span<const HalfSpace> keep_in_car)
    : tree_(std::move(tree)), placement_(placement) {
    for (const HalfSpace& side : keep_in_car)
        keep_.push_back({placement_.toMesh(side.p), placement_.turn.transpose() * side.n});
}

std::optional<OnMesh> PlacedMesh::nearest(const Vec3& p, double within_mm, std::uint32_t first) const {
    std::optional<OnMesh> found =
        tree_->nearest(placement_.toMesh(p), within_mm / placement_.scale, keep_, first);
    if (!found) return found;
    found->distance *= placement_.scale;
    found->at = placement_.toCar(found->at);
    return found;
}

std::optional<SegmentOnMesh> PlacedMesh::nearest(const Vec3& p0, const Vec3& p1, double within_mm,
                                                 std::uint32_t first) const {
    std::optional<SegmentOnMesh> found = tree_->nearest(placement_.toMesh(p0), placement_.toMesh(p1),
                                                        within_mm / placement_.scale, keep_, first);
    if (!found) return found;
    found->nearest.distance *= placement_.scale;
    found->nearest.at = placement_.toCar(found->nearest.at);
    return found;
}

double PlacedMesh::noFartherThan(const Vec3& p, std::uint32_t triangle) const {
    if (!keep_.empty()) return MeshTree::kAnyDistance;
    const Vec3 at = placement_.toMesh(p);
    const TriangleMesh& mesh = tree_->mesh();
    const Corners& corners = mesh.triangles[triangle];
    const Triangle whole{mesh.vertices[corners[0]], mesh.vertices[corners[1]], mesh.vertices[corners[2]]};
    return (at - nearestOnTriangle(at, whole)).norm() * placement_.scale;
}

TriangleMesh PlacedMesh::inCar() const {
    TriangleMesh out = keep_.empty() ? tree_->mesh() : clipped(tree_->mesh(), keep_);
    for (Vec3& vertex : out.vertices) vertex = placement_.toCar(vertex);
    return out;
}

}  // namespace hoopwright
