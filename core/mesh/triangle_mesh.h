// A surface of triangles: what a scanner writes, and what the skin of a car is measured against.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <vector>

#include "core/geometry/vec.h"

namespace hoopwright {

/// Three indices into the vertices.
using Corners = std::array<std::uint32_t, 3>;

/// Triangles need not join, face one way, or close: a scan seldom does. In mm and car axes unless said.
struct TriangleMesh {
    std::vector<Vec3> vertices;
    std::vector<Corners> triangles;
    Box bounds() const;  ///< of the vertices; empty without any
};

/// How the triangles of a mesh meet. A closed surface has neither kind.
struct EdgeCount {
    std::size_t open = 0;  ///< edges of one triangle only: rims and holes
    std::size_t shared_by_more =
        0;  ///< edges of three triangles or more: the surface is no single skin there
};
/// Corners count as the same where their indices are. @pre every index is one of a vertex.
EdgeCount countEdges(const TriangleMesh& mesh);

/// Told now and then how much of a long work is done, 0 to 1; false stops it. May be empty.
using Progress = std::function<bool(double done)>;

}  // namespace hoopwright
