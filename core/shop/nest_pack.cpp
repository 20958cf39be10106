#include "core/shop/nest_pack.h"

#include <algorithm>
#include <cmath>
#include <functional>

namespace hoopwright::nesting {

namespace {

constexpr double kWhole = 1e-4;  ///< round-off of a count of sticks

bool allCut(const std::vector<int>& wanted) {
    return std::all_of(wanted.begin(), wanted.end(), [](int count) { return count <= 0; });
}

int longestWanted(const std::vector<int>& wanted) {
    return static_cast<int>(std::find_if(wanted.begin(), wanted.end(), [](int count) { return count > 0; }) -
                            wanted.begin());
}

bool holds(const Filling& filling, int kind) {
    return std::any_of(filling.pieces.begin(), filling.pieces.end(),
                       [&](const auto& piece) { return piece.first == kind; });
}

std::string keyOf(const Rest& rest) {
    std::string key;
    key.reserve(2 * (rest.wanted.size() + rest.sticks.size()));
    for (const auto& list : {std::cref(rest.wanted), std::cref(rest.sticks)}) {
        for (int count : list.get()) {
            key.push_back(static_cast<char>(count & 0xff));
            key.push_back(static_cast<char>((count >> 8) & 0xff));
        }
    }
    return key;
}

/// All full fillings of one stick that hold its longest piece, longest kinds first, until one is liked.
class Fillings {
public:
    /// @param like  called with each; true stops
    Fillings(const CutProblem& problem, const std::vector<int>& wanted, std::int64_t most_waste,
             std::function<bool(const Filling&)> like)
        : problem_(problem),
          wanted_(wanted),
          most_waste_(most_waste),
          like_(std::move(like)),
          after_(problem.kinds() + 1, 0) {
        for (std::size_t k = problem.kinds(); k-- > 0;)
            after_[k] = after_[k + 1] + problem.length[k] * wanted[k];
        for (std::size_t k = 0; k < problem.kinds(); ++k) {
            if (wanted[k] > 0) shortest_ = static_cast<int>(k);
        }
    }
    bool from(int stick, int longest) {
        filling_ = {stick, {}};
        const auto k = static_cast<std::size_t>(longest);
        const std::int64_t room = problem_.sticks[static_cast<std::size_t>(stick)].room;
        ApartKeeper keeper(problem_, stick);
        const auto fits = std::min<std::int64_t>(keeper.allowed(k, wanted_[k]), room / problem_.length[k]);
        keeper.take(k);
        for (std::int64_t count = fits; count >= 1; --count) {
            filling_.pieces.assign(1, {longest, static_cast<int>(count)});
            if (next(k + 1, room - count * problem_.length[k], keeper)) return true;
        }
        return false;
    }

private:
    bool next(std::size_t kind, std::int64_t room, const ApartKeeper& keeper) {
        if (room - after_[kind] > most_waste_)
            return false;  // not even all that is left would fill it enough
        while (kind < problem_.kinds() &&
               (keeper.allowed(kind, wanted_[kind]) == 0 || problem_.length[kind] > room))
            ++kind;
        if (kind == problem_.kinds()) return full(room, keeper) && like_(filling_);
        const auto fits =
            std::min<std::int64_t>(keeper.allowed(kind, wanted_[kind]), room / problem_.length[kind]);
        for (std::int64_t count = fits; count >= 1; --count) {
            ApartKeeper with = keeper;
            with.take(kind);
            filling_.pieces.emplace_back(static_cast<int>(kind), static_cast<int>(count));
            const bool liked = next(kind + 1, room - count * problem_.length[kind], with);
            filling_.pieces.pop_back();
            if (liked) return true;
        }
        return next(kind + 1, room, keeper);
    }
    bool full(std::int64_t room, const ApartKeeper& keeper) const {
        if (room > most_waste_) return false;
        for (int kind = shortest_; kind >= 0 && problem_.length[static_cast<std::size_t>(kind)] <= room;
             --kind) {
            int taken = 0;
            for (const auto& [held, count] : filling_.pieces) taken += held == kind ? count : 0;
            const auto k = static_cast<std::size_t>(kind);
            if (keeper.allowed(k, wanted_[k] - taken) > 0) return false;
        }
        return true;
    }

