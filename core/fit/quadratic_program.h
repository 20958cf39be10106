// The step of a constrained search: a small quadratic with many straight limits.
#pragma once

#include <Eigen/Core>
#include <optional>

namespace hoopwright {

/// Least 1/2 d'G d + g.d with A d >= b, row by row.
struct QuadraticProgram {
    Eigen::MatrixXd G;  ///< symmetric, positive definite
    Eigen::VectorXd g;
    Eigen::MatrixXd A;
    Eigen::VectorXd b;
};
struct QuadraticStep {
    Eigen::VectorXd d;
    Eigen::VectorXd multipliers;  ///< one a row of A, >= 0; above zero only where the row holds exactly
};

/// Nothing where no d meets every row. Made for few unknowns (to some 40) and hundreds of rows. Method: D.
/// Goldfarb and A. Idnani, Mathematical Programming 27 (1983), the dual active set, from memory; held against
/// its own optimality conditions in the tests.
std::optional<QuadraticStep> solve(const QuadraticProgram& problem);

}  // namespace hoopwright
