#include "core/shop/nest_walk.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <queue>

#include "core/shop/nest_greedy.h"
#include "core/shop/nest_pack.h"

namespace hoopwright::nesting {

namespace {

constexpr std::size_t kMost_costs = 20'000;

/// A set of sticks on the way; more of stick `next` and those after it may be added.
struct Stop {
    std::int64_t at_least = 0;  ///< cost of the cheapest set that can still come of it
    std::int64_t cost = 0;
    std::int64_t room = 0;
    StickCounts counts;
    std::size_t next = 0;
};

struct Dearer {
    bool operator()(const Stop& a, const Stop& b) const {
        if (a.at_least != b.at_least) return a.at_least > b.at_least;
        if (a.room != b.room) return a.room > b.room;
        return a.counts < b.counts;
    }
};

class Walk {
public:
    Walk(const CutProblem& problem, std::int64_t effort)
        : problem_(problem),
          bought_(problem.boughtSticks()),
          pieces_(problem.pieces()),
          lp_(problem),
          effort_{effort} {}
    Walked run();

private:
    void setOut(std::int64_t greedy);
    void costsFrom(std::size_t next, std::int64_t cost, std::int64_t missing, std::int64_t most);
    void add(Stop stop);
    bool ruledOut(const StickCounts& counts) const;
    bool tooMany(const StickCounts& counts) const;

    const CutProblem& problem_;
    std::size_t bought_;
    int pieces_;
    CuttingLp lp_;
    FillingPool pool_;
    std::vector<Cut> cuts_;
    Effort effort_;
    std::vector<std::int64_t> costs_;  ///< of every set long enough for all pieces; empty: too many to list
    std::priority_queue<Stop, std::vector<Stop>, Dearer> ahead_;
};

bool Walk::ruledOut(const StickCounts& counts) const {
    return std::any_of(cuts_.begin(), cuts_.end(), [&](const Cut& cut) { return cut.rulesOut(counts); });
}

/// Enters a set with what must still be bought for it by the first cut, at the best rate of the sticks
/// allowed.
void Walk::add(Stop stop) {
    const Cut& cut = cuts_.front();
    std::int64_t missing = cut.worth;
    for (std::size_t j = 0; j < stop.counts.size(); ++j) missing -= cut.most[j] * stop.counts[j];
    stop.at_least = stop.cost;
    if (missing > 0) {
        std::int64_t least = std::numeric_limits<std::int64_t>::max();
        for (std::size_t j = stop.next; j < bought_; ++j) {
            if (cut.most[j] <= 0) continue;
            // Rounded up; costs are whole. The product may pass 64 bits, hence long double, taken a little
            // low.
            const long double more = static_cast<long double>(missing) *
                                     static_cast<long double>(problem_.sticks[j].cost) /
                                     static_cast<long double>(cut.most[j]);
            least = std::min(least, static_cast<std::int64_t>(std::ceil(more * (1 - 1e-15L) - 1e-9L)));
        }
        if (least == std::numeric_limits<std::int64_t>::max()) return;
        stop.at_least += std::max<std::int64_t>(least, 0);
    }
    ahead_.push(std::move(stop));
}

/// Lists what sets cost that are long enough, up to `most`.
void Walk::costsFrom(std::size_t next, std::int64_t cost, std::int64_t missing, std::int64_t most) {
    if (costs_.size() > kMost_costs) return;
    if (missing <= 0) {
        costs_.push_back(cost);
        return;
    }
    if (next == bought_) return;
    const CutProblem::Stick& stick = problem_.sticks[next];
    for (std::int64_t count = 0; cost + count * stick.cost <= most; ++count) {
        costsFrom(next + 1, cost + count * stick.cost, missing - count * stick.room, most);
        if (missing - count * stick.room <= 0) break;
    }
}

void Walk::setOut(std::int64_t greedy) {
    std::int64_t missing = 0;
    for (std::size_t k = 0; k < problem_.kinds(); ++k) missing += problem_.length[k] * problem_.wanted[k];
    for (std::size_t j = bought_; j < problem_.sticks.size(); ++j)
        missing -= problem_.sticks[j].room * problem_.sticks[j].owned;
    if (greedy < std::numeric_limits<std::int64_t>::max()) costsFrom(0, 0, missing, greedy);
    if (costs_.size() > kMost_costs) costs_.clear();
    std::ranges::sort(costs_);
    const FractionalPlan fractional = lp_.leastCost(costs_, pool_, effort_);
    Cut length;
    length.weight = problem_.length;
    for (const CutProblem::Stick& stick : problem_.sticks) length.most.push_back(stick.room);
    for (std::size_t k = 0; k < problem_.kinds(); ++k)
        length.worth += problem_.length[k] * problem_.wanted[k];
    if (!fractional.cut.weight.empty()) cuts_.push_back(fractional.cut);
    cuts_.push_back(std::move(length));
    Stop first;
    for (const CutProblem::Stick& stick : problem_.sticks) {
        first.counts.push_back(std::max(0, stick.owned));
        first.room += stick.room * first.counts.back();
    }
    add(std::move(first));
}

/// No plan has a stick for each piece and more.
bool Walk::tooMany(const StickCounts& counts) const {
    int sticks = 0;
    for (std::size_t j = 0; j < bought_; ++j) sticks += counts[j];
    return sticks > pieces_;
}

Walked Walk::run() {
    Walked out;
    out.plan = greedyPlan(problem_);
    constexpr std::int64_t none = std::numeric_limits<std::int64_t>::max();
    const std::int64_t greedy = out.plan.empty() ? none : costOf(problem_, out.plan);
    if (problem_.sticks.size() == 1 && bought_ == 1) {
        out.lower_bound = leastSticks(problem_) * problem_.sticks[0].cost;
        out.proved = out.lower_bound >= greedy;
        if (out.proved) return out;
    }
    setOut(greedy);
    Packer packer(problem_, lp_, pool_, cuts_);
    std::int64_t undecided = none;
    bool all_tried = true;
    while (!ahead_.empty()) {
        const Stop stop = ahead_.top();
        ahead_.pop();
        out.lower_bound = std::max(out.lower_bound, std::min(stop.at_least, undecided));
        if (stop.at_least >= greedy) break;
        if (effort_.spent()) {
            undecided = std::min(undecided, stop.at_least);
            all_tried = false;
            break;
        }
        effort_.use(4);
        if (stop.cost == stop.at_least && !ruledOut(stop.counts)) {
            const Packer::Outcome outcome = packer.pack(stop.counts, effort_);
            if (outcome == Packer::Outcome::packed) {
                out.plan = packer.plan();
                break;
            }
            if (outcome == Packer::Outcome::undecided) undecided = std::min(undecided, stop.cost);
        }
        for (std::size_t j = stop.next; j < bought_; ++j) {
            Stop more{0, stop.cost + problem_.sticks[j].cost, stop.room + problem_.sticks[j].room,
                      stop.counts, j};
            ++more.counts[j];
            if (!tooMany(more.counts)) add(std::move(more));
        }
    }
    if (out.plan.empty()) {
        out.proved = all_tried && undecided == none;
        return out;
    }
    const std::int64_t cost = costOf(problem_, out.plan);
    out.lower_bound = std::min({out.lower_bound, undecided, cost});
    if (undecided >= cost) out.lower_bound = cost;
    out.proved = out.lower_bound == cost;
    return out;
}

}  // namespace

Walked walk(const CutProblem& problem, std::int64_t effort) {
    return Walk(problem, effort).run();
}

}  // namespace hoopwright::nesting
