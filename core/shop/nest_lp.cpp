#include "core/shop/nest_lp.h"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <limits>

namespace hoopwright::nesting {

namespace {

constexpr double kNothing = 1e-7;     ///< a price or pivot smaller than this is none
constexpr double kEnough = 1e-4;      ///< a shortage smaller than this may be round-off
constexpr double kNoCost = 1e-3;      ///< costs are whole numbers
constexpr double kLargest = 1 << 30;  ///< of whole-number prices of one filling
constexpr int kRefresh_pivots = 150;  ///< then the inverse is made anew
constexpr int kMost_pivots = 20'000;

std::int64_t sum(const std::vector<std::int64_t>& each, const std::vector<int>& counts) {
    std::int64_t total = 0;
    for (std::size_t i = 0; i < each.size(); ++i) total += each[i] * counts[i];
    return total;
}

}  // namespace

bool Cut::rulesOut(const StickCounts& counts) const {
    return sum(most, counts) < worth;
}

bool Cut::rulesOut(const StickCounts& counts, const std::vector<int>& wanted) const {
    return sum(most, counts) < sum(weight, wanted);
}

/// What a programme is asked: rows are the kinds still wanted, then the stick lengths.
struct CuttingLp::Question {
    std::vector<int> wanted, limits;
    std::vector<double> sticks;  ///< how many there are of each
    std::vector<double> stick_cost;
    std::vector<double> shortage_cost;                 ///< per kind
    const StickCounts* enough = nullptr;               ///< stop once it is known whether these will do
    const std::vector<std::int64_t>* costs = nullptr;  ///< stop once it is known between which two it is
    double dearest = 1;                                ///< what a stick cost of 1 stands for
};

/// Revised simplex with a dense inverse: some sixty rows, so no more is needed.
class CuttingLp::Simplex {
public:
    Simplex(const CutProblem& problem, const Question& ask);
    /// Prices of kinds (>= 0 once optimal) and of sticks (<= 0).
    double price(std::size_t kind) const { return row_of_[kind] < 0 ? 0 : price_[row_of_[kind]]; }
    double stickPrice(std::size_t stick) const { return price_[kinds_ + static_cast<int>(stick)]; }
    double reducedCost(const Filling& filling) const;
    /// Brings in a slack, a surplus or a filling of the pool that lowers the cost; false if there is none.
    bool step(const FillingPool& pool);
    double shortage() const;
    double value(const FillingPool& pool) const;  ///< of all that is used, and of what is short
    std::vector<std::pair<int, double>> used() const;
    bool stuck() const { return pivots_ > kMost_pivots; }

private:
    // What a basic variable is: a filling (index >= 0), or a row's own helper.
    struct Variable {
        enum class Is { filling, shortage, surplus, spare } is = Is::shortage;
        int index = 0;  ///< of the filling, or the row
    };
    Eigen::VectorXd column(const Variable& variable, const FillingPool& pool) const;
    double cost(const Variable& variable, const FillingPool& pool) const;
    bool pivot(const Variable& entering, const FillingPool& pool);
    void refresh(const FillingPool& pool);
    void reprice(const FillingPool& pool);

