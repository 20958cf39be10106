// The cutting problem with fractions of sticks allowed: a linear programme by column generation. Used by
// nest().
#pragma once

#include <vector>

#include "core/shop/nest_fill.h"

namespace hoopwright::nesting {

/// No set of sticks with  sum count[j] * most[j] < worth  holds all pieces: pieces weighed in whole numbers,
/// `most` what one stick can hold at best. Exact; this is what proves a plan.
struct Cut {
    std::vector<std::int64_t> weight;  ///< per kind
    std::vector<std::int64_t> most;    ///< per stick
    std::int64_t worth = 0;            ///< of all pieces wanted

    bool rulesOut(const StickCounts& counts) const;
    /// The same for what is left to cut.
    bool rulesOut(const StickCounts& counts, const std::vector<int>& wanted) const;
};

/// What a linear programme says.
struct FractionalPlan {
    double shortage = 0;                       ///< what is missing, weighed by length, when counts are given
    std::vector<std::pair<int, double>> used;  ///< (index into the pool, how many sticks, fractions too)
    Cut cut;                                   ///< from its prices
};

/// Fillings found so far, shared by all programmes of one nest.
using FillingPool = std::vector<Filling>;

class CuttingLp {
public:
    explicit CuttingLp(const CutProblem& problem) : problem_(problem), table_(problem) {}
    /// Least cost with any number of sticks. Its cut is the strongest single bound there is on cost, or one
    /// between the same two of `costs`: what sets of sticks may cost, ascending; empty: anything.
    FractionalPlan leastCost(const std::vector<std::int64_t>& costs, FillingPool& pool, Effort& effort);
    /// Least shortage when there are only so many sticks for what is still wanted. Fillings are looked for up
    /// to `limits` of each kind: with those of the whole problem the cut holds for the whole problem.
    FractionalPlan leastShortage(const StickCounts& counts, const std::vector<int>& wanted,
                                 const std::vector<int>& limits, FillingPool& pool, Effort& effort);

private:
    struct Question;
    class Simplex;
    FractionalPlan solve(const Question& question, FillingPool& pool, Effort& effort);
    double leastBy(const Cut& cut) const;

    const CutProblem& problem_;
    FillTable table_;
};

}  // namespace hoopwright::nesting
