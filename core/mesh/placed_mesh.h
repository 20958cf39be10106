// A mesh where it belongs: its own numbers and axes turned into car axes and mm.
#pragma once

#include "core/mesh/mesh_tree.h"

namespace hoopwright {

/// car = scale x turn x mesh + shift.
struct MeshPlacement {
    Eigen::Matrix3d turn = Eigen::Matrix3d::Identity();  ///< a rotation
    Vec3 shift = Vec3::Zero();                           ///< [mm]
    double scale = 1;                                    ///< mm in one unit of the mesh; > 0
    Vec3 toCar(const Vec3& p) const { return scale * (turn * p) + shift; }
    Vec3 toMesh(const Vec3& p) const { return turn.transpose() * (p - shift) / scale; }
};

/// Measured in car axes and mm. The mesh itself is never moved, so that placing it anew costs nothing.
class PlacedMesh {
public:
    PlacedMesh(MeshTreeRef tree, const MeshPlacement& placement, std::span<const HalfSpace> keep_in_car = {});
    const MeshTree& tree() const { return *tree_; }
    const MeshPlacement& placement() const { return placement_; }
    std::span<const HalfSpace> keep() const { return keep_; }  ///< in the mesh's own numbers and axes
    /// As MeshTree::nearest(), all in car axes and mm.
    std::optional<OnMesh> nearest(const Vec3& p, double within_mm,
                                  std::uint32_t first = MeshTree::kNoTriangle) const;
    std::optional<SegmentOnMesh> nearest(const Vec3& p0, const Vec3& p1, double within_mm,
                                         std::uint32_t first = MeshTree::kNoTriangle) const;
    /// A distance no less than that to what is kept of one triangle: the whole triangle's where nothing is
    /// cut away, else without end. Along a line it bows one way only, so that no place between two is farther
    /// than the farther of them.
    double noFartherThan(const Vec3& p, std::uint32_t triangle) const;
    /// Triangles of what is kept, in car axes: for a picture.
    TriangleMesh inCar() const;

private:
    MeshTreeRef tree_;  ///< shared by every placing of one scan
    MeshPlacement placement_;
    std::vector<HalfSpace> keep_;  ///< in the mesh's own numbers
};

}  // namespace hoopwright
