// A finished tube as a solid: cylinders and tori of its outside and bore, ends cut by the surfaces of what
// they land on.
#pragma once

#include <array>
#include <string>

#include "core/base/expected.h"
#include "core/model/cage_geometry.h"
#include "core/solid/solid.h"

namespace hoopwright {

struct TubeSolid {
    SolidBody solid;
    /// Of each end: its face is on the very surfaces of its hosts. Else (they meet in a way that is not told
    /// apart, or are passed by) it is a spline through the cut, exact along its edges.
    std::array<bool, 2> exact = {true, true};
    /// Why an end is cut square though it lands on something; or empty.
    std::array<std::string, 2> left_square;
};

/// The reason says why it can't be made: no stock, a corner without a bend, a cut that reaches into a bend.
Expected<TubeSolid> tubeSolid(const CageGeometry& cage, int member);

/// Of the metal of the finished tube, by the core's own copes [mm3].
double finishedVolume_mm3(const CageGeometry& cage, int member);

}  // namespace hoopwright
