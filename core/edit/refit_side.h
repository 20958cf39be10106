// A car is never quite the same on both sides: the second bar of a pair fitted to its own side.
#pragma once

#include <string>
#include <string_view>

#include "core/fit/member_fit.h"

namespace hoopwright {

struct SideRefit {
    std::string right;  ///< id of the right-hand bar, which is one of its own now
    double gap_mm = 0;  ///< the least gap of the left one, which the right one was held to
    MemberFit fit;
};

/// Breaks a mirrored pair and moves the bends of the right bar so that it keeps off its own side of the car
/// as the left one does off its. `now` is the geometry of `job`. Refuses, and leaves the job as it was, what
/// is no pair, a car without a skin there, and what fitMember() refuses.
Expected<SideRefit> refitRightSide(Job& job, const CageGeometry& now, const FitCar& car, std::string_view id);

}  // namespace hoopwright
