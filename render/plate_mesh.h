// Foot plates with their bolts, backing plates and gussets.
#pragma once

#include "core/model/cage_geometry.h"
#include "render/mesh.h"

namespace hoopwright {

/// The plate with a broken edge; with `said` also its bolts and backing plate.
Mesh plateMesh(const ResolvedPlate& plate, const Plate* said);
/// The sheet of a gusset, from the corner of the two centrelines; the tubes hide what lies inside them.
Mesh gussetMesh(const ResolvedGusset& gusset);

}  // namespace hoopwright
