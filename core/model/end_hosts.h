// What the end of a resolved member is cut to.
#pragma once

#include <vector>

#include "core/geometry/cope.h"
#include "core/model/cage_geometry.h"

namespace hoopwright {

/// Its host or plate first, then the members in `also`. They point into `cage`. Empty: it is cut square.
std::vector<CopeHost> hostsOf(const CageGeometry& cage, const ResolvedEnd& end);

}  // namespace hoopwright
