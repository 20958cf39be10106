#include "core/shop/nest_greedy.h"

#include <algorithm>
#include <map>

namespace hoopwright::nesting {

namespace {

struct OpenStick {
    int owned = CutProblem::kBought;  ///< which of the sticks it is, if it is owned
    std::int64_t left = 0;
    ApartKeeper keeper;
    std::map<int, int> pieces = {};
};

/// Puts pieces into what is open, opening more.
class Pouring {
public:
    /// @param stick     which is bought, where it is long enough
    /// @param best_fit  the fullest stick that takes the piece, not the first
    Pouring(const CutProblem& problem, std::size_t stick, bool best_fit)
        : problem_(problem), stick_(stick), best_fit_(best_fit) {
        for (std::size_t j = problem.boughtSticks(); j < problem.sticks.size(); ++j) {
            const int each = static_cast<int>(j);
            open_.insert(open_.end(), static_cast<std::size_t>(problem.sticks[j].owned),
                         OpenStick{each, problem.sticks[j].room, ApartKeeper(problem, each)});
        }
    }
    bool all() {
        for (std::size_t k = 0; k < problem_.kinds(); ++k)
            for (int i = 0; i < problem_.wanted[k]; ++i)
                if (!pour(k)) return false;
        return true;
    }
    const std::vector<OpenStick>& open() const { return open_; }

private:
    bool pour(std::size_t kind) {
        const std::int64_t length = problem_.length[kind];
        OpenStick* chosen = nullptr;
        for (OpenStick& stick : open_) {
            if (stick.left < length || (chosen && stick.left >= chosen->left)) continue;
            if (stick.keeper.allowed(kind, 1) == 0) continue;
            chosen = &stick;
            if (!best_fit_) break;
        }
        if (!chosen) {
            if (problem_.boughtSticks() == 0) return false;
            // A piece too long for this stick opens the longest.
            const std::size_t opened = length > problem_.sticks[stick_].room ? longest() : stick_;
            if (length > problem_.sticks[opened].room) return false;
            open_.push_back({CutProblem::kBought, problem_.sticks[opened].room,
                             ApartKeeper(problem_, static_cast<int>(opened))});
            chosen = &open_.back();
        }
        chosen->left -= length;
        chosen->keeper.take(kind);
        ++chosen->pieces[static_cast<int>(kind)];
        return true;
    }
    std::size_t longest() const {
        std::size_t best = 0;
        for (std::size_t j = 1; j < problem_.boughtSticks(); ++j)
            if (problem_.sticks[j].room > problem_.sticks[best].room) best = j;
        return best;
    }

    const CutProblem& problem_;
    std::size_t stick_;
    bool best_fit_;
    std::vector<OpenStick> open_;
};

int cheapestFor(const CutProblem& problem, std::int64_t needed) {
    int best = -1;
    for (std::size_t j = 0; j < problem.boughtSticks(); ++j) {
        const CutProblem::Stick& stick = problem.sticks[j];
        if (stick.room < needed) continue;
        if (best < 0 || stick.cost < problem.sticks[static_cast<std::size_t>(best)].cost)
            best = static_cast<int>(j);
    }
    return best;
}

std::vector<Filling> closed(const CutProblem& problem, const std::vector<OpenStick>& open) {
    std::vector<Filling> plan;
    plan.reserve(open.size());
    for (const OpenStick& stick : open) {
        if (stick.pieces.empty()) continue;
        std::int64_t needed = 0;
        for (const auto& [kind, count] : stick.pieces)
            needed += problem.length[static_cast<std::size_t>(kind)] * count;
        const bool bought = stick.owned == CutProblem::kBought;
        plan.push_back({bought ? cheapestFor(problem, needed) : stick.owned,
                        {stick.pieces.begin(), stick.pieces.end()}});
    }
    return plan;
}

}  // namespace

std::int64_t costOf(const CutProblem& problem, const std::vector<Filling>& plan) {
    std::int64_t cost = 0;
    for (const Filling& filling : plan) cost += problem.sticks[static_cast<std::size_t>(filling.stick)].cost;
    return cost;
}

std::vector<Filling> greedyPlan(const CutProblem& problem) {
    std::vector<Filling> best;
    for (std::size_t j = 0; j < std::max<std::size_t>(1, problem.boughtSticks()); ++j) {
        for (bool best_fit : {false, true}) {
            Pouring pouring(problem, j, best_fit);
            if (!pouring.all()) continue;
            std::vector<Filling> plan = closed(problem, pouring.open());
            if (best.empty() || costOf(problem, plan) < costOf(problem, best)) best = std::move(plan);
        }
    }
    return best;
}

int leastSticks(const CutProblem& problem) {
    const std::int64_t room = problem.longestRoom();
    std::vector<std::int64_t> thresholds{0};
    for (std::int64_t length : problem.length) {
        if (2 * length <= room) thresholds.push_back(length);
    }
    std::int64_t best = 0;
    for (std::int64_t threshold : thresholds) {
        std::int64_t alone = 0, long_sum = 0, short_sum = 0, halves = 0;
        for (std::size_t k = 0; k < problem.kinds(); ++k) {
            const std::int64_t length = problem.length[k], count = problem.wanted[k];
            if (length > room - threshold) {
                alone += count;
            } else if (2 * length > room) {
                halves += count;
                long_sum += length * count;
            } else if (length >= threshold) {
                short_sum += length * count;
            }
        }
        const std::int64_t over = short_sum - (halves * room - long_sum);
        best = std::max(best, alone + halves + std::max<std::int64_t>(0, (over + room - 1) / room));
    }
    return static_cast<int>(best);
}

}  // namespace hoopwright::nesting
