// Fewer triangles, for a picture.
#pragma once

#include "core/mesh/triangle_mesh.h"

namespace hoopwright {

struct ThinnedMesh {
    TriangleMesh mesh;
    double error =
        0;  ///< no place of it is farther than this from the mesh it was made of; in that mesh's unit
};

/// No more than `most` triangles (all of them if there are fewer): vertices of one cell of a grid become
/// their mean, triangles that lose a corner by it go. For drawing only; measured is always the whole mesh.
/// Small parts may vanish. Method: vertex clustering, Rossignac and Borrel 1993. @pre most >= 1
ThinnedMesh thinned(const TriangleMesh& mesh, std::size_t most);

}  // namespace hoopwright
