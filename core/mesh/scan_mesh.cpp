#include "core/mesh/scan_mesh.h"

#include "core/mesh/thin.h"

namespace hoopwright {

const ScanMesh::Shown& ScanMesh::shown() const {
    std::call_once(once_, [this] {
        shown_.fine = thinned(tree->mesh(), kFine).mesh;
        shown_.coarse = thinned(shown_.fine, kCoarse).mesh;
    });
    return shown_;
}

}  // namespace hoopwright
