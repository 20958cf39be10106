// Sets of sticks in order of cost, until one holds all pieces. Used by nest().
#pragma once

#include <vector>

#include "core/shop/nest_problem.h"

namespace hoopwright::nesting {

struct Walked {
    std::vector<Filling> plan;     ///< empty: none was found
    std::int64_t lower_bound = 0;  ///< no plan costs less
    bool proved = false;           ///< plan costs that; with no plan: there is none
};

/// Every cheaper set of sticks is ruled out by a cut or a full search before a dearer one is tried, so the
/// first that holds all pieces is best. @param effort  see Effort; when it is spent, the best plan so far and
/// proved = false
Walked walk(const CutProblem& problem, std::int64_t effort);

}  // namespace hoopwright::nesting
