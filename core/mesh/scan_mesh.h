// A scan as it was read, ready to be measured against.
#pragma once

#include <memory>
#include <mutex>

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

    /// Thinned for a picture; measured is always the tree.
    struct Shown {
        TriangleMesh fine, coarse;  ///< for a still picture, and for one that moves
    };
    static constexpr std::size_t kFine = 120'000, kCoarse = 12'000;  ///< triangles at most
    /// Made at the first call, which takes a second for a big scan. From any thread.
    const Shown& shown() const;

private:
    mutable std::once_flag once_;
    mutable Shown shown_;
};

}  // namespace hoopwright
