// The bars' centrelines in space and the cage in three plan views, as DXF.
#pragma once

#include <QByteArray>

#include "core/model/cage_geometry.h"

namespace hoopwright {

/// ASCII DXF of release 12, mm. Centrelines where they are in the car's axes, as LINE and ARC (an arc's
/// extrusion is its bend's axis), each bar on a layer of its own, "3D_REAR_BRACE_LEFT". Beside them, flat on
/// z = 0, side, front and top at full size: layers PLAN_CENTRE, PLAN_OUTLINE, PLAN_TEXT. Source of the
/// entities: Autodesk's published DXF reference, from memory; read back by another library in
/// tests/app/export.
QByteArray centrelineDxf(const CageGeometry& cage);

}  // namespace hoopwright
