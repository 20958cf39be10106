// The most valuable way to fill a stick: a bounded knapsack, exact. Used by nest().
#pragma once

#include <vector>

#include "core/shop/nest_problem.h"

namespace hoopwright::nesting {

/// A filling worth more than what was asked for, if there is one, and a value no filling can pass.
struct BestFilling {
    std::int64_t bound = 0;
    std::vector<std::pair<int, int>> pieces;
};

/// Prices pieces, then answers for each stick. A table over a coarse grid of lengths, rounded so that it can
/// only promise too much, steers a depth-first search over the true lengths. Method: dynamic programming and
/// branch and bound for knapsacks (Martello and Toth, Knapsack Problems, 1990; from memory).
class FillTable {
public:
    explicit FillTable(const CutProblem& problem);
    /// A value the table cannot pass with these prices: for choosing a scale that fits 32 bits.
    double mostOf(const std::vector<double>& values, const std::vector<int>& limits) const;
    /// @param values  per kind, >= 0; any filling's sum is below 2^31
    /// @param limits  per kind: at most so many of it
    void price(const std::vector<std::int32_t>& values, const std::vector<int>& limits, Effort& effort);
    /// The best filling worth more than `floor`, or one near it once a few thousand were looked at; no pieces
    /// if there is none.
    BestFilling best(std::int64_t room, std::int64_t floor, Effort& effort) const;

private:
    struct Kind {
        int kind = 0;
        std::int64_t length = 0;
        int cells = 0;
        std::int32_t value = 0;
        int limit = 0;
    };
    struct Search;
    void descend(Search& search, std::size_t depth, std::int64_t room, std::int64_t value) const;
    const std::int32_t* layer(std::size_t depth) const { return table_.data() + depth * width_; }

    const CutProblem& problem_;
    std::int64_t cell_ = 1;
    std::size_t width_ = 1;
    std::vector<Kind> priced_;  ///< kinds worth something
    std::vector<std::int32_t>
        table_;  ///< [depth][cells]: no filling from the kinds of that depth on is worth more
};

}  // namespace hoopwright::nesting
