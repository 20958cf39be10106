// The constrained search on published problems. Source: W. Hock and K. Schittkowski, Test Examples for
// Nonlinear Programming Codes, 1981, problems 12, 35, 43 and 100 (from memory; the leasts of the first three
// are checked by hand below).
#include <gmock/gmock.h>

#include <cmath>

#include "core/fit/constrained_search.h"

namespace hoopwright {
namespace {

using Vec = Eigen::VectorXd;

struct Published {
    std::function<double(const Vec&)> f;
    std::vector<std::function<double(const Vec&)>> limits;
    Vec start, least;
    double f_least;
};

/// Slopes by central differences.
SearchProblem problemOf(const Published& of, double low) {
    SearchProblem out;
    const Eigen::Index n = of.start.size();
    out.low = Vec::Constant(n, low);
    out.high = Vec::Constant(n, 1e9);
    out.at = [&of, n](const Vec& x) {
        SearchValue value;
        const auto rows = static_cast<Eigen::Index>(of.limits.size());
        value.f = of.f(x);
        value.slope.resize(n);
        value.limits.resize(rows);
        value.limit_slopes.resize(rows, n);
        for (Eigen::Index i = 0; i < rows; ++i) value.limits[i] = of.limits[static_cast<std::size_t>(i)](x);
        for (Eigen::Index k = 0; k < n; ++k) {
            Vec more = x, less = x;
            more[k] += 1e-6;
            less[k] -= 1e-6;
            value.slope[k] = (of.f(more) - of.f(less)) / 2e-6;
            for (Eigen::Index i = 0; i < rows; ++i)
                value.limit_slopes(i, k) = (of.limits[static_cast<std::size_t>(i)](more) -
                                            of.limits[static_cast<std::size_t>(i)](less)) /
                                           2e-6;
        }
        return std::optional(value);
    };
    return out;
}

Vec vec(std::initializer_list<double> values) {
    Vec out(static_cast<Eigen::Index>(values.size()));
    std::ranges::copy(values, out.begin());
    return out;
}

void expectLeast(const Published& of, double low = -1e9) {
    EXPECT_NEAR(of.f(of.least), of.f_least, 1e-6 * (1 + std::abs(of.f_least)));  // the figures themselves
    const auto found = leastOf(problemOf(of, low), of.start, {1, 1e-11, 400});
    ASSERT_TRUE(found);
    EXPECT_NEAR(found->value.f, of.f_least, 1e-5 * (1 + std::abs(of.f_least)));
    EXPECT_LE(found->short_by, 1e-6);
    EXPECT_NEAR((found->x - of.least).norm(), 0, 2e-3 * (1 + of.least.norm()));
}

TEST(PublishedProblem, Number12) {
    expectLeast(
        {[](const Vec& x) { return 0.5 * x[0] * x[0] + x[1] * x[1] - x[0] * x[1] - 7 * x[0] - 7 * x[1]; },
         {[](const Vec& x) { return 25 - 4 * x[0] * x[0] - x[1] * x[1]; }},
         vec({0, 0}),
         vec({2, 3}),
         -30});
}

TEST(PublishedProblem, Number35OfBeale) {
    expectLeast({[](const Vec& x) {
                     return 9 - 8 * x[0] - 6 * x[1] - 4 * x[2] + 2 * x[0] * x[0] + 2 * x[1] * x[1] +
                            x[2] * x[2] + 2 * x[0] * x[1] + 2 * x[0] * x[2];
                 },
                 {[](const Vec& x) { return 3 - x[0] - x[1] - 2 * x[2]; }},
                 vec({0.5, 0.5, 0.5}),
                 vec({4.0 / 3, 7.0 / 9, 4.0 / 9}),
                 1.0 / 9},
                0);
}

TEST(PublishedProblem, Number43OfRosenAndSuzuki) {
    expectLeast({[](const Vec& x) {
                     return x[0] * x[0] + x[1] * x[1] + 2 * x[2] * x[2] + x[3] * x[3] - 5 * x[0] - 5 * x[1] -
                            21 * x[2] + 7 * x[3];
                 },
                 {[](const Vec& x) { return 8 - x.squaredNorm() - x[0] + x[1] - x[2] + x[3]; },
                  [](const Vec& x) {
                      return 10 - x[0] * x[0] - 2 * x[1] * x[1] - x[2] * x[2] - 2 * x[3] * x[3] + x[0] + x[3];
                  },
                  [](const Vec& x) {
                      return 5 - 2 * x[0] * x[0] - x[1] * x[1] - x[2] * x[2] - 2 * x[0] + x[1] + x[3];
                  }},
                 vec({0, 0, 0, 0}),
                 vec({0, 1, 2, -1}),
                 -44});
}

TEST(PublishedProblem, Number100OfWong) {
    const auto square = [](double v) { return v * v; };
    expectLeast({[=](const Vec& x) {
                     return square(x[0] - 10) + 5 * square(x[1] - 12) + std::pow(x[2], 4) +
                            3 * square(x[3] - 11) + 10 * std::pow(x[4], 6) + 7 * square(x[5]) +
                            std::pow(x[6], 4) - 4 * x[5] * x[6] - 10 * x[5] - 8 * x[6];
                 },
                 {[=](const Vec& x) {
                      return 127 - 2 * square(x[0]) - 3 * std::pow(x[1], 4) - x[2] - 4 * square(x[3]) -
                             5 * x[4];
                  },
                  [=](const Vec& x) { return 282 - 7 * x[0] - 3 * x[1] - 10 * square(x[2]) - x[3] + x[4]; },
                  [=](const Vec& x) { return 196 - 23 * x[0] - square(x[1]) - 6 * square(x[5]) + 8 * x[6]; },
                  [=](const Vec& x) {
                      return -4 * square(x[0]) - square(x[1]) + 3 * x[0] * x[1] - 2 * square(x[2]) -
                             5 * x[5] + 11 * x[6];
                  }},
                 vec({1, 2, 0, 4, 0, 1, 1}),
                 vec({2.330499, 1.951372, -0.4775414, 4.365726, -0.6244870, 1.038131, 1.594227}),
                 680.6300573});
}

}  // namespace
}  // namespace hoopwright
