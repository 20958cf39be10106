// What the end of a resolved member is cut to.
#pragma once

#include <vector>

#include "core/geometry/cope.h"
#include "core/model/cage_geometry.h"

namespace hoopwright {

/// Its host or plate first, then the members in `also`. They point into `cage`. Empty: it is cut square.
/// Of a plate the flat face, then the flaps the end comes to lie on, folds sharp; facesOf() of them.
std::vector<CopeHost> hostsOf(const CageGeometry& cage, const ResolvedEnd& end);

/// The faces of a plate towards the cage that an end lies on: -1 the flat one, else an index into its flaps.
/// Empty if it lands on no plate.
std::vector<int> facesOf(const ResolvedEnd& end);
/// Those faces as hosts. The flat one ends at the folds of flaps folded down, and those begin there.
std::vector<CopePlane> planesOf(const ResolvedPlate& plate, const std::vector<int>& faces);

}  // namespace hoopwright
