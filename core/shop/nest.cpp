#include "core/shop/nest.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>

#include "core/base/text.h"
#include "core/shop/nest_greedy.h"
#include "core/shop/nest_translate.h"
#include "core/shop/nest_walk.h"

namespace hoopwright {

namespace {

using nesting::ApartBits;
using nesting::Filling;
using nesting::Translated;

constexpr double kLongest_mm = 1e6;
constexpr std::size_t kMost_lists = 64;

bool goodLength(double mm) {
    return mm > 0 && mm <= kLongest_mm;
}

std::string wrongSticks(const NestWish& wish) {
    if (wish.sticks.empty() && wish.owned.empty())
        return "There is no stick length to cut from; give one in the stock list.";
    for (const StickLength& stick : wish.sticks) {
        if (!goodLength(stick.length_mm))
            return "A stick length is not above zero; put it right in the stock list.";
        if (!(stick.price >= 0)) return "A stick has a price below zero; put it right in the stock list.";
    }
    for (const OwnedStick& stick : wish.owned)
        if (!goodLength(stick.length_mm))
            return "A piece on the rack has no length above zero; put it right in the shop's book.";
    return "";
}

std::string wrongInput(const std::vector<Piece1d>& pieces, const NestWish& wish) {
    if (!(wish.kerf_mm >= 0 && wish.kerf_mm <= kLongest_mm))
        return "The kerf is not zero or more; give the width of the saw cut.";
    if (pieces.empty()) return "";
    if (std::string wrong = wrongSticks(wish); !wrong.empty()) return wrong;
    double longest = 0;
    for (const StickLength& stick : wish.sticks) longest = std::max(longest, stick.length_mm);
    for (const OwnedStick& stick : wish.owned) longest = std::max(longest, stick.length_mm);
    const double behind = wish.kerf_at == KerfAt::every_cut ? wish.kerf_mm : 0;
    for (const Piece1d& piece : pieces) {
        if (!goodLength(piece.length_mm))
            return piece.name + " has no length above zero, so it cannot be cut.";
        if (piece.length_mm + behind > longest + nesting::kFits_mm / 2) {
            return piece.name + " is " + fixed(piece.length_mm, 1) + " mm long" +
                   (behind > 0 ? ", " + fixed(piece.length_mm + behind, 1) + " with the cut behind it,"
                               : "") +
                   " and the longest stick is " + fixed(longest, 1) + " mm; get longer sticks.";
        }
    }
    if (wish.apart.size() > kMost_lists)
        return "There are more than 64 lists of pieces that must not share a heat; put some of them "
               "together.";
    for (const std::vector<int>& list : wish.apart)
        for (const int piece : list)
            if (piece < 0 || piece >= static_cast<int>(pieces.size()))
                return "A list of pieces that must not share a heat names one that is not there.";
    return "";
}

/// The plan as sticks of pieces.
class Writer {
public:
    Writer(const Translated& from, const std::vector<Piece1d>& pieces, const NestWish& wish)
        : from_(from), pieces_(pieces), wish_(wish) {}

    NestPlan write(const std::vector<Filling>& fillings) {
        std::vector<std::size_t> next_piece(from_.pieces_of_kind.size(), 0);
        std::vector<std::size_t> next_owned(from_.problem.sticks.size(), 0);
        for (const Filling& filling : fillings) {
            const auto j = static_cast<std::size_t>(filling.stick);
            CutStick stick;
            if (j < from_.asked_stick.size()) {
                stick.stick = from_.asked_stick[j];
            } else {
                stick.owned = from_.owned_of_stick[j][next_owned[j]++];
            }
            for (const auto& [kind, count] : filling.pieces) {
                const auto k = static_cast<std::size_t>(kind);
                for (int i = 0; i < count; ++i)
                    stick.pieces.push_back(from_.pieces_of_kind[k][next_piece[k]++]);
            }
            plan_.sticks.push_back(std::move(stick));
        }
        fillOwned();
        sum();
        return std::move(plan_);
    }

private:
    double length(const CutStick& stick) const {
        return stick.owned >= 0 ? wish_.owned[static_cast<std::size_t>(stick.owned)].length_mm
                                : wish_.sticks[static_cast<std::size_t>(stick.stick)].length_mm;
    }
    double pieceLength(int piece) const { return pieces_[static_cast<std::size_t>(piece)].length_mm; }
    std::int64_t room(const CutStick& stick) const {
        std::int64_t left = from_.room(length(stick));
        for (const int piece : stick.pieces) left -= from_.length(pieceLength(piece));
        return left;
    }
    ApartBits taken(const CutStick& stick) const {
        ApartBits bits = from_.barred(stick.owned);
        for (const int piece : stick.pieces) bits |= from_.lists_of_piece[static_cast<std::size_t>(piece)];
        return bits;
    }

