// From a bent tube to each of several surfaces, in one walk along it.
#pragma once

#include "core/mesh/tube_gap.h"

namespace hoopwright {

struct GapToEach {
    TubeGap gap;  ///< as gapAlong() says it
    /// Where the centreline comes nearest to each mesh, as nearest() would say of it alone; nothing where
    /// nothing of it is kept.
    std::vector<std::optional<TubeOnMesh>> of_mesh;
};
/// What the walk for the gap learns of each mesh saves most of the search for its least. Nothing where no
/// mesh has a triangle that is kept.
/// @pre the stretch has a length.
std::optional<GapToEach> gapToEach(const Centreline& line, double radius_mm,
                                   std::span<const PlacedMesh> meshes, double step_mm = kGapStep_mm,
                                   Stretch part = kWholeLine);

}  // namespace hoopwright
