// Plates and gussets as lines and triangles, from the same solids that other programs are given.
#pragma once

#include <array>
#include <vector>

#include "core/model/cage_geometry.h"

namespace hoopwright {

/// An edge of sheet. `out`: at each point a way off the metal, between the two faces that meet there.
struct SheetLine {
    std::vector<Vec3> points, out;
};
/// Car axes, mm. Corners of folds are sharp; edges of faces that turn less than 10 degrees are none.
struct SheetLook {
    std::vector<std::array<Vec3, 3>> triangles;
    std::vector<SheetLine> lines;
};
/// With its flaps, riser and backing plate.
SheetLook lookOf(const ResolvedPlate& plate);
/// Flat or formed, with its hole. @pre gusset is of that cage
SheetLook lookOf(const CageGeometry& cage, const ResolvedGusset& gusset);

}  // namespace hoopwright
