#include "core/fit/constrained_search.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "core/fit/quadratic_program.h"

namespace hoopwright {
namespace {

constexpr double kLeastBox = 1e-5;
constexpr double kFirstCurvature = 1e-3;
constexpr double kNoMiss = 1e-9, kGreatestPenalty = 1e6;
constexpr double kMissed = 1e-3;       // a limit missed by less is met
constexpr double kContradicts = 0.02;  // of what the missed limits cost together
constexpr double kNearlyFlat = 1e-3, kNoBound = 1e9;
constexpr double kMissCurvature = 1e-6;  // keeps the quadratic strictly convex in the miss

double miss(const SearchValue& at) {
    return at.limits.size() == 0 ? 0 : std::max(0.0, -at.limits.minCoeff());
}

struct Step {
    Eigen::VectorXd d, multipliers;
    double miss = 0;  ///< promised
};

class Search {
public:
    Search(const SearchProblem& problem, const SearchOptions& options)
        : problem_(problem), options_(options) {}

    std::optional<SearchResult> run(const Eigen::VectorXd& start) {
        SearchResult now;
        now.x = start.cwiseMax(problem_.low).cwiseMin(problem_.high);
        const auto first = value(now.x);
        if (!first) return std::nullopt;
        take(now, *first);
        curvature_ = kFirstCurvature * Eigen::MatrixXd::Identity(now.x.size(), now.x.size());
        now.multipliers = Eigen::VectorXd::Zero(now.value.limits.size());
        box_ = options_.first_step;
        while (now.rounds < options_.most_rounds && box_ > kLeastBox && now.x.size() > 0) {
            ++now.rounds;
            if (!round(now)) break;
        }
        now.short_by = miss(now.value);
        now.evaluations = evaluations_;
        return now;
    }

private:
    std::optional<SearchValue> value(const Eigen::VectorXd& x) {
        ++evaluations_;
        return problem_.at(x);
    }
    void take(SearchResult& now, SearchValue value) const {
        now.value = std::move(value);
        if (problem_.taken) problem_.taken(now.x);
    }
    double merit(const SearchValue& at) const { return at.f + penalty_ * miss(at); }

    /// Limits at their values in `limits`, which a correction replaces.
    std::optional<Step> stepFrom(const SearchResult& now, const Eigen::VectorXd& limits) const {
        const Eigen::Index n = now.x.size();
        const Eigen::VectorXd reach = box_ * now.value.limit_slopes.cwiseAbs().rowwise().sum();
        std::vector<Eigen::Index> near, low;
        for (Eigen::Index i = 0; i < limits.size(); ++i) {
            if (limits[i] <= reach[i]) near.push_back(i);
            if (now.value.floors.size() > 0 && limits[i] - now.value.floors[i] <= reach[i]) low.push_back(i);
        }
        const auto rows = static_cast<Eigen::Index>(near.size()),
                   lows = static_cast<Eigen::Index>(low.size());
        QuadraticProgram program;
        program.G = Eigen::MatrixXd::Zero(n + 1, n + 1);
        program.G.topLeftCorner(n, n) = curvature_;
        program.G(n, n) = kMissCurvature;
        program.g.resize(n + 1);
        program.g << now.value.slope, penalty_;
        program.A = Eigen::MatrixXd::Zero(rows + 1 + 2 * n + lows, n + 1);
        program.b.resize(program.A.rows());
        for (Eigen::Index i = 0; i < rows; ++i) {
            const Eigen::Index row = near[static_cast<std::size_t>(i)];
            program.A.row(i).head(n) = now.value.limit_slopes.row(row);
            program.A(i, n) = 1;
            program.b[i] = -limits[row];
        }
        program.A(rows, n) = 1;
        program.b[rows] = 0;
        for (Eigen::Index i = 0; i < n; ++i) {
            program.A(rows + 1 + i, i) = 1;
            program.b[rows + 1 + i] = std::max(problem_.low[i] - now.x[i], -box_);
            program.A(rows + 1 + n + i, i) = -1;
            program.b[rows + 1 + n + i] = -std::min(problem_.high[i] - now.x[i], box_);
        }
        for (Eigen::Index i = 0; i < lows; ++i) {
            const Eigen::Index row = low[static_cast<std::size_t>(i)];
            program.A.row(rows + 1 + 2 * n + i).head(n) = now.value.limit_slopes.row(row);
            // Staying is always allowed.
            program.b[rows + 1 + 2 * n + i] = std::min(0.0, now.value.floors[row] - limits[row]);
        }
        const auto solved = solve(program);
        if (!solved) return std::nullopt;
        Step step;
        step.d = solved->d.head(n);
        step.miss = std::max(0.0, solved->d[n]);
        step.multipliers = Eigen::VectorXd::Zero(limits.size());
        for (Eigen::Index i = 0; i < rows; ++i)
            step.multipliers[near[static_cast<std::size_t>(i)]] = solved->multipliers[i];
        return step;
    }

