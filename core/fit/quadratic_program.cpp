#include "core/fit/quadratic_program.h"

#include <Eigen/Cholesky>
#include <Eigen/QR>
#include <cmath>
#include <limits>
#include <vector>

namespace hoopwright {
namespace {

constexpr double kMet = 1e-9;        // of a row of length 1
constexpr double kDependent = 1e-9;  // a row this near to the span of the others adds nothing
constexpr double kFarAway = std::numeric_limits<double>::infinity();

/// In coordinates in which G is the identity, so that steps are projections.
class DualActiveSet {
public:
    DualActiveSet(const QuadraticProgram& problem, const Eigen::LLT<Eigen::MatrixXd>& root)
        : rows_(root.matrixL().solve(problem.A.transpose())),
          limits_(problem.b),
          lengths_(rows_.colwise().norm().transpose()),
          y_(root.matrixL().solve(Eigen::VectorXd(-problem.g))) {}

    bool run() {
        // Every round adds a row for good or raises the dual; far more rounds than rows means rounding alone.
        for (Eigen::Index round = 0; round < 20 + 4 * rows_.cols(); ++round) {
            const Eigen::Index worst = mostViolated();
            if (worst < 0) return true;
            if (!add(worst)) return false;
        }
        return true;
    }

    const Eigen::VectorXd& y() const { return y_; }
    Eigen::VectorXd multipliers() const {
        Eigen::VectorXd out = Eigen::VectorXd::Zero(rows_.cols());
        for (std::size_t i = 0; i < active_.size(); ++i) out[active_[i]] = duals_[i];
        return out;
    }

private:
    double slack(Eigen::Index row) const { return rows_.col(row).dot(y_) - limits_[row]; }

    Eigen::Index mostViolated() const {
        Eigen::Index worst = -1;
        double least = -kMet;
        for (Eigen::Index i = 0; i < rows_.cols(); ++i) {
            if (!(lengths_[i] > 0)) continue;
            const double by = slack(i) / lengths_[i] / (1 + std::abs(limits_[i]) / lengths_[i]);
            if (by >= least) continue;
            least = by;
            worst = i;
        }
        return worst;
    }

    /// Moves until the row holds, letting go of rows whose multiplier would turn negative.
    bool add(Eigen::Index row) {
        double dual = 0;
        for (;;) {
            const Eigen::VectorXd normal = rows_.col(row);
            Eigen::VectorXd share, step = normal;
            if (!active_.empty()) {
                Eigen::MatrixXd span(rows_.rows(), static_cast<Eigen::Index>(active_.size()));
                for (std::size_t i = 0; i < active_.size(); ++i)
                    span.col(static_cast<Eigen::Index>(i)) = rows_.col(active_[i]);
                share = span.householderQr().solve(normal);
                step = normal - span * share;
            }
            double most = kFarAway;
            std::size_t first_out = 0;
            for (std::size_t i = 0; i < active_.size(); ++i) {
                const double each = share[static_cast<Eigen::Index>(i)];
                if (each <= 1e-12 || duals_[i] / each >= most) continue;
                most = duals_[i] / each;
                first_out = i;
            }
            const double length = step.norm();
            const double full = length > kDependent * lengths_[row]
                                    ? std::max(0.0, -slack(row)) / step.squaredNorm()
                                    : kFarAway;
            const double go = std::min(most, full);
            if (go == kFarAway) return false;
            if (full != kFarAway) y_ += go * step;
            for (std::size_t i = 0; i < active_.size(); ++i)
                duals_[i] = std::max(0.0, duals_[i] - go * share[static_cast<Eigen::Index>(i)]);
            dual += go;
            if (full <= most) {
                active_.push_back(row);
                duals_.push_back(dual);
                return true;
            }
            active_.erase(active_.begin() + static_cast<std::ptrdiff_t>(first_out));
            duals_.erase(duals_.begin() + static_cast<std::ptrdiff_t>(first_out));
        }
    }

    Eigen::MatrixXd rows_;  ///< a column each
    Eigen::VectorXd limits_, lengths_, y_;
    std::vector<Eigen::Index> active_;
    std::vector<double> duals_;
};

}  // namespace

std::optional<QuadraticStep> solve(const QuadraticProgram& problem) {
    const Eigen::LLT<Eigen::MatrixXd> root(problem.G);
    if (root.info() != Eigen::Success) return std::nullopt;
    DualActiveSet search(problem, root);
    if (!search.run()) return std::nullopt;
    return QuadraticStep{root.matrixU().solve(search.y()), search.multipliers()};
}

}  // namespace hoopwright
