// The search under the fits: the quadratic step and the constrained search.
#include <gmock/gmock.h>

#include <cmath>
#include <random>

#include "core/fit/constrained_search.h"
#include "core/fit/quadratic_program.h"

namespace hoopwright {
namespace {

TEST(QuadraticProgram, GoesToTheMiddleWhereNothingIsInTheWay) {
    QuadraticProgram program;
    program.G = 2 * Eigen::MatrixXd::Identity(2, 2);
    program.g = Eigen::Vector2d(-4, 6);
    program.A.resize(0, 2);
    program.b.resize(0);
    const auto step = solve(program);
    ASSERT_TRUE(step);
    EXPECT_NEAR((step->d - Eigen::Vector2d(2, -3)).norm(), 0, 1e-12);
}

TEST(QuadraticProgram, StopsAtALineByHand) {
    // The nearest point of x + y >= 2 to the origin is (1, 1), and half the square of the distance grows by
    // the limit's own multiplier, 1.
    QuadraticProgram program;
    program.G = Eigen::MatrixXd::Identity(2, 2);
    program.g = Eigen::Vector2d::Zero();
    program.A = Eigen::MatrixXd::Ones(1, 2);
    program.b = Eigen::VectorXd::Constant(1, 2);
    const auto step = solve(program);
    ASSERT_TRUE(step);
    EXPECT_NEAR((step->d - Eigen::Vector2d(1, 1)).norm(), 0, 1e-12);
    EXPECT_NEAR(step->multipliers[0], 1, 1e-12);
}

TEST(QuadraticProgram, SaysWhenLimitsContradictEachOther) {
    QuadraticProgram program;
    program.G = Eigen::MatrixXd::Identity(1, 1);
    program.g = Eigen::VectorXd::Zero(1);
    program.A = (Eigen::MatrixXd(2, 1) << 1, -1).finished();
    program.b = Eigen::Vector2d(1, 0);
    EXPECT_FALSE(solve(program));
}

TEST(QuadraticProgram, MeetsTheConditionsOfALeastOnRandomPrograms) {
    std::mt19937_64 random(1983);
    std::normal_distribution<double> normal;
    const auto fill = [&](Eigen::Index rows, Eigen::Index columns) {
        Eigen::MatrixXd out(rows, columns);
        for (double& value : out.reshaped()) value = normal(random);
        return out;
    };
    double worst = 0;
    for (int round = 0; round < 300; ++round) {
        const Eigen::Index n = 1 + round % 12, rows = round % 60;
        const Eigen::MatrixXd root = fill(n, n);
        QuadraticProgram program;
        program.G = root * root.transpose() + 0.1 * Eigen::MatrixXd::Identity(n, n);
        program.g = fill(n, 1);
        program.A = fill(rows, n);
        // Some point meets every row, so that there is a least.
        const Eigen::VectorXd inside = fill(n, 1);
        program.b = program.A * inside - fill(rows, 1).cwiseAbs();
        const auto step = solve(program);
        ASSERT_TRUE(step) << round;
        const Eigen::VectorXd slack = program.A * step->d - program.b;
        const Eigen::VectorXd slope =
            program.G * step->d + program.g - program.A.transpose() * step->multipliers;
        worst = std::max(worst, slope.cwiseAbs().maxCoeff());
        if (rows == 0) continue;
        worst = std::max({worst, -slack.minCoeff(), -step->multipliers.minCoeff(),
                          slack.cwiseProduct(step->multipliers).cwiseAbs().maxCoeff()});
    }
    RecordProperty("worst", std::to_string(worst));
    EXPECT_LT(worst, 1e-6);
}

/// A quadratic bowl about (3, 2) with limits of a test's own.
SearchProblem bowl(std::function<void(const Eigen::VectorXd&, SearchValue&)> limits, Eigen::Index rows) {
    SearchProblem out;
    out.low = Eigen::Vector2d::Constant(-1e9);
    out.high = Eigen::Vector2d::Constant(1e9);
    out.at = [limits = std::move(limits), rows](const Eigen::VectorXd& x) {
        SearchValue value;
        const Eigen::Vector2d from = x - Eigen::Vector2d(3, 2);
        value.f = from.squaredNorm();
        value.slope = 2 * from;
        value.limits.resize(rows);
        value.limit_slopes.resize(rows, 2);
        limits(x, value);
        return std::optional(value);
    };
    return out;
}

TEST(ConstrainedSearch, FindsTheNearestPlaceOfADisc) {
    const SearchProblem problem = bowl(
        [](const Eigen::VectorXd& x, SearchValue& value) {
            value.limits[0] = 4 - x.squaredNorm();
            value.limit_slopes.row(0) = -2 * x.transpose();
        },
        1);
    const auto found = leastOf(problem, Eigen::Vector2d(0.5, -1), {1, 1e-10, 100});
    ASSERT_TRUE(found);
    const Eigen::Vector2d expected = 2 * Eigen::Vector2d(3, 2).normalized();
    EXPECT_NEAR((found->x - expected).norm(), 0, 1e-4);
    EXPECT_NEAR(found->short_by, 0, 1e-7);
    // What a unit more of 4 would take off: d/dk (|c| - sqrt k)^2 = (|c| - sqrt k) / sqrt k.
    EXPECT_NEAR(found->multipliers[0], (std::sqrt(13) - 2) / 2, 1e-3);
}

TEST(ConstrainedSearch, StaysWithinItsBounds) {
    SearchProblem problem = bowl([](const Eigen::VectorXd&, SearchValue&) {}, 0);
    problem.high = Eigen::Vector2d(1, 10);
    const auto found = leastOf(problem, Eigen::Vector2d(50, 50), {1, 1e-10, 100});
    ASSERT_TRUE(found);
    EXPECT_NEAR((found->x - Eigen::Vector2d(1, 2)).norm(), 0, 1e-4);
}

TEST(ConstrainedSearch, MissesByLeastWhereLimitsContradict) {
    const SearchProblem problem = bowl(
        [](const Eigen::VectorXd& x, SearchValue& value) {
            value.limits << x[0] - 2, -x[0];
            value.limit_slopes << 1, 0, -1, 0;
        },
        2);
    const auto found = leastOf(problem, Eigen::Vector2d(5, 5), {1, 1e-10, 100});
    ASSERT_TRUE(found);
    EXPECT_NEAR(found->short_by, 1, 2e-3);
    EXPECT_NEAR(found->x[0], 1, 2e-3);
}

TEST(ConstrainedSearch, MeetsWhatDoesNotContradictAllTheSame) {
    // x is to be 2 and 0; y is to be at most 1, and that it can be, though the bowl draws it to 2.
    const SearchProblem problem = bowl(
        [](const Eigen::VectorXd& x, SearchValue& value) {
            value.limits << x[0] - 2, -x[0], 1 - x[1];
            value.limit_slopes << 1, 0, -1, 0, 0, -1;
        },
        3);
    const auto found = leastOf(problem, Eigen::Vector2d(5, 5), {1, 1e-10, 100});
    ASSERT_TRUE(found);
    EXPECT_NEAR(found->short_by, 1, 2e-3);
    EXPECT_NEAR((found->x - Eigen::Vector2d(1, 1)).norm(), 0, 5e-3);
}

TEST(ConstrainedSearch, PassesOverPlacesThatMakeNoSense) {
    SearchProblem problem = bowl([](const Eigen::VectorXd&, SearchValue&) {}, 0);
    const auto whole = problem.at;
    problem.at = [&](const Eigen::VectorXd& x) { return x[0] > 1 ? std::nullopt : whole(x); };
    const auto found = leastOf(problem, Eigen::Vector2d(-4, 0), {3, 1e-9, 200});
    ASSERT_TRUE(found);
    EXPECT_LE(found->x[0], 1);
    EXPECT_GT(found->x[0], 0.5);
    EXPECT_FALSE(leastOf(problem, Eigen::Vector2d(2, 0)));
}

}  // namespace
}  // namespace hoopwright
