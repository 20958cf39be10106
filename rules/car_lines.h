// The lines of the car a name in a rule table stands for.
#pragma once

#include <string>
#include <vector>

#include "core/model/car.h"

namespace hoopwright {

/// Itself, both sides, and a side that is drawn mirrored; a closed one ends where it starts.
std::vector<std::vector<Vec3>> carLines(const Car& car, const std::string& name);

}  // namespace hoopwright
