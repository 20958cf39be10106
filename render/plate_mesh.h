// Foot plates with their bolts, backing plates and gussets.
#pragma once

#include "core/model/cage_geometry.h"
#include "core/model/sheet_shape.h"
#include "render/mesh.h"

namespace hoopwright {

/// The plate with a broken edge; with `said` also its flaps, bolts and backing plate. Bolts that do not fit
/// are not drawn.
Mesh plateMesh(const ResolvedPlate& plate, const Plate* said);
/// The sheet of a gusset, from the corner of the two centrelines; the tubes hide what lies inside them.
Mesh gussetMesh(const ResolvedGusset& gusset);
/// The same with its hole, or folded of one sheet.
Mesh gussetMesh(const ResolvedGusset& gusset, const GussetShape& shape);

}  // namespace hoopwright
