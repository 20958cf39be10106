// How the ends of a resolved member are cut in the picture, and what they are welded to.
#pragma once

#include <array>
#include <vector>

#include "core/model/cage_geometry.h"
#include "render/tube_mesh.h"
#include "render/weld_bead.h"

namespace hoopwright {

/// The members an end is coped to: its host and those named beside it.
std::vector<int> hostsOf(const ResolvedEnd& end);
/// The cut, from the shop's own cope; square where there is none (free end, or the cope cannot be made).
TubeCut endCut(const CageGeometry& cage, int member, int end, int sides);
/// The nearest of the surfaces an end is welded to. The function keeps a reference to `cage`.
HostSurfaces surfacesAt(const CageGeometry& cage, int member, int end);
/// Stations of a member where other tubes land on it.
std::vector<double> landingsOn(const CageGeometry& cage, int member);

}  // namespace hoopwright
