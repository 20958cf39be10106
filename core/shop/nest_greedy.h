// A good plan at once, and bounds that cost nothing. Used by nest().
#pragma once

#include <vector>

#include "core/shop/nest_problem.h"

namespace hoopwright::nesting {

std::int64_t costOf(const CutProblem& problem, const std::vector<Filling>& plan);

/// First fit and best fit, longest piece first, from what is owned and then from each stick length in turn;
/// then each stick bought is changed for the cheapest that holds its pieces. The best of all, or nothing if
/// pieces are left over.
std::vector<Filling> greedyPlan(const CutProblem& problem);

/// Sticks of one length needed, counting pieces too long to share a stick. Bound L2 of Martello and Toth
/// (Knapsack Problems, 1990; from memory). @pre one kind of stick, bought
int leastSticks(const CutProblem& problem);

}  // namespace hoopwright::nesting
