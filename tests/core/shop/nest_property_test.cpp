// What must hold of any plan, on lists drawn from a fixed seed: the order pieces are named in, more or longer
// pieces, longer sticks, a wider saw cut, another unit; and small lists against every way to cut them.
#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>
#include <random>

#include "core/shop/nest.h"

namespace hoopwright {
namespace {

constexpr double kStick_mm = 6000;

class AnyList {
public:
    explicit AnyList(unsigned seed) : random_(seed) {}
    /// Whole millimetres, between a hand's width and two thirds of a stick.
    std::vector<Piece1d> pieces(std::size_t count) {
        std::vector<Piece1d> out;
        for (std::size_t i = 0; i < count; ++i)
            out.push_back({"piece " + std::to_string(i + 1), static_cast<double>(150 + random_() % 3850)});
        return out;
    }
    std::size_t below(std::size_t n) { return random_() % n; }
    template <class T>
    void shuffle(std::vector<T>& list) {
        for (std::size_t i = list.size(); i > 1; --i) std::swap(list[i - 1], list[random_() % i]);
    }

private:
    std::mt19937 random_;
};

NestPlan planOf(const std::vector<Piece1d>& pieces, const std::vector<StickLength>& sticks, double kerf = 3) {
    const Expected<NestPlan> plan = nest(pieces, sticks, kerf);
    EXPECT_TRUE(plan) << plan.reason();
    return plan ? *plan : NestPlan{};
}
std::size_t sticksOf(const std::vector<Piece1d>& pieces, double stick = kStick_mm, double kerf = 3) {
    const NestPlan plan = planOf(pieces, {{stick, 0}}, kerf);
    EXPECT_TRUE(plan.proved);
    EXPECT_LE(plan.lower_bound, static_cast<int>(plan.sticks.size()));
    return plan.sticks.size();
}

/// Fewest sticks by putting every piece into every stick it fits, one after another.
class EveryWay {
public:
    EveryWay(const std::vector<Piece1d>& pieces, double stick, double kerf) : kerf_(kerf), stick_(stick) {
        for (const Piece1d& piece : pieces) lengths_.push_back(piece.length_mm);
        std::sort(lengths_.rbegin(), lengths_.rend());
        best_ = lengths_.size();
        place(0);
    }
    std::size_t fewest() const { return best_; }

private:
    void place(std::size_t piece) {
        if (used_.size() >= best_) return;
        if (piece == lengths_.size()) {
            best_ = used_.size();
            return;
        }
        const double more = lengths_[piece] + kerf_;
        for (std::size_t i = 0; i < used_.size(); ++i) {
            if (used_[i] + more > stick_ + kerf_ + 1e-6) continue;
            used_[i] += more;
            place(piece + 1);
            used_[i] -= more;
        }
        used_.push_back(more);
        place(piece + 1);
        used_.pop_back();
    }
    std::vector<double> lengths_, used_;
    double kerf_, stick_;
    std::size_t best_;
};

TEST(AnyNest, OfAFewPiecesIsTheBestOfEveryWay) {
    for (unsigned seed = 1; seed <= 120; ++seed) {
        AnyList list(seed);
        const auto pieces = list.pieces(4 + list.below(6));
        const double kerf = seed % 3 == 0 ? 0 : 2.5;
        EXPECT_EQ(sticksOf(pieces, kStick_mm, kerf), EveryWay(pieces, kStick_mm, kerf).fewest()) << seed;
    }
}

TEST(AnyNest, DoesNotMindTheOrderPiecesAreNamedIn) {
    for (unsigned seed = 1; seed <= 40; ++seed) {
        AnyList list(seed);
        auto pieces = list.pieces(18);
        const std::size_t sticks = sticksOf(pieces);
        list.shuffle(pieces);
        EXPECT_EQ(sticksOf(pieces), sticks) << seed;
    }
}

TEST(AnyNest, OneMorePieceNeverTakesFewerSticks) {
    for (unsigned seed = 1; seed <= 20; ++seed) {
        AnyList list(seed);
        const auto all = list.pieces(14);
        std::size_t before = 0;
        for (std::size_t count = 1; count <= all.size(); ++count) {
            const std::vector<Piece1d> some(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(count));
            const std::size_t now = sticksOf(some);
            EXPECT_GE(now, before) << seed << " " << count;
            EXPECT_LE(now, before + 1) << seed << " " << count;
            before = now;
        }
    }
}

TEST(AnyNest, LongerSticksNeverTakeMore) {
    for (unsigned seed = 1; seed <= 25; ++seed) {
        const auto pieces = AnyList(seed).pieces(15);
        std::size_t before = pieces.size() + 1;
        for (const double stick : {4000.0, 5000.0, 6000.0, 7315.0, 9000.0, 20000.0}) {
            const std::size_t now = sticksOf(pieces, stick);
            EXPECT_LE(now, before) << seed << " " << stick;
            before = now;
        }
    }
}

TEST(AnyNest, AWiderSawCutNeverTakesFewer) {
    for (unsigned seed = 1; seed <= 25; ++seed) {
        const auto pieces = AnyList(seed).pieces(15);
        std::size_t before = 0;
        for (const double kerf : {0.0, 1.6, 3.2, 10.0, 100.0}) {
            const std::size_t now = sticksOf(pieces, kStick_mm, kerf);
            EXPECT_GE(now, before) << seed << " " << kerf;
            before = now;
        }
    }
}

TEST(AnyNest, InAnotherUnitIsTheSamePlan) {
    for (unsigned seed = 1; seed <= 25; ++seed) {
        const auto pieces = AnyList(seed).pieces(12);
        auto inches = pieces;
        for (Piece1d& piece : inches) piece.length_mm *= 25.4;
        EXPECT_EQ(sticksOf(inches, kStick_mm * 25.4, 3 * 25.4), sticksOf(pieces)) << seed;
    }
}

TEST(AnyNest, WithPricesCostsNoMoreThanWithAnyOneOfTheSticks) {
    const std::vector<StickLength> sticks = {{6000, 72}, {7500, 88}, {4000, 51}};
    for (unsigned seed = 1; seed <= 25; ++seed) {
        const auto pieces = AnyList(seed).pieces(11);
        const NestPlan all = planOf(pieces, sticks);
        for (const StickLength& one : sticks) {
            const NestPlan alone = planOf(pieces, {one});
            EXPECT_LE(all.price, alone.price + 1e-9) << seed << " " << one.length_mm;
        }
    }
}

TEST(AnyNest, WithoutPricesBuysNoMoreLengthThanAnyOneOfTheSticks) {
    const std::vector<StickLength> sticks = {{6000, 0}, {7500, 0}, {4000, 0}};
    for (unsigned seed = 1; seed <= 25; ++seed) {
        const auto pieces = AnyList(seed).pieces(11);
        const NestPlan all = planOf(pieces, sticks);
        double cut = 0;
        for (const Piece1d& piece : pieces) cut += piece.length_mm;
        EXPECT_GE(all.bought_mm, cut) << seed;
        for (const StickLength& one : sticks)
            EXPECT_LE(all.bought_mm, planOf(pieces, {one}).bought_mm + 1e-9) << seed;
    }
}

TEST(AnyNest, AStickWithNoPriceAmongPricedOnesMakesItGoByLength) {
    const std::vector<Piece1d> pieces = {{"a", 3900}, {"b", 3900}};
    // By price one long stick would be dearest; by length two short ones are least.
    const NestPlan plan = planOf(pieces, {{4000, 500}, {12000, 0}});
    EXPECT_EQ(plan.bought_mm, 8000);
    EXPECT_EQ(plan.price, 1000);
}

TEST(AnyNest, TwiceTheListTakesNoMoreThanTwiceTheSticks) {
    for (unsigned seed = 1; seed <= 25; ++seed) {
        const auto once = AnyList(seed).pieces(9);
        auto twice = once;
        twice.insert(twice.end(), once.begin(), once.end());
        const std::size_t one = sticksOf(once), two = sticksOf(twice);
        EXPECT_LE(two, 2 * one) << seed;
        EXPECT_GE(two, one) << seed;
    }
}

TEST(AnyNest, WhatIsLeftAndWhatIsCutIsWhatWasBought) {
    for (unsigned seed = 1; seed <= 25; ++seed) {
        const auto pieces = AnyList(seed).pieces(20);
        const double kerf = 3;
        const NestPlan plan = planOf(pieces, {{kStick_mm, 0}}, kerf);
        std::vector<int> seen;
        for (const CutStick& stick : plan.sticks) {
            double used = stick.left_mm;
            for (const int piece : stick.pieces) {
                used += pieces[static_cast<std::size_t>(piece)].length_mm + kerf;
                seen.push_back(piece);
            }
            // The cut behind the last piece is lost only where there is something behind it.
            EXPECT_GE(used, kStick_mm - 1e-6) << seed;
            EXPECT_LE(used, kStick_mm + kerf + 1e-6) << seed;
        }
        std::sort(seen.begin(), seen.end());
        std::vector<int> each(pieces.size());
        std::iota(each.begin(), each.end(), 0);
        EXPECT_EQ(seen, each) << seed;
        EXPECT_TRUE(
            std::is_sorted(plan.sticks.begin(), plan.sticks.end(),
                           [](const CutStick& a, const CutStick& b) { return a.left_mm < b.left_mm; }))
            << "fullest first";
    }
}

}  // namespace
}  // namespace hoopwright