    const CutProblem& problem_;
    const std::vector<int>& wanted_;
    std::int64_t most_waste_;
    std::function<bool(const Filling&)> like_;
    std::vector<std::int64_t> after_;  ///< length of all pieces wanted of this kind and the shorter ones
    int shortest_ = -1;
    Filling filling_;
};

}  // namespace

Packer::Packer(const CutProblem& problem, CuttingLp& lp, FillingPool& pool, std::vector<Cut>& cuts)
    : problem_(problem), lp_(lp), pool_(pool), cuts_(cuts) {
    ApartBits all = 0;
    for (const ApartBits lists : problem.apart) all |= lists;
    for (; all != 0; all &= all - 1) lists_.push_back(all & (~all + 1));
}

std::int64_t Packer::slack(const Rest& rest) const {
    std::int64_t left = 0;
    for (std::size_t j = 0; j < rest.sticks.size(); ++j) left += problem_.sticks[j].room * rest.sticks[j];
    for (std::size_t k = 0; k < rest.wanted.size(); ++k)
        left -= problem_.length[k] * std::max(0, rest.wanted[k]);
    return left;
}

/// Pieces of an apart list take a stick each.
bool Packer::tooFewFor(ApartBits list, const Rest& rest) const {
    int pieces = 0, sticks = 0;
    for (std::size_t k = 0; k < rest.wanted.size(); ++k)
        pieces += (problem_.apart[k] & list) != 0 ? std::max(0, rest.wanted[k]) : 0;
    for (std::size_t j = 0; j < rest.sticks.size(); ++j)
        sticks += (problem_.sticks[j].barred & list) == 0 ? rest.sticks[j] : 0;
    return pieces > sticks;
}

bool Packer::ruledOut(const Rest& rest) const {
    for (const ApartBits list : lists_)
        if (tooFewFor(list, rest)) return true;
    return slack(rest) < 0 || std::any_of(cuts_.begin(), cuts_.end(), [&](const Cut& cut) {
               return cut.rulesOut(rest.sticks, rest.wanted);
           });
}

/// No more of anything than is wanted, and then whatever still fits, longest first.
Filling Packer::filledUp(const Filling& filling, const std::vector<int>& wanted) const {
    std::vector<int> counts(wanted.size(), 0);
    std::int64_t room = problem_.sticks[static_cast<std::size_t>(filling.stick)].room;
    ApartKeeper keeper(problem_, filling.stick);
    const auto put = [&](std::size_t k, std::int64_t most) {
        const auto more = keeper.allowed(k, static_cast<int>(most));
        if (more == 0) return;
        keeper.take(k);
        counts[k] += more;
        room -= more * problem_.length[k];
    };
    for (const auto& [kind, count] : filling.pieces) {
        const auto k = static_cast<std::size_t>(kind);
        put(k, std::min(count, wanted[k]));
    }
    Filling out{filling.stick, {}};
    for (std::size_t k = 0; k < wanted.size(); ++k) {
        put(k, std::min<std::int64_t>(wanted[k] - counts[k], room / problem_.length[k]));
        if (counts[k] > 0) out.pieces.emplace_back(static_cast<int>(k), counts[k]);
    }
    return out;
}

void Packer::take(Rest& rest, const Filling& filling) {
    for (const auto& [kind, count] : filling.pieces) rest.wanted[static_cast<std::size_t>(kind)] -= count;
    --rest.sticks[static_cast<std::size_t>(filling.stick)];
    plan_.push_back(filling);
}

Packer::Outcome Packer::pack(const StickCounts& counts, Effort& effort) {
    const Rest rest{problem_.wanted, counts};
    plan_.clear();
    if (ruledOut(rest)) return Outcome::impossible;
    plan_ = quickPlan(problem_, rest, effort);
    if (!plan_.empty()) return Outcome::packed;
    const FractionalPlan whole = lp_.leastShortage(counts, problem_.wanted, problem_.wanted, pool_, effort);
    if (!whole.cut.weight.empty()) cuts_.push_back(whole.cut);
    if (ruledOut(rest)) return Outcome::impossible;
    if (dive(rest, effort)) return Outcome::packed;
    plan_.clear();
    if (!priced_out_) {
        // The bound on cost was left as soon as it was good enough; what more it prices a dive may need.
        priced_out_ = true;
        lp_.leastCost({}, pool_, effort);
        if (dive(rest, effort)) return Outcome::packed;
        plan_.clear();
    }
    // Half of what is left, so that dearer sets of sticks get their turn too.
    Effort share{effort.left / 2};
    const std::int64_t before = share.left;
    const Outcome outcome = search(rest, share);
    effort.use(before - share.left);
    return outcome;
}

bool Packer::dive(Rest rest, Effort& effort) {
    while (!allCut(rest.wanted)) {
        if (ruledOut(rest) || effort.spent()) return false;
        const FractionalPlan plan = lp_.leastShortage(rest.sticks, rest.wanted, rest.wanted, pool_, effort);
        if (plan.used.empty() || plan.cut.rulesOut(rest.sticks, rest.wanted)) return false;
        bool took = false;
        for (const auto& [index, amount] : plan.used) {
            const Filling filling = pool_[static_cast<std::size_t>(index)];
            for (int whole = static_cast<int>(std::floor(amount + kWhole)); whole > 0; --whole) {
                const Filling full = filledUp(filling, rest.wanted);
                if (full.pieces.empty() || rest.sticks[static_cast<std::size_t>(filling.stick)] == 0) break;
                take(rest, full);
                took = true;
            }
        }
        if (took) continue;
        const auto most = std::max_element(plan.used.begin(), plan.used.end(),
                                           [](const auto& a, const auto& b) { return a.second < b.second; });
        const Filling full = filledUp(pool_[static_cast<std::size_t>(most->first)], rest.wanted);
        if (full.pieces.empty() || rest.sticks[static_cast<std::size_t>(full.stick)] == 0) return false;
        take(rest, full);
    }
    return true;
}

Packer::Outcome Packer::search(const Rest& rest, Effort& effort) {
    if (allCut(rest.wanted)) return Outcome::packed;
    effort.use(1);
    if (effort.spent()) return Outcome::undecided;
    if (ruledOut(rest)) return Outcome::impossible;
    const std::string key = keyOf(rest);
    if (hopeless_.contains(key)) return Outcome::impossible;
    const FractionalPlan plan = lp_.leastShortage(rest.sticks, rest.wanted, rest.wanted, pool_, effort);
    if (plan.cut.rulesOut(rest.sticks, rest.wanted)) {
        hopeless_.insert(key);
        return Outcome::impossible;
    }
    const int longest = longestWanted(rest.wanted);
    for (const auto& [index, amount] : plan.used) {
        const Filling filling = pool_[static_cast<std::size_t>(index)];
        if (!holds(filling, longest) || rest.sticks[static_cast<std::size_t>(filling.stick)] == 0) continue;
        if (tryFilling(rest, filledUp(filling, rest.wanted), effort) == Outcome::packed)
            return Outcome::packed;
    }
    Outcome outcome = Outcome::impossible;
    for (std::size_t j = 0; j < rest.sticks.size(); ++j) {
        if (rest.sticks[j] == 0) continue;
        const Outcome one = tryAll(rest, static_cast<int>(j), longest, effort);
        if (one == Outcome::packed) return one;
        if (one == Outcome::undecided) outcome = one;
    }
    if (outcome == Outcome::impossible) hopeless_.insert(key);
    return outcome;
}

Packer::Outcome Packer::tryFilling(const Rest& rest, const Filling& filling, Effort& effort) {
    Rest next = rest;
    take(next, filling);
    const Outcome outcome = search(next, effort);
    if (outcome != Outcome::packed) plan_.pop_back();
    return outcome;
}

Packer::Outcome Packer::tryAll(const Rest& rest, int stick, int longest, Effort& effort) {
    Outcome outcome = Outcome::impossible;
    Fillings fillings(problem_, rest.wanted, slack(rest), [&](const Filling& filling) {
        const Outcome one = tryFilling(rest, filling, effort);
        if (one != Outcome::impossible) outcome = one;
        return one != Outcome::impossible;
    });
    fillings.from(stick, longest);
    return outcome;
}

}  // namespace hoopwright::nesting
