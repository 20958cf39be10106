// Where a scan belongs, from places picked on it and on the car.
#pragma once

#include <span>
#include <vector>

#include "core/base/expected.h"
#include "core/mesh/picked_pair.h"
#include "core/mesh/placed_mesh.h"

namespace hoopwright {

struct RigidFit {
    MeshPlacement placement;
    std::vector<double> residuals_mm;  ///< of each pair: from the scan's place, moved, to the car's
    double rms_mm = 0;
    /// How much farther apart the places are on the car than on the scan in the unit it was given. Far from 1
    /// means the unit is wrong, or a pair.
    double size_ratio = 1;
};

/// The turn and shift that bring the scan's places nearest to the car's, least squares; the scale is given,
/// never fitted. Refuses, with a sentence: fewer than three pairs, places in one line or one point, on either
/// side. Source: Umeyama 1991, IEEE PAMI 13(4), without scale; the same optimum as Arun, Huang, Blostein 1987
/// and Horn 1987. @param scale_mm  mm in one unit of the scan
Expected<RigidFit> rigidFit(std::span<const PickedPair> pairs, double scale_mm);

}  // namespace hoopwright
