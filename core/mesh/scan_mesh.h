// A scan as it was read, ready to be measured against.
#pragma once

#include <memory>

#include "core/mesh/mesh_tree.h"
#include "core/mesh/read_mesh.h"

namespace hoopwright {

/// In the file's own numbers and axes: neither another unit nor another place makes it be read again.
struct ScanMesh {
    explicit ScanMesh(ReadMesh read)
        : tree(std::make_shared<const MeshTree>(std::move(read.mesh))),
          format(read.format),
          fanned(read.fanned),
          dropped(read.dropped),
          edges(read.edges) {}
    MeshTreeRef tree;
    MeshFormat format;
    std::size_t fanned, dropped;  ///< as of ReadMesh
    EdgeCount edges;
};

}  // namespace hoopwright
