// The welds of a tube as the picture shows them: a bead round each end, on what it was cut to.
#pragma once

#include "core/model/cage_geometry.h"
#include "render/colours.h"
#include "render/tube_mesh.h"

namespace hoopwright {

inline constexpr Rgb kWeldColour = {0.80f, 0.79f, 0.76f};

/// Leg of the bead: a little more than the wall, 3 to 6 mm. Common practice, no source; how large a weld must
/// be its drawing says.
double weldLeg_mm(const ResolvedMember& member);
/// Empty where neither end lands on anything. @param sweep  of the member's centreline
Mesh weldsOf(const CageGeometry& cage, int member, const TubeSweep& sweep);

}  // namespace hoopwright
