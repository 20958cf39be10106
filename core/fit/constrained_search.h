// The least of a smooth function of some numbers under smooth limits.
#pragma once

#include <Eigen/Core>
#include <functional>
#include <optional>

namespace hoopwright {

/// A function and its limits at one place, with their slopes.
struct SearchValue {
    double f = 0;
    Eigen::VectorXd slope;         ///< of f
    Eigen::VectorXd limits;        ///< each is to be >= 0
    Eigen::MatrixXd limit_slopes;  ///< a row each
    /// No step is tried that would bring a limit below this, not even on the way; for none: empty.
    Eigen::VectorXd floors = {};
};

/// All numbers of one scale, as lengths in mm are.
struct SearchProblem {
    /// Nothing where the place makes no sense, or cannot be reached from the last one that was taken.
    std::function<std::optional<SearchValue>(const Eigen::VectorXd& x)> at;
    /// Told each place that is taken.
    std::function<void(const Eigen::VectorXd& x)> taken = {};
    Eigen::VectorXd low, high;  ///< may be infinite
};

struct SearchOptions {
    double first_step = 40;     ///< the farthest any number goes at first
    double good_enough = 1e-4;  ///< stops where a step promises less than this of f
    int most_rounds = 80;
};

struct SearchResult {
    Eigen::VectorXd x;
    SearchValue value;
    Eigen::VectorXd multipliers;  ///< what a unit less of each limit would take off f; one choice of several
    double short_by = 0;          ///< greatest amount by which a limit is not met; 0: all are met
    int rounds = 0, evaluations = 0;
};

/// A place no other near it betters; where limits contradict each other, the one that misses these least and
/// meets the rest, as far as that can be. Their multipliers are then shares of what is missed, times a price.
/// Nothing where the start makes no sense. Method: sequential quadratic programming in a box that grows with
/// what the steps deliver, limits by exact penalty (R. Fletcher, Practical Methods of Optimization, 1987,
/// chapters 12 and 14; second-order correction; Powell's damped update of the curvature; from memory).
std::optional<SearchResult> leastOf(const SearchProblem& problem, const Eigen::VectorXd& start,
                                    const SearchOptions& options = {});

/// What limits and bounds are worth where many hold at once, as places along a flat side do: the search's own
/// multipliers are then one choice of many.
struct EasedWorth {
    Eigen::VectorXd limits, low, high;  ///< off f for a unit less of each
};
/// The multipliers of those that still hold once each limit is `ease` less, all together: what that is worth.
/// @pre found.short_by is 0
EasedWorth easedWorth(const SearchResult& found, const SearchProblem& bounds, const Eigen::VectorXd& ease);

}  // namespace hoopwright
