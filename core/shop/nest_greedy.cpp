#include "core/shop/nest_greedy.h"

#include <algorithm>
#include <map>

namespace hoopwright::nesting {

namespace {

struct OpenStick {
    std::int64_t left = 0;
    std::map<int, int> pieces;
};

/// @param best_fit  the fullest stick that takes the piece, not the first
std::vector<OpenStick> pour(const CutProblem& problem, std::int64_t room, bool best_fit) {
    std::vector<OpenStick> open;
    for (std::size_t k = 0; k < problem.kinds(); ++k) {
        const std::int64_t length = problem.length[k];
        for (int i = 0; i < problem.wanted[k]; ++i) {
            OpenStick* chosen = nullptr;
            for (OpenStick& stick : open) {
                if (stick.left < length || (chosen && stick.left >= chosen->left)) continue;
                chosen = &stick;
                if (!best_fit) break;
            }
            if (!chosen) {
                // A piece too long for this stick opens the next that takes it.
                std::int64_t opened = room;
                if (length > room) opened = problem.longestRoom();
                open.push_back({opened, {}});
                chosen = &open.back();
            }
            chosen->left -= length;
            ++chosen->pieces[static_cast<int>(k)];
        }
    }
    return open;
}

int cheapestFor(const CutProblem& problem, std::int64_t needed) {
    int best = -1;
    for (std::size_t j = 0; j < problem.sticks.size(); ++j) {
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
        std::int64_t needed = 0;
        for (const auto& [kind, count] : stick.pieces)
            needed += problem.length[static_cast<std::size_t>(kind)] * count;
        plan.push_back({cheapestFor(problem, needed), {stick.pieces.begin(), stick.pieces.end()}});
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
    for (const CutProblem::Stick& stick : problem.sticks) {
        for (bool best_fit : {false, true}) {
            std::vector<Filling> plan = closed(problem, pour(problem, stick.room, best_fit));
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
