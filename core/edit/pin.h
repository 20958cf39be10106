// Dimensions pinned by hand: a place picked on the cage, said so that it follows what it was picked on.
#pragma once

#include <string>
#include <string_view>

#include "core/model/cage_geometry.h"

namespace hoopwright {

/// A place picked on a bar: the end of a branch that meets it within `reach_mm` along it (so that a dimension
/// to a node follows the node), its own end so near, else the distance along it from its nearer end, rounded
/// to the grain of the job's unit (hand_grain.h). @pre the member has a line
Place3 placeOnBar(const CageGeometry& now, int member, const Vec3& picked, double reach_mm = 30,
                  LengthUnit unit = LengthUnit::mm);
/// A place picked on a plate: its middle within `reach_mm`, else so far from it, rounded alike.
Place3 placeOnPlate(const CageGeometry& now, int plate, const Vec3& picked, double reach_mm = 15,
                    LengthUnit unit = LengthUnit::mm);

/// "dimension", "dimension_2" ...: one no dimension has.
std::string freeDimensionId(const CageLayout& cage, std::string_view word = "dimension");
PinnedDimension* findDimension(CageLayout& cage, std::string_view id);

}  // namespace hoopwright
