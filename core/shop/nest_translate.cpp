#include "core/shop/nest_translate.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <set>

namespace hoopwright::nesting {

namespace {

constexpr double kSteps_per_mm = 1e5, kDearest = 1e9;

std::int64_t steps(double mm) {
    return std::llround(mm * kSteps_per_mm);
}

/// Sticks worth buying: of two, never the shorter one that costs no less.
void addBought(Translated& out, const std::vector<StickLength>& sticks) {
    const bool by_price = std::all_of(sticks.begin(), sticks.end(),
                                      [](const StickLength& s) { return s.price > 0 && s.price < kDearest; });
    std::vector<int> order(sticks.size());
    std::iota(order.begin(), order.end(), 0);
    const auto cost = [&](int i) {
        const StickLength& stick = sticks[static_cast<std::size_t>(i)];
        return std::llround(100 * (by_price ? stick.price : stick.length_mm));
    };
    std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
        const double la = sticks[static_cast<std::size_t>(a)].length_mm,
                     lb = sticks[static_cast<std::size_t>(b)].length_mm;
        return la != lb ? la > lb : cost(a) < cost(b);
    });
    for (int i : order) {
        if (!out.problem.sticks.empty() && cost(i) >= out.problem.sticks.back().cost) continue;
        out.problem.sticks.push_back({out.room(sticks[static_cast<std::size_t>(i)].length_mm), cost(i)});
        out.asked_stick.push_back(i);
    }
    const bool by_count = std::all_of(sticks.begin(), sticks.end(), [&](const StickLength& s) {
        return s.length_mm == sticks[0].length_mm;
    });
    out.least = by_count   ? NestPlan::Least::sticks
                : by_price ? NestPlan::Least::price
                           : NestPlan::Least::length;
    if (by_count && !sticks.empty()) out.problem.sticks[0].cost = 1;
}

/// Which of the owned may be cut into pieces that must not share a heat: of each heat the longest.
void barOwned(Translated& out, const std::vector<OwnedStick>& owned, ApartBits all) {
    std::vector<std::size_t> order(owned.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return owned[a].length_mm > owned[b].length_mm; });
    std::set<std::string> seen;
    out.barred_owned.assign(owned.size(), 0);
    out.barred_unknown.assign(owned.size(), 0);
    for (const std::size_t i : order) {
        if (owned[i].heat.empty()) {
            out.barred_owned[i] = out.barred_unknown[i] = all;
        } else if (!seen.insert(owned[i].heat).second) {
            out.barred_owned[i] = all;
            out.heats_repeat = out.heats_repeat || all != 0;
        }
    }
}

void addOwned(Translated& out, const std::vector<OwnedStick>& owned) {
    std::map<std::pair<std::int64_t, ApartBits>, std::vector<int>, std::greater<>> alike;
    for (std::size_t i = 0; i < owned.size(); ++i)
        alike[{out.room(owned[i].length_mm), out.barred_owned[i]}].push_back(static_cast<int>(i));
    out.owned_of_stick.resize(out.problem.sticks.size());
    for (auto& [key, members] : alike) {
        out.problem.sticks.push_back({key.first, 0, static_cast<int>(members.size()), key.second});
        out.owned_of_stick.push_back(std::move(members));
    }
}

}  // namespace

std::int64_t Translated::length(double piece_mm) const {
    return steps(piece_mm + kerf_mm);
}
std::int64_t Translated::room(double stick_mm) const {
    return steps(stick_mm + (kerf_at == KerfAt::between_pieces ? kerf_mm : 0)) + steps(kFits_mm);
}
ApartBits Translated::barred(int owned) const {
    return owned < 0 ? 0 : barred_owned[static_cast<std::size_t>(owned)];
}

void Translated::letHeatsRepeat() {
    for (std::size_t j = asked_stick.size(); j < problem.sticks.size(); ++j)
        problem.sticks[j].barred = barred_unknown[static_cast<std::size_t>(owned_of_stick[j].front())];
}

Translated translate(const std::vector<Piece1d>& pieces, const NestWish& wish) {
    Translated out;
    out.kerf_mm = wish.kerf_mm;
    out.kerf_at = wish.kerf_at;
    out.lists_of_piece.assign(pieces.size(), 0);
    ApartBits all = 0;
    for (std::size_t list = 0; list < wish.apart.size(); ++list) {
        if (wish.apart[list].size() < 2) continue;
        all |= ApartBits{1} << list;
        for (const int piece : wish.apart[list])
            out.lists_of_piece[static_cast<std::size_t>(piece)] |= ApartBits{1} << list;
    }
    addBought(out, wish.sticks);
    barOwned(out, wish.owned, all);
    addOwned(out, wish.owned);
    std::map<std::pair<std::int64_t, ApartBits>, std::vector<int>, std::greater<>> kinds;
    std::set<std::int64_t> lengths;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const std::int64_t length = out.length(pieces[i].length_mm);
        lengths.insert(length);
        kinds[{length, out.lists_of_piece[i]}].push_back(static_cast<int>(i));
    }
    out.different = lengths.size();
    for (auto& [key, members] : kinds) {
        out.problem.length.push_back(key.first);
        out.problem.apart.push_back(key.second);
        out.problem.wanted.push_back(static_cast<int>(members.size()));
        out.pieces_of_kind.push_back(std::move(members));
    }
    return out;
}

}  // namespace hoopwright::nesting
