// The picture's own meshes as a glTF 2.0 binary, for any viewer.
#pragma once

#include <QByteArray>
#include <string>
#include <vector>

#include "core/base/progress.h"
#include "core/model/cage_geometry.h"

namespace hoopwright {

struct GlbOptions {
    bool car = true, drivers = true;
};

/// One node for each bar, plate and gusset, named, with its numbers under `extras` (keys say their unit, as
/// in the JSON of the command line); bars that belong to one place of the car share a material. Metres, y up,
/// the car looking along +z, as glTF asks: point = (y, z, x) of the car's axes. Smooth normals, cut ends, the
/// beads of the welds (no mass), see-through body and glass. Source: Khronos, glTF 2.0 specification (ISO/IEC
/// 12113).
struct GlbFile {
    QByteArray bytes;
    std::size_t triangles = 0;
    std::vector<std::pair<std::string, std::size_t>>
        pieces;  ///< id and triangles of bars, plates and gussets
    bool stopped = false;
};
GlbFile glbFile(const Job& job, const CageGeometry& cage, const GlbOptions& options,
                const WorkProgress& progress = {});

}  // namespace hoopwright
