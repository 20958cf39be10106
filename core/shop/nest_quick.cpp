#include "core/shop/nest_quick.h"

#include <algorithm>
#include <array>
#include <limits>
#include <numeric>

namespace hoopwright::nesting {

namespace {

constexpr int kLook_steps = 4'000;  ///< of the search for one stick
constexpr int kSteps_each = 50;     ///< of them are a step of effort

/// How much of its share of the loss a stick may take, and which sticks come first.
struct Way {
    double share;
    bool longest_first;
};
constexpr std::array<Way, 10> kWays = {{{1.0, true},
                                        {1.0, false},
                                        {0.5, true},
                                        {0.5, false},
                                        {0.2, true},
                                        {0.2, false},
                                        {1.6, true},
                                        {1.6, false},
                                        {0.0, true},
                                        {0.0, false}}};

class Quick {
public:
    Quick(const CutProblem& problem, const Rest& rest, Effort& effort)
        : problem_(problem), rest_(rest), effort_(effort), taken_(problem.kinds(), 0) {}

    bool all(const Way& way) {
        plan_.clear();
        wanted_ = rest_.wanted;
        std::vector<int> order;
        std::int64_t slack = 0;
        for (std::size_t j = 0; j < rest_.sticks.size(); ++j) {
            order.insert(order.end(), static_cast<std::size_t>(rest_.sticks[j]), static_cast<int>(j));
            slack += problem_.sticks[j].room * rest_.sticks[j];
        }
        for (std::size_t k = 0; k < wanted_.size(); ++k)
            slack -= problem_.length[k] * std::max(0, wanted_[k]);
        std::ranges::stable_sort(order, [&](int a, int b) {
            const std::int64_t one = roomOf(a), other = roomOf(b);
            return way.longest_first ? one > other : one < other;
        });
        for (std::size_t i = 0; i < order.size() && slack >= 0; ++i) {
            if (allCut()) return true;
            const auto left = static_cast<double>(order.size() - i);
            const auto may_lose = static_cast<std::int64_t>(way.share * static_cast<double>(slack) / left);
            slack -= fill(order[i], std::min(may_lose, slack));
        }
        return slack >= 0 && allCut();
    }
    std::vector<Filling> take() { return std::move(plan_); }

private:
    std::int64_t roomOf(int stick) const { return problem_.sticks[static_cast<std::size_t>(stick)].room; }
    bool allCut() const {
        return std::ranges::all_of(wanted_, [](int count) { return count <= 0; });
    }

    /// What the stick loses.
    std::int64_t fill(int stick, std::int64_t may_lose) {
        // Pieces left, each kind once, and what all of a kind and those after it are long.
        kinds_.clear();
        after_.clear();
        for (std::size_t k = 0; k < wanted_.size(); ++k)
            if (wanted_[k] > 0 && problem_.length[k] <= roomOf(stick)) kinds_.push_back(k);
        after_.assign(kinds_.size() + 1, 0);
        for (std::size_t i = kinds_.size(); i-- > 0;)
            after_[i] = after_[i + 1] + problem_.length[kinds_[i]] * wanted_[kinds_[i]];
        enough_ = may_lose;
        least_ = std::numeric_limits<std::int64_t>::max();
        steps_ = 0;
        std::ranges::fill(taken_, 0);
        best_.clear();
        const ApartKeeper keeper(problem_, stick);
        look(0, roomOf(stick), keeper);
        effort_.use(steps_ / kSteps_each + 1);
        Filling filling{stick, {}};
        for (const auto& [kind, count] : best_) {
            wanted_[static_cast<std::size_t>(kind)] -= count;
            filling.pieces.emplace_back(kind, count);
        }
        if (filling.pieces.empty()) return roomOf(stick);
        plan_.push_back(std::move(filling));
        return least_;
    }

    /// True: it is good enough, or was looked for long enough.
    bool look(std::size_t i, std::int64_t room, const ApartKeeper& keeper) {
        if (++steps_ > kLook_steps) return true;
        while (i < kinds_.size() && problem_.length[kinds_[i]] > room) ++i;
        if (room < least_) {
            least_ = room;
            best_.clear();
            for (std::size_t k = 0; k < taken_.size(); ++k)
                if (taken_[k] > 0) best_.emplace_back(static_cast<int>(k), taken_[k]);
            if (least_ <= enough_) return true;
        }
        if (i == kinds_.size() || room - after_[i] >= least_) return false;
        const std::size_t kind = kinds_[i];
        const auto fits = static_cast<int>(
            std::min<std::int64_t>(keeper.allowed(kind, wanted_[kind]), room / problem_.length[kind]));
        for (int count = fits; count >= 1; --count) {
            ApartKeeper with = keeper;
            with.take(kind);
            taken_[kind] = count;
            const bool done = look(i + 1, room - count * problem_.length[kind], with);
            taken_[kind] = 0;
            if (done) return true;
        }
        // The longest piece that may be cut from it is.
        return (i > 0 || fits < 1) && look(i + 1, room, keeper);
    }

    const CutProblem& problem_;
    const Rest& rest_;
    Effort& effort_;
    std::vector<int> wanted_, taken_;
    std::vector<std::size_t> kinds_;
    std::vector<std::int64_t> after_;
    std::int64_t enough_ = 0, least_ = 0;
    int steps_ = 0;
    std::vector<std::pair<int, int>> best_;
    std::vector<Filling> plan_;
};

}  // namespace

std::vector<Filling> quickPlan(const CutProblem& problem, const Rest& rest, Effort& effort) {
    Quick quick(problem, rest, effort);
    for (const Way& way : kWays) {
        if (effort.spent()) break;
        if (quick.all(way)) return quick.take();
    }
    return {};
}

}  // namespace hoopwright::nesting
