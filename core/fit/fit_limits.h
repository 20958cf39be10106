// What holds a fitted bar back, in words. Not for use outside core/fit.
#pragma once

#include <string>
#include <vector>

#include "core/fit/bar_problem.h"

namespace hoopwright::fitting {

/// The dearest first; those of one piece and one thing of the car are one.
std::vector<FitLimit> limitsOf(const FitCar& car, const BarWish& wish, const BarProblem& bar,
                               const SearchResult& found);

}  // namespace hoopwright::fitting