    const Question& ask_;
    std::vector<int> row_of_, kind_of_;
    int kinds_ = 0, rows_ = 0, pivots_ = 0;
    Eigen::MatrixXd inverse_;
    Eigen::VectorXd right_side_, amount_;
    Eigen::RowVectorXd price_;
    std::vector<Variable> basis_;
};

CuttingLp::Simplex::Simplex(const CutProblem& problem, const Question& ask)
    : ask_(ask), row_of_(problem.kinds(), -1) {
    for (std::size_t k = 0; k < problem.kinds(); ++k) {
        if (ask.wanted[k] <= 0) continue;
        row_of_[k] = kinds_++;
        kind_of_.push_back(static_cast<int>(k));
    }
    rows_ = kinds_ + static_cast<int>(problem.sticks.size());
    right_side_.resize(rows_);
    // A trace more than is wanted, differently in each row, keeps pivots from standing still.
    for (int r = 0; r < kinds_; ++r) {
        right_side_[r] = ask.wanted[static_cast<std::size_t>(kind_of_[static_cast<std::size_t>(r)])] +
                         1e-7 * (1 + (r * 7919) % 101 / 101.0);
    }
    for (int j = kinds_; j < rows_; ++j)
        right_side_[j] = ask.sticks[static_cast<std::size_t>(j - kinds_)] + 1e-7;
    inverse_ = Eigen::MatrixXd::Identity(rows_, rows_);
    amount_ = right_side_;
    for (int r = 0; r < rows_; ++r) {
        basis_.push_back({r < kinds_ ? Variable::Is::shortage : Variable::Is::spare, r});
    }
    reprice({});
}

Eigen::VectorXd CuttingLp::Simplex::column(const Variable& variable, const FillingPool& pool) const {
    Eigen::VectorXd out = Eigen::VectorXd::Zero(rows_);
    if (variable.is != Variable::Is::filling) {
        out[variable.index] = variable.is == Variable::Is::surplus ? -1 : 1;
        return out;
    }
    const Filling& filling = pool[static_cast<std::size_t>(variable.index)];
    for (const auto& [kind, count] : filling.pieces) {
        const int row = row_of_[static_cast<std::size_t>(kind)];
        if (row >= 0) out[row] = std::min(count, ask_.wanted[static_cast<std::size_t>(kind)]);
    }
    out[kinds_ + filling.stick] = 1;
    return out;
}

double CuttingLp::Simplex::cost(const Variable& variable, const FillingPool& pool) const {
    if (variable.is == Variable::Is::filling) {
        return ask_
            .stick_cost[static_cast<std::size_t>(pool[static_cast<std::size_t>(variable.index)].stick)];
    }
    if (variable.is != Variable::Is::shortage) return 0;
    return ask_.shortage_cost[static_cast<std::size_t>(kind_of_[static_cast<std::size_t>(variable.index)])];
}

void CuttingLp::Simplex::reprice(const FillingPool& pool) {
    Eigen::RowVectorXd costs(rows_);
    for (int r = 0; r < rows_; ++r) costs[r] = cost(basis_[static_cast<std::size_t>(r)], pool);
    price_ = costs * inverse_;
}

void CuttingLp::Simplex::refresh(const FillingPool& pool) {
    Eigen::MatrixXd basis(rows_, rows_);
    for (int r = 0; r < rows_; ++r) basis.col(r) = column(basis_[static_cast<std::size_t>(r)], pool);
    inverse_ = basis.partialPivLu().inverse();
    amount_ = (inverse_ * right_side_).cwiseMax(0);
}

double CuttingLp::Simplex::reducedCost(const Filling& filling) const {
    double out = ask_.stick_cost[static_cast<std::size_t>(filling.stick)] - price_[kinds_ + filling.stick];
    for (const auto& [kind, count] : filling.pieces) {
        const int row = row_of_[static_cast<std::size_t>(kind)];
        if (row >= 0) out -= price_[row] * std::min(count, ask_.wanted[static_cast<std::size_t>(kind)]);
    }
    return out;
}

bool CuttingLp::Simplex::step(const FillingPool& pool) {
    Variable best;
    double lowest = -kNothing;
    const auto consider = [&](double reduced, Variable variable) {
        if (reduced >= lowest) return;
        lowest = reduced;
        best = variable;
    };
    for (int r = 0; r < kinds_; ++r) consider(price_[r], {Variable::Is::surplus, r});
    for (int r = kinds_; r < rows_; ++r) consider(-price_[r], {Variable::Is::spare, r});
    for (std::size_t i = 0; i < pool.size(); ++i)
        consider(reducedCost(pool[i]), {Variable::Is::filling, static_cast<int>(i)});
    return lowest < -kNothing && pivot(best, pool);
}

bool CuttingLp::Simplex::pivot(const Variable& entering, const FillingPool& pool) {
    const Eigen::VectorXd change = inverse_ * column(entering, pool);
    int leaving = -1;
    double least = 0;
    for (int r = 0; r < rows_; ++r) {
        if (change[r] <= 1e-9) continue;
        const double ratio = amount_[r] / change[r];
        const bool better =
            leaving < 0 || ratio < least - 1e-12 || (ratio <= least + 1e-12 && change[r] > change[leaving]);
        if (!better) continue;
        leaving = r;
        least = ratio;
    }
    if (leaving < 0) return false;
    amount_ -= least * change;
    amount_ = amount_.cwiseMax(0);
    amount_[leaving] = least;
    const Eigen::RowVectorXd row = inverse_.row(leaving) / change[leaving];
    inverse_.noalias() -= change * row;
    inverse_.row(leaving) = row;
    basis_[static_cast<std::size_t>(leaving)] = entering;
    if (++pivots_ % kRefresh_pivots == 0) refresh(pool);
    reprice(pool);
    return true;
}

double CuttingLp::Simplex::shortage() const {
    double total = 0;
    for (int r = 0; r < rows_; ++r) {
        const Variable& variable = basis_[static_cast<std::size_t>(r)];
        if (variable.is == Variable::Is::shortage) total += amount_[r] * cost(variable, {});
    }
    return total;
}

double CuttingLp::Simplex::value(const FillingPool& pool) const {
    double total = 0;
    for (int r = 0; r < rows_; ++r) total += amount_[r] * cost(basis_[static_cast<std::size_t>(r)], pool);
    return total;
}

std::vector<std::pair<int, double>> CuttingLp::Simplex::used() const {
    std::vector<std::pair<int, double>> out;
    for (int r = 0; r < rows_; ++r) {
        const Variable& variable = basis_[static_cast<std::size_t>(r)];
        if (variable.is == Variable::Is::filling && amount_[r] > 1e-6)
            out.emplace_back(variable.index, amount_[r]);
    }
    return out;
}

/// What no plan costs less than: what is owned is used up first, the rest bought at the best rate.
double CuttingLp::leastBy(const Cut& cut) const {
    auto missing = static_cast<double>(cut.worth);
    double rate = std::numeric_limits<double>::infinity();
    for (std::size_t j = 0; j < problem_.sticks.size(); ++j) {
        const CutProblem::Stick& stick = problem_.sticks[j];
        const auto most = static_cast<double>(cut.most[j]);
        if (stick.owned != CutProblem::kBought) {
            missing -= most * stick.owned;
        } else if (most > 0) {
            rate = std::min(rate, static_cast<double>(stick.cost) / most);
        }
    }
    return missing > 0 && std::isfinite(rate) ? missing * rate : 0;
}

FractionalPlan CuttingLp::solve(const Question& ask, FillingPool& pool, Effort& effort) {
    Simplex simplex(problem_, ask);
    FractionalPlan plan;
    const std::int64_t pivot_steps = static_cast<std::int64_t>(problem_.kinds() * problem_.kinds() / 500 + 1);
    std::vector<double> prices(problem_.kinds());
    while (!effort.spent() && !simplex.stuck()) {
        effort.use(pivot_steps + static_cast<std::int64_t>(pool.size() / 64));
        if (ask.enough && simplex.shortage() < kEnough) break;
        if (simplex.step(pool)) continue;
        // Nothing in the pool helps: look for a filling that does, at prices in whole numbers.
        for (std::size_t k = 0; k < prices.size(); ++k) prices[k] = std::max(0.0, simplex.price(k));
        const double most = table_.mostOf(prices, ask.limits);
        const double scale = most > 0 ? kLargest / most : 1;
        std::vector<std::int32_t> whole(prices.size());
        Cut cut;
        for (std::size_t k = 0; k < prices.size(); ++k) {
            whole[k] = static_cast<std::int32_t>(prices[k] * scale);
            cut.weight.push_back(whole[k]);
            cut.worth += std::int64_t{whole[k]} * ask.wanted[k];
        }
        table_.price(whole, ask.limits, effort);
        bool helped = false;
        for (std::size_t j = 0; j < problem_.sticks.size(); ++j) {
            // Fillings in use are worth just what their stick costs; only more than that helps.
            const double pays = ask.stick_cost[j] - simplex.stickPrice(j);
            const auto floor = static_cast<std::int64_t>(std::max(0.0, pays) * scale * (1 + 1e-9) + 16);
            BestFilling best = table_.best(problem_.sticks[j].room, floor, effort);
            cut.most.push_back(best.bound);
            Filling filling{static_cast<int>(j), std::move(best.pieces)};
            if (filling.pieces.empty() || simplex.reducedCost(filling) >= -kNothing) continue;
            pool.push_back(std::move(filling));
            helped = true;
        }
        plan.cut = std::move(cut);
        if (!helped || (ask.enough && plan.cut.rulesOut(*ask.enough, ask.wanted))) break;
        if (ask.costs &&
            std::ranges::lower_bound(*ask.costs, leastBy(plan.cut) - kNoCost) ==
                std::ranges::lower_bound(*ask.costs, ask.dearest * simplex.value(pool) - kNoCost))
            break;
    }
    plan.shortage = simplex.shortage();
    plan.used = simplex.used();
    return plan;
}

FractionalPlan CuttingLp::leastCost(const std::vector<std::int64_t>& costs, FillingPool& pool,
                                    Effort& effort) {
    Question ask;
    if (!costs.empty()) ask.costs = &costs;
    ask.wanted = ask.limits = problem_.wanted;
    const auto dearest = std::max(
        1.0,
        static_cast<double>(std::max_element(problem_.sticks.begin(), problem_.sticks.end(),
                                             [](const auto& a, const auto& b) { return a.cost < b.cost; })
                                ->cost));
    ask.dearest = dearest;
    for (const CutProblem::Stick& stick : problem_.sticks) {
        ask.stick_cost.push_back(static_cast<double>(stick.cost) / dearest);
        ask.sticks.push_back(stick.owned == CutProblem::kBought ? 1e6 : stick.owned);
    }
    ask.shortage_cost.assign(problem_.kinds(), 2.0);  // one stick each can always be had for less
    return solve(ask, pool, effort);
}

FractionalPlan CuttingLp::leastShortage(const StickCounts& counts, const std::vector<int>& wanted,
                                        const std::vector<int>& limits, FillingPool& pool, Effort& effort) {
    Question ask;
    ask.wanted = wanted;
    ask.limits = limits;
    ask.stick_cost.assign(problem_.sticks.size(), 0.0);
    ask.sticks.assign(counts.begin(), counts.end());
    for (std::int64_t length : problem_.length) {
        ask.shortage_cost.push_back(static_cast<double>(length) /
                                    static_cast<double>(problem_.length.front()));
    }
    ask.enough = &counts;
    return solve(ask, pool, effort);
}

}  // namespace hoopwright::nesting
