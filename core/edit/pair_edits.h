// A part made a pair, left and right, and a pair made two parts.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "core/model/cage_geometry.h"

namespace hoopwright {

/// Makes a member the left one of a mirrored pair; members of the centre that land on it land on its left.
void makePair(Job& job, std::string_view id);
/// Makes two members of a pair, `id` and a new one for the right. Pairs that land on it must be two as well:
/// they are broken too. Returns every new right-hand id, the asked-for one first.
std::vector<std::string> breakPair(Job& job, std::string_view id);

/// The same for a plate; the feet of centre bars are told which one they stand on. @pre to break: no mirrored
/// member stands on it.
void makePlatePair(Job& job, std::string_view id);
std::string breakPlatePair(Job& job, std::string_view id);

}  // namespace hoopwright
