// What must hold of any bytes given to a reader of scans: a mesh or a problem, never both, and a mesh holds
// together.
#pragma once

#include <cmath>

#include "core/mesh/mesh_tree.h"
#include "core/mesh/read_mesh.h"
#include "core/mesh/thin.h"
#include "round_trip.h"

namespace hoopwright {

inline int readAnyMesh(const std::uint8_t* data, std::size_t size, MeshKind kind) {
    const MeshResult result = readMeshBytes({reinterpret_cast<const char*>(data), size}, kind, "scan");
    demand(!result.stopped, "nobody stops it");
    demand(result.value.has_value() != result.problem.has_value(), "a mesh or a problem, not both");
    if (result.problem) {
        demand(!result.problem->text().empty(), "a problem has words");
        return 0;
    }
    const TriangleMesh& mesh = result.value->mesh;
    demand(!mesh.triangles.empty(), "a mesh has triangles");
    for (const Vec3& vertex : mesh.vertices)
        demand(vertex.cwiseAbs().maxCoeff() <= kFarthestCoordinate, "every place is one a scan can hold");
    for (const Corners& t : mesh.triangles) {
        demand(t[0] != t[1] && t[1] != t[2] && t[2] != t[0], "a triangle has three corners");
        for (const std::uint32_t corner : t) demand(corner < mesh.vertices.size(), "every corner is there");
    }
    // What was read can be measured and drawn, whatever its shape.
    const MeshTree tree(mesh);
    const auto near = tree.nearest(Vec3(1, 2, 3));
    demand(near && std::isfinite(near->distance), "some triangle is the nearest");
    demand(thinned(mesh, 2).mesh.triangles.size() <= 2, "it can be thinned");
    return 0;
}

}  // namespace hoopwright
