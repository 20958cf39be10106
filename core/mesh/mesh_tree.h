// A mesh with a tree of boxes over it, for least distances.
#pragma once

#include <limits>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "core/mesh/triangle_mesh.h"

namespace hoopwright {

/// A place on a mesh, and how far from it something is.
struct OnMesh {
    double distance = 0;
    Vec3 at = Vec3::Zero();
    std::uint32_t triangle = 0;  ///< index into the mesh's triangles
};
struct SegmentOnMesh {
    OnMesh nearest;
    double share = 0;  ///< where on the segment it is nearest, 0 to 1
};

/// What is kept of a mesh: the side of the plane n.(x - p) = 0 that n points to. Lengths in the mesh's own.
struct HalfSpace {
    Vec3 p = Vec3::Zero();
    Vec3 n = Vec3::UnitX();  ///< unit
};

/// Never changes once made, so it can be shared by all who measure. Distances are exact to rounding; of
/// triangles with hardly any area, to within that of their edges. Method: boxes by binned surface area (Wald
/// 2007), four to a node, as floats rounded outward round doubles; nearest box first.
class MeshTree {
public:
    /// @pre every index is one of a vertex, every vertex finite.
    explicit MeshTree(TriangleMesh mesh);
    const TriangleMesh& mesh() const { return mesh_; }
    const Box& bounds() const { return bounds_; }

    static constexpr double kAnyDistance = std::numeric_limits<double>::infinity();
    static constexpr std::uint32_t kNoTriangle = std::numeric_limits<std::uint32_t>::max();
    /// The nearest place of the mesh that is nearer than `within` and lies in all of `keep`, or nothing.
    /// A triangle that crosses a plane of `keep` counts as far as it is kept. `first`: a triangle thought to
    /// be near, which saves most of the way where it is; or kNoTriangle.
    std::optional<OnMesh> nearest(const Vec3& p, double within = kAnyDistance,
                                  std::span<const HalfSpace> keep = {},
                                  std::uint32_t first = kNoTriangle) const;
    /// The same of the segment p0-p1; 0 where it goes through.
    std::optional<SegmentOnMesh> nearest(const Vec3& p0, const Vec3& p1, double within = kAnyDistance,
                                         std::span<const HalfSpace> keep = {},
                                         std::uint32_t first = kNoTriangle) const;

private:
    /// Four boxes about `middle_`: their middles, half sizes, and what is in them.
    struct alignas(16) Node {
        std::array<std::array<float, 4>, 3> centre, half;
        std::array<std::int32_t, 4> child;  ///< a node; or the first of its triangles in leaves_
        std::array<std::int32_t, 4> count;  ///< triangles of a leaf; 0: a node; -1: nothing
    };
    /// In the order of the tree, so that a leaf's corners lie side by side.
    struct Leaf {
        Corners corners;
        std::uint32_t triangle;
    };
    class Builder;
    template <class Shape>
    void search(Shape& shape, std::span<const HalfSpace> keep, std::uint32_t first) const;

    TriangleMesh mesh_;
    Box bounds_;
    Vec3 middle_ = Vec3::Zero();
    double reach_ = 0;  ///< greatest coordinate about the middle
    std::vector<Node> nodes_;
    std::vector<Leaf> leaves_;
};
using MeshTreeRef = std::shared_ptr<const MeshTree>;

}  // namespace hoopwright
