// A set of sticks filled without a linear programme. Used by nest().
#pragma once

#include <vector>

#include "core/shop/nest_problem.h"

namespace hoopwright::nesting {

/// What is still to be cut and what there is to cut it from.
struct Rest {
    std::vector<int> wanted;  ///< per kind
    StickCounts sticks;
};

/// One filling for each stick used, or nothing: then it is not known whether the sticks hold the pieces.
/// Stick by stick, from the longest piece left, the first filling that loses no more than its share of what
/// may be lost in all; tried with several shares and orders of the sticks. After the bin completion of Korf,
/// 2002, and the least bin slack of Gupta and Ho, 1999 (both from memory).
std::vector<Filling> quickPlan(const CutProblem& problem, const Rest& rest, Effort& effort);

}  // namespace hoopwright::nesting
