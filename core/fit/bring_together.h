// One line laid on another as near as it goes without bending it.
#pragma once

#include <Eigen/Geometry>

#include "core/geometry/centreline.h"

namespace hoopwright {

/// The turn and shift that bring `from` nearest to `to`: least squares of places counted from their middles,
/// then of each place and the nearest of the other line, until they stay (26 rounds).
Eigen::Isometry3d bringTogether(const Centreline& from, const Centreline& to);

}  // namespace hoopwright