    /// What lies on the rack takes in all it can, longest first.
    void fillOwned() {
        std::vector<bool> there(wish_.owned.size(), false);
        for (const CutStick& stick : plan_.sticks)
            if (stick.owned >= 0) there[static_cast<std::size_t>(stick.owned)] = true;
        for (std::size_t i = 0; i < there.size(); ++i)
            if (!there[i]) plan_.sticks.push_back({-1, {}, 0, static_cast<int>(i)});
        for (std::size_t i = 0; i < plan_.sticks.size(); ++i) {
            if (plan_.sticks[i].owned < 0) continue;
            while (takeLongest(plan_.sticks[i])) {
            }
        }
        std::erase_if(plan_.sticks, [](const CutStick& stick) { return stick.pieces.empty(); });
    }
    bool takeLongest(CutStick& into) {
        const std::int64_t left = room(into);
        const ApartBits bits = taken(into);
        CutStick* from = nullptr;
        std::size_t which = 0;
        for (CutStick& stick : plan_.sticks) {
            if (stick.owned >= 0) continue;
            for (std::size_t k = 0; k < stick.pieces.size(); ++k) {
                const int piece = stick.pieces[k];
                if (from_.length(pieceLength(piece)) > left) continue;
                if ((from_.lists_of_piece[static_cast<std::size_t>(piece)] & bits) != 0) continue;
                if (from && pieceLength(from->pieces[which]) >= pieceLength(piece)) continue;
                from = &stick;
                which = k;
            }
        }
        if (!from) return false;
        into.pieces.push_back(from->pieces[which]);
        from->pieces.erase(from->pieces.begin() + static_cast<std::ptrdiff_t>(which));
        return true;
    }

    void sum() {
        for (CutStick& stick : plan_.sticks) {
            std::ranges::stable_sort(stick.pieces,
                                     [&](int a, int b) { return pieceLength(a) > pieceLength(b); });
            stick.left_mm = length(stick);
            for (const int piece : stick.pieces) stick.left_mm -= pieceLength(piece) + wish_.kerf_mm;
            stick.left_mm = std::max(0.0, stick.left_mm);
            if (stick.owned >= 0) continue;
            plan_.bought_mm += length(stick);
            plan_.price += wish_.sticks[static_cast<std::size_t>(stick.stick)].price;
        }
        std::stable_sort(plan_.sticks.begin(), plan_.sticks.end(), [&](const CutStick& a, const CutStick& b) {
            if (a.stick != b.stick) return a.stick < b.stick;
            return a.left_mm < b.left_mm;
        });
    }

    const Translated& from_;
    const std::vector<Piece1d>& pieces_;
    const NestWish& wish_;
    NestPlan plan_;
};

int whole(std::int64_t cost) {
    return static_cast<int>(std::min<std::int64_t>(cost, std::numeric_limits<int>::max()));
}

}  // namespace

double NestPlan::gap() const {
    return proved || lower_bound <= 0 ? 0 : static_cast<double>(cost - lower_bound) / lower_bound;
}

int NestPlan::bought() const {
    return static_cast<int>(std::ranges::count(sticks, -1, &CutStick::owned));
}

Expected<NestPlan> nest(const std::vector<Piece1d>& pieces, const NestWish& wish) {
    std::string wrong = wrongInput(pieces, wish);
    if (!wrong.empty()) return Reason{std::move(wrong)};
    if (pieces.empty()) {
        NestPlan nothing;
        nothing.proved = true;
        return nothing;
    }
    Translated asked = nesting::translate(pieces, wish);
    const bool too_many = static_cast<int>(asked.different) > kMostDifferent;
    nesting::Walked walked = nesting::walk(asked.problem, too_many ? 0 : wish.effort);
    if (walked.plan.empty())
        return Reason{walked.proved
                          ? "The sticks that can be bought and what lies on the rack do not hold all "
                            "pieces; get longer sticks."
                          : "No way was found to cut all pieces from what lies on the rack; give "
                            "a stick length that can be bought."};
    const std::int64_t cost = nesting::costOf(asked.problem, walked.plan);
    if (asked.heats_repeat && cost > 0) {
        // Proved only among plans that use one of the owned sticks of a heat for such pieces: what all plans
        // must take is asked again without that.
        asked.letHeatsRepeat();
        walked.lower_bound = nesting::walk(asked.problem, too_many ? 0 : wish.effort).lower_bound;
        walked.proved = walked.lower_bound >= cost;
    }
    NestPlan plan = Writer(asked, pieces, wish).write(walked.plan);
    plan.least = asked.least;
    plan.proved = walked.proved;
    plan.cost = whole(cost);
    plan.lower_bound = whole(walked.lower_bound);
    plan.different = static_cast<int>(asked.different);
    return plan;
}

Expected<NestPlan> nest(const std::vector<Piece1d>& pieces, const std::vector<StickLength>& sticks,
                        double kerf_mm, long effort) {
    NestWish wish;
    wish.sticks = sticks;
    wish.kerf_mm = kerf_mm;
    wish.effort = effort;
    return nest(pieces, wish);
}

}  // namespace hoopwright
