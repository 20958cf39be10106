#include "core/shop/nest.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "core/base/text.h"
#include "core/shop/nest_greedy.h"
#include "core/shop/nest_walk.h"

namespace hoopwright {

namespace {

using nesting::CutProblem;
using nesting::Filling;

constexpr double kSteps_per_mm = 1e5;
// A saw does not know a micrometre; without it, inch sizes that fill a stick exactly would not fit.
constexpr double kFits_mm = 1e-3;
constexpr double kLongest_mm = 1e6;

std::int64_t steps(double mm) {
    return std::llround(mm * kSteps_per_mm);
}

bool goodLength(double mm) {
    return mm > 0 && mm <= kLongest_mm;
}

/// The whole-number problem, and the way back to what was asked.
struct Translated {
    CutProblem problem;
    std::vector<std::vector<int>> pieces_of_kind;
    std::vector<int> asked_stick;  ///< for each stick of the problem
    bool by_price = false, by_count = false;
};

std::string wrongInput(const std::vector<Piece1d>& pieces, const std::vector<StickLength>& sticks,
                       double kerf_mm) {
    if (!(kerf_mm >= 0 && kerf_mm <= kLongest_mm))
        return "The kerf is not zero or more; give the width of the saw cut.";
    if (pieces.empty()) return "";
    if (sticks.empty()) return "There is no stick length to cut from; give one in the stock list.";
    double longest = 0;
    for (const StickLength& stick : sticks) {
        if (!goodLength(stick.length_mm))
            return "A stick length is not above zero; put it right in the stock list.";
        longest = std::max(longest, stick.length_mm);
    }
    for (const Piece1d& piece : pieces) {
        if (!goodLength(piece.length_mm))
            return piece.name + " has no length above zero, so it cannot be cut.";
        if (piece.length_mm > longest + kFits_mm / 2) {
            return piece.name + " is " + fixed(piece.length_mm, 1) + " mm long and the longest stick is " +
                   fixed(longest, 1) + " mm; get longer sticks.";
        }
    }
    return "";
}

/// Sticks worth buying: of two, never the shorter one that costs no less.
void addSticks(Translated& out, const std::vector<StickLength>& sticks, double kerf_mm) {
    out.by_price = std::all_of(sticks.begin(), sticks.end(),
                               [](const StickLength& s) { return s.price > 0 && s.price < 1e9; });
    std::vector<int> order(sticks.size());
    std::iota(order.begin(), order.end(), 0);
    const auto cost = [&](int i) {
        const StickLength& stick = sticks[static_cast<std::size_t>(i)];
        return std::llround(100 * (out.by_price ? stick.price : stick.length_mm));
    };
    std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
        const double la = sticks[static_cast<std::size_t>(a)].length_mm,
                     lb = sticks[static_cast<std::size_t>(b)].length_mm;
        return la != lb ? la > lb : cost(a) < cost(b);
    });
    for (int i : order) {
        if (!out.problem.sticks.empty() && cost(i) >= out.problem.sticks.back().cost) continue;
        const double length = sticks[static_cast<std::size_t>(i)].length_mm;
        out.problem.sticks.push_back({steps(length + kerf_mm) + steps(kFits_mm), cost(i)});
        out.asked_stick.push_back(i);
    }
    out.by_count = std::all_of(sticks.begin(), sticks.end(),
                               [&](const StickLength& s) { return s.length_mm == sticks[0].length_mm; });
    if (out.by_count) out.problem.sticks[0].cost = 1;
}

Translated translate(const std::vector<Piece1d>& pieces, const std::vector<StickLength>& sticks,
                     double kerf_mm) {
    Translated out;
    addSticks(out, sticks, kerf_mm);
    std::map<std::int64_t, std::vector<int>, std::greater<>> kinds;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        kinds[steps(pieces[i].length_mm + kerf_mm)].push_back(static_cast<int>(i));
    }
    for (auto& [length, members] : kinds) {
        out.problem.length.push_back(length);
        out.problem.wanted.push_back(static_cast<int>(members.size()));
        out.pieces_of_kind.push_back(std::move(members));
    }
    return out;
}

NestPlan written(const Translated& from, const std::vector<Filling>& fillings,
                 const std::vector<Piece1d>& pieces, const std::vector<StickLength>& sticks, double kerf_mm) {
    NestPlan plan;
    std::vector<std::size_t> next(from.pieces_of_kind.size(), 0);
    for (const Filling& filling : fillings) {
        CutStick stick;
        stick.stick = from.asked_stick[static_cast<std::size_t>(filling.stick)];
        const StickLength& bought = sticks[static_cast<std::size_t>(stick.stick)];
        stick.left_mm = bought.length_mm;
        for (const auto& [kind, count] : filling.pieces) {
            const auto k = static_cast<std::size_t>(kind);
            for (int i = 0; i < count; ++i) {
                const int piece = from.pieces_of_kind[k][next[k]++];
                stick.pieces.push_back(piece);
                stick.left_mm -= pieces[static_cast<std::size_t>(piece)].length_mm + kerf_mm;
            }
        }
        stick.left_mm = std::max(0.0, stick.left_mm);
        plan.bought_mm += bought.length_mm;
        if (bought.price > 0) plan.price += bought.price;
        plan.sticks.push_back(std::move(stick));
    }
    std::stable_sort(plan.sticks.begin(), plan.sticks.end(), [&](const CutStick& a, const CutStick& b) {
        if (a.stick != b.stick) return a.stick < b.stick;
        return a.left_mm < b.left_mm;
    });
    return plan;
}

}  // namespace

Expected<NestPlan> nest(const std::vector<Piece1d>& pieces, const std::vector<StickLength>& sticks,
                        double kerf_mm, long effort) {
    std::string wrong = wrongInput(pieces, sticks, kerf_mm);
    if (!wrong.empty()) return Reason{std::move(wrong)};
    if (pieces.empty()) {
        NestPlan nothing;
        nothing.proved = true;
        return nothing;
    }
    const Translated asked = translate(pieces, sticks, kerf_mm);
    const nesting::Walked walked = nesting::walk(asked.problem, effort);
    NestPlan plan = written(asked, walked.plan, pieces, sticks, kerf_mm);
    plan.proved = walked.proved;
    plan.lower_bound =
        static_cast<int>(std::min<std::int64_t>(walked.lower_bound, std::numeric_limits<int>::max()));
    return plan;
}

}  // namespace hoopwright
