// Lines, rails and the roof's skin through the points of the measuring walk. Which points make which line is
// common practice, no source.
#pragma once

#include <string_view>

#include "core/model/car.h"

namespace hoopwright {

/// The car with those of its wantedLines() added that it does not have and whose points are all measured;
/// hung on these points, so that they follow when one is measured again. A rail gets its line once its
/// section is known. The skin is cross-sections through sill, waist, roof rail and roof, straight in between:
/// inside the real, crowned one, so that gaps to it come out too small rather than too great.
/// @param by adds only what goes through that point or rail; empty: all
/// The car is settled where it was.
Car withWalkLines(Car car, std::string_view by = {});

}  // namespace hoopwright
