#include "core/shop/bend_order.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <numbers>
#include <set>

#include "core/base/text.h"
#include "core/shop/bender_pose.h"

namespace hoopwright {
namespace {

using std::numbers::pi;

constexpr double kFlat_rad = 0.05 * pi / 180;
constexpr int kMostTried = 8;

double wrapped(double rad) {
    const double turn = std::remainder(rad, 2 * pi);
    return turn <= -pi + 1e-12 ? turn + 2 * pi : turn;
}

/// Rotation of the bend plane from bend `from` to bend `to`, right-handed about the way from A to B.
double between(const BendTable& table, int from, int to) {
    double sum = 0;
    for (int i = std::min(from, to) + 1; i <= std::max(from, to); ++i)
        sum += table.rows[static_cast<std::size_t>(i)].rotation_rad;
    return from < to ? sum : -sum;
}

/// The tube is rolled the other way than the planes lie; swung end for end, its plane must come to lie over.
double turnBefore(const BendTable& table, const BendStep& was, const BendStep& now) {
    const double planes = between(table, was.bend, now.bend);
    return wrapped(now.end_for_end ? pi - planes : -planes);
}

class Planner {
public:
    explicit Planner(const BendJob& job) : job_(job), count_(static_cast<int>(job.table.rows.size())) {}

    BendOrder plan() {
        BendOrder out;
        const bool is_flat = flat(job_.table);
        std::vector<std::vector<int>> wishes;
        if (is_flat && count_ > 1) wishes.push_back(middleOut());
        std::vector<int> forth, back;
        for (int i = 0; i < count_; ++i) {
            forth.push_back(i);
            back.insert(back.begin(), i);
        }
        wishes.push_back(forth);
        wishes.push_back(back);
        for (const std::vector<int>& wish : wishes) {
            if (!makes(wish)) continue;
            out.middle_out = is_flat && count_ > 1 && &wish == &wishes.front();
            out.steps = steps_;
            break;
        }
        if (out.steps.empty() && count_ <= kMostTried && anyOrder()) out.steps = steps_;
        if (out.steps.empty()) {
            for (const int bend : wishes.front()) out.steps.push_back({.bend = bend});
            out.middle_out = is_flat && count_ > 1;
        }
        finish(out.steps);
        return out;
    }

private:
    std::vector<int> middleOut() const {
        std::vector<int> order;
        for (int i = 0; i < count_; ++i) order.push_back(i);
        const double middle = 0.5 * (count_ - 1);
        std::ranges::stable_sort(order, {}, [&](int i) { return std::abs(i - middle); });
        return order;
    }

    bool can(int bend, bool a_leads, unsigned made) {
        const auto key = std::pair{made, 2 * bend + (a_leads ? 1 : 0)};
        if (const auto known = known_.find(key); known != known_.end()) return known->second;
        return known_[key] = bendTroubles(job_, bend, a_leads, made).empty();
    }

    /// In that order, with as few turns end for end as it takes.
    bool makes(const std::vector<int>& order) {
        for (int flips = 0; flips < count_; ++flips) {
            steps_.clear();
            if (along(order, 0, flips)) return true;
        }
        return false;
    }
    bool along(const std::vector<int>& order, unsigned made, int flips) {
        if (steps_.size() == order.size()) return true;
        const int bend = order[steps_.size()];
        return step(bend, made, flips, [&](unsigned now, int left) { return along(order, now, left); });
    }
    bool anyOrder() {
        for (int flips = 0; flips < count_; ++flips) {
            steps_.clear();
            dead_.clear();
            if (onwards(0, flips)) return true;
        }
        return false;
    }
    bool onwards(unsigned made, int flips) {
        if (static_cast<int>(steps_.size()) == count_) return true;
        const int lead = steps_.empty() ? 2 : (steps_.back().a_leads ? 1 : 0);
        if (!dead_.insert({made, flips * 3 + lead}).second) return false;
        for (int bend = 0; bend < count_; ++bend) {
            if ((made >> bend & 1u) != 0) continue;
            if (step(bend, made, flips, [&](unsigned now, int left) { return onwards(now, left); }))
                return true;
        }
        return false;
    }
    bool step(int bend, unsigned made, int flips, const std::function<bool(unsigned, int)>& go_on) {
        const bool first = steps_.empty();
        const bool lead = first || steps_.back().a_leads;
        for (const bool a_leads : {lead, !lead}) {
            const bool flip = !first && a_leads != lead;
            if ((flip && flips == 0) || !can(bend, a_leads, made)) continue;
            steps_.push_back({.bend = bend, .a_leads = a_leads, .end_for_end = flip});
            if (go_on(made | 1u << bend, flips - (flip ? 1 : 0))) return true;
            steps_.pop_back();
        }
        return false;
    }

    void finish(std::vector<BendStep>& steps) const {
        unsigned made = 0;
        for (std::size_t i = 0; i < steps.size(); ++i) {
            BendStep& step = steps[i];
            if (i > 0) step.turn_rad = turnBefore(job_.table, steps[i - 1], step);
            step.troubles = bendTroubles(job_, step.bend, step.a_leads, made);
            if (made != 0 && job_.bender) {
                step.leg_bend = nearestMade(step.bend, made);
                step.leg_rises_rad = legRise(job_, step.bend, step.a_leads, made, step.leg_bend);
            }
            made |= 1u << step.bend;
        }
    }
    int nearestMade(int bend, unsigned made) const {
        int best = -1;
        for (int i = 0; i < count_; ++i)
            if ((made >> i & 1u) != 0 && (best < 0 || std::abs(i - bend) < std::abs(best - bend))) best = i;
        return best;
    }

    const BendJob& job_;
    int count_;
    std::vector<BendStep> steps_;
    std::map<std::pair<unsigned, int>, bool> known_;
    std::set<std::pair<unsigned, int>> dead_;
};

}  // namespace

bool BendOrder::feasible() const {
    return std::ranges::all_of(steps, [](const BendStep& step) { return step.troubles.empty(); });
}

bool flat(const BendTable& table) {
    return std::ranges::all_of(table.rows, [](const BendRow& row) {
        const double turn = std::abs(wrapped(row.rotation_rad));
        return turn < kFlat_rad || pi - turn < kFlat_rad;
    });
}

BendOrder bendOrder(const BendJob& job) {
    return Planner(job).plan();
}

}  // namespace hoopwright