    /// False where nothing is left to gain.
    bool round(SearchResult& now) {
        auto step = stepFrom(now, now.value.limits);
        if (!step) return false;
        // The penalty is exact only while it outweighs all multipliers together: raised as long as that makes
        // the limits better met.
        while (step->miss > kNoMiss && penalty_ < kGreatestPenalty) {
            penalty_ *= 10;
            auto stricter = stepFrom(now, now.value.limits);
            if (!stricter || stricter->miss > 0.9 * step->miss) {
                penalty_ /= 10;
                break;
            }
            step = std::move(stricter);
        }
        const double promised = now.value.f + penalty_ * miss(now.value) -
                                (now.value.f + now.value.slope.dot(step->d) +
                                 0.5 * step->d.dot(curvature_ * step->d) + penalty_ * step->miss);
        if (promised < options_.good_enough) {
            now.multipliers = step->multipliers;
            return false;
        }
        auto there = value(now.x + step->d);
        if (there && merit(now.value) - merit(*there) < 0.1 * promised && miss(*there) > 0) {
            // The limits bend away from their tangents: once more, with what they really are there.
            const Eigen::VectorXd bent = there->limits - now.value.limit_slopes * step->d;
            if (const auto corrected = stepFrom(now, bent)) {
                auto better = value(now.x + corrected->d);
                if (better && merit(*better) < merit(*there)) {
                    there = std::move(better);
                    step->d = corrected->d;
                }
            }
        }
        const double got = there ? merit(now.value) - merit(*there) : -1;
        const double reach = step->d.cwiseAbs().maxCoeff();
        if (got < 0.1 * promised) {
            box_ = 0.4 * std::min(box_, reach);
            return true;
        }
        learnCurvature(*there, now.value, *step);
        now.x += step->d;
        now.multipliers = step->multipliers;
        take(now, *std::move(there));
        if (got > 0.7 * promised && reach > 0.8 * box_) box_ *= 2;
        return true;
    }

    void learnCurvature(const SearchValue& there, const SearchValue& here, const Step& step) {
        const Eigen::VectorXd& s = step.d;
        const Eigen::VectorXd slope = there.slope - there.limit_slopes.transpose() * step.multipliers -
                                      here.slope + here.limit_slopes.transpose() * step.multipliers;
        const Eigen::VectorXd bent = curvature_ * s;
        const double along = s.dot(bent), found = s.dot(slope);
        if (!(along > 1e-14)) return;
        const double share = found >= 0.2 * along ? 1 : 0.8 * along / (along - found);
        const Eigen::VectorXd damped = share * slope + (1 - share) * bent;
        curvature_ += damped * damped.transpose() / s.dot(damped) - bent * bent.transpose() / along;
        // Rounding must not let the root fail.
        curvature_ = 0.5 * (curvature_ + curvature_.transpose().eval());
        curvature_.diagonal().array() += 1e-9;
    }

    const SearchProblem& problem_;
    const SearchOptions& options_;
    Eigen::MatrixXd curvature_;
    double box_ = 0, penalty_ = 10;
    int evaluations_ = 0;
};

/// Where limits contradict each other, the penalty lets all others be missed as much too. Once more, with
/// these held and only those that contradict let go; nothing where that cannot be.
std::optional<SearchResult> meetingTheRest(const SearchProblem& problem, const SearchResult& found,
                                           const SearchOptions& options) {
    Eigen::VectorXd let_go = Eigen::VectorXd::Zero(found.value.limits.size());
    for (Eigen::Index i = 0; i < let_go.size(); ++i)
        if (found.multipliers[i] > kContradicts * found.multipliers.sum())
            let_go[i] = found.short_by + kMissed;
    SearchProblem rest = problem;
    rest.at = [&](const Eigen::VectorXd& x) {
        auto value = problem.at(x);
        if (value) value->limits += let_go;
        if (value && value->floors.size() > 0) value->floors += let_go;
        return value;
    };
    auto met = Search(rest, options).run(found.x);
    if (!met || met->short_by > 2 * kMissed) return std::nullopt;
    met->value.limits -= let_go;
    if (met->value.floors.size() > 0) met->value.floors -= let_go;
    met->short_by = miss(met->value);
    met->multipliers = found.multipliers;
    met->rounds += found.rounds;
    met->evaluations += found.evaluations;
    return met;
}

}  // namespace

std::optional<SearchResult> leastOf(const SearchProblem& problem, const Eigen::VectorXd& start,
                                    const SearchOptions& options) {
    auto found = Search(problem, options).run(start);
    if (!found || found->short_by <= kMissed) return found;
    auto met = meetingTheRest(problem, *found, options);
    return met ? std::move(met) : std::move(found);
}

EasedWorth easedWorth(const SearchResult& found, const SearchProblem& bounds, const Eigen::VectorXd& ease) {
    const Eigen::Index n = found.x.size(), rows = found.value.limits.size();
    EasedWorth out{found.multipliers, Eigen::VectorXd::Zero(n), Eigen::VectorXd::Zero(n)};
    QuadraticProgram eased;
    eased.G = kNearlyFlat * Eigen::MatrixXd::Identity(n, n);
    eased.g = found.value.slope;
    eased.A = Eigen::MatrixXd::Zero(rows + 2 * n, n);
    eased.A.topRows(rows) = found.value.limit_slopes;
    eased.A.middleRows(rows, n).setIdentity();
    eased.A.bottomRows(n) = -Eigen::MatrixXd::Identity(n, n);
    eased.b.resize(rows + 2 * n);
    eased.b << -found.value.limits.cwiseMax(0) - ease, (bounds.low - found.x).cwiseMax(-kNoBound),
        (found.x - bounds.high).cwiseMax(-kNoBound);
    if (const auto step = solve(eased)) {
        out.limits = step->multipliers.head(rows);
        out.low = step->multipliers.segment(rows, n);
        out.high = step->multipliers.tail(n);
    }
    return out;
}

}  // namespace hoopwright
