// From what the builder says to what it is in space.
#pragma once

#include "core/model/cage_geometry.h"

namespace hoopwright {

/// Pure; never throws on any Job. Members may land on each other in any order of declaration; a loop of
/// landings is a problem that names the loop, and its members are left out. Cost: about linear in members (60
/// tubes: < 0.5 ms).
CageGeometry resolve(const Job& job);

}  // namespace hoopwright
