// A resolved cage as people read it and as programs do.
#pragma once

#include <iosfwd>

#include "core/model/cage_geometry.h"

namespace hoopwright {

/// Bend tables, joints and totals, in the cage's own unit.
void writeGeometryText(std::ostream& out, const Job& job, const CageGeometry& cage, int stations);
/// See app/commands/JSON.md.
void writeGeometryJson(std::ostream& out, const Job& job, const CageGeometry& cage, int stations);

}  // namespace hoopwright
