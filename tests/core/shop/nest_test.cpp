#include "core/shop/nest.h"

#include <gtest/gtest.h>

#include <numeric>
#include <random>

#include "core/shop/nest_fill.h"
#include "core/shop/nest_greedy.h"
#include "core/shop/nest_lp.h"
#include "core/shop/nest_pack.h"

namespace hoopwright {
namespace {

using Sizes = std::vector<std::pair<double, int>>;

std::vector<Piece1d> piecesOf(const Sizes& sizes) {
    std::vector<Piece1d> pieces;
    for (const auto& [length, count] : sizes) {
        for (int i = 0; i < count; ++i)
            pieces.push_back({"piece " + std::to_string(pieces.size() + 1), length});
    }
    return pieces;
}

/// Every piece is cut once, every stick holds what is cut from it, and the sums are right.
void expectWhole(const NestPlan& plan, const std::vector<Piece1d>& pieces,
                 const std::vector<StickLength>& sticks, double kerf_mm) {
    std::vector<int> times(pieces.size(), 0);
    double bought = 0, price = 0;
    for (const CutStick& cut : plan.sticks) {
        ASSERT_GE(cut.stick, 0);
        const StickLength& stick = sticks.at(static_cast<std::size_t>(cut.stick));
        bought += stick.length_mm;
        price += stick.price;
        ASSERT_FALSE(cut.pieces.empty());
        double used = -kerf_mm;
        for (int piece : cut.pieces) {
            ++times.at(static_cast<std::size_t>(piece));
            used += pieces.at(static_cast<std::size_t>(piece)).length_mm + kerf_mm;
        }
        EXPECT_LE(used, stick.length_mm + 1e-3);
        EXPECT_NEAR(cut.left_mm, std::max(0.0, stick.length_mm - used - kerf_mm), 1e-6);
    }
    for (int count : times) EXPECT_EQ(count, 1);
    EXPECT_NEAR(plan.bought_mm, bought, 1e-6);
    EXPECT_NEAR(plan.price, price, 1e-6);
}

NestPlan nested(const std::vector<Piece1d>& pieces, const std::vector<StickLength>& sticks, double kerf_mm) {
    const Expected<NestPlan> plan = nest(pieces, sticks, kerf_mm);
    EXPECT_TRUE(plan) << plan.reason();
    if (!plan) return {};
    expectWhole(*plan, pieces, sticks, kerf_mm);
    return *plan;
}

TEST(Nest, KerfIsLostBetweenPiecesAndNotAfterTheLast) {
    // 4 x 1497.75 + 3 x 3 = 6000 exactly.
    EXPECT_EQ(nested(piecesOf({{1497.75, 8}}), {{6000, 0}}, 3).sticks.size(), 2u);
    EXPECT_EQ(nested(piecesOf({{1497.76, 8}}), {{6000, 0}}, 3).sticks.size(), 3u);
    EXPECT_EQ(nested(piecesOf({{1500, 8}}), {{6000, 0}}, 0).sticks.size(), 2u);
}

TEST(Nest, InchSizesThatFillAStickExactlyFit) {
    const double sixteenth = 25.4 / 16;
    // Four of 59-61/64" and three cuts of 1/16" are 240".
    const double piece = (240 * 25.4 - 3 * sixteenth) / 4;
    EXPECT_EQ(nested(piecesOf({{piece, 8}}), {{240 * 25.4, 0}}, sixteenth).sticks.size(), 2u);
}

TEST(Nest, FindsWhatFirstFitMisses) {
    const NestPlan plan = nested(piecesOf({{2360, 1}, {2100, 3}, {1035, 1}, {735, 3}}), {{6000, 0}}, 3);
    EXPECT_EQ(plan.sticks.size(), 2u);
    EXPECT_TRUE(plan.proved);
    EXPECT_EQ(plan.lower_bound, 2);
}

TEST(Nest, WithPricesTheCheapestSetWinsNotTheShortest) {
    // Two 3000 fit one 6100 at 100, or two 3050 at 45 each.
    const std::vector<StickLength> sticks{{6100, 100}, {3050, 45}};
    const NestPlan plan = nested(piecesOf({{3000, 2}}), sticks, 3);
    EXPECT_EQ(plan.price, 90);
    EXPECT_EQ(plan.sticks.size(), 2u);
    EXPECT_EQ(plan.lower_bound, 9000);
    EXPECT_TRUE(plan.proved);
}

TEST(Nest, WithoutPricesTheLeastLengthIsBought) {
    const NestPlan plan = nested(piecesOf({{3290, 1}, {2525, 2}, {1390, 2}, {1060, 3}, {640, 4}, {415, 2}}),
                                 {{6000, 0}, {7500, 0}}, 3);
    EXPECT_EQ(plan.bought_mm, 18000);
    EXPECT_TRUE(plan.proved);
}

TEST(Nest, AStickThatIsShorterAndNoCheaperIsNeverBought) {
    const std::vector<StickLength> sticks{{3000, 80}, {6000, 80}};
    const NestPlan plan = nested(piecesOf({{1000, 1}}), sticks, 3);
    ASSERT_EQ(plan.sticks.size(), 1u);
    EXPECT_EQ(plan.sticks[0].stick, 1);
}

TEST(Nest, NothingToCutIsAPlanOfNothing) {
    const Expected<NestPlan> plan = nest({}, {}, 3);
    ASSERT_TRUE(plan);
    EXPECT_TRUE(plan->sticks.empty());
    EXPECT_TRUE(plan->proved);
}

TEST(Nest, WrongInputSaysWhatAndWhatToDo) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const auto why = [](const std::vector<Piece1d>& pieces, const std::vector<StickLength>& sticks,
                        double kerf) {
        const Expected<NestPlan> plan = nest(pieces, sticks, kerf);
        return plan ? std::string("a plan") : plan.reason();
    };
    EXPECT_EQ(why({{"Main hoop", 6100}}, {{6000, 0}}, 3),
              "Main hoop is 6100.0 mm long and the longest stick is 6000.0 mm; get longer sticks.");
    EXPECT_EQ(why({{"Stub", 0}}, {{6000, 0}}, 3), "Stub has no length above zero, so it cannot be cut.");
    EXPECT_EQ(why({{"Stub", nan}}, {{6000, 0}}, 3), "Stub has no length above zero, so it cannot be cut.");
    EXPECT_EQ(why({{"Stub", 10}}, {}, 3),
              "There is no stick length to cut from; give one in the stock list.");
    EXPECT_EQ(why({{"Stub", 10}}, {{-1, 0}}, 3),
              "A stick length is not above zero; put it right in the stock list.");
    EXPECT_EQ(why({{"Stub", 10}}, {{6000, 0}}, -1),
              "The kerf is not zero or more; give the width of the saw cut.");
    EXPECT_EQ(why({{"Stub", 10}}, {{6000, 0}}, nan),
              "The kerf is not zero or more; give the width of the saw cut.");
}

TEST(Nest, WhenTheEffortIsSpentThePlanStandsAndIsNotCalledBest) {
    std::mt19937 random(11);
    std::uniform_real_distribution<double> length(150, 3200);
    std::vector<Piece1d> pieces;
    for (int i = 0; i < 60; ++i) pieces.push_back({"p", length(random)});
    const std::vector<StickLength> sticks{{6096, 100}, {7315, 118}, {4064, 69}};
    const Expected<NestPlan> hasty = nest(pieces, sticks, 3, 50);
    ASSERT_TRUE(hasty);
    expectWhole(*hasty, pieces, sticks, 3);
    EXPECT_FALSE(hasty->proved);
    const NestPlan best = nested(pieces, sticks, 3);
    EXPECT_TRUE(best.proved);
    EXPECT_LT(best.price, hasty->price);
    EXPECT_LE(hasty->lower_bound, std::lround(100 * best.price));
}

TEST(Nest, TheSameInputGivesTheSamePlan) {
    const auto pieces = piecesOf({{1380, 7}, {1520, 4}, {905, 9}, {640, 6}});
    const std::vector<StickLength> sticks{{6000, 90}, {7500, 110}};
    const NestPlan one = nested(pieces, sticks, 3), two = nested(pieces, sticks, 3);
    ASSERT_EQ(one.sticks.size(), two.sticks.size());
    for (std::size_t i = 0; i < one.sticks.size(); ++i) EXPECT_EQ(one.sticks[i].pieces, two.sticks[i].pieces);
}

// The parts.

nesting::CutProblem problemOf(std::vector<std::int64_t> lengths, std::vector<int> wanted,
                              std::vector<std::pair<std::int64_t, std::int64_t>> sticks) {
    nesting::CutProblem problem;
    problem.apart.assign(lengths.size(), 0);
    problem.length = std::move(lengths);
    problem.wanted = std::move(wanted);
    for (const auto& [room, cost] : sticks) problem.sticks.push_back({room, cost});
    return problem;
}

/// All counts, one after another.
std::int64_t bestByTryingAll(const nesting::CutProblem& problem, const std::vector<std::int32_t>& values,
                             std::size_t kind, std::int64_t room) {
    if (kind == problem.kinds()) return 0;
    std::int64_t best = 0;
    for (int count = 0; count <= problem.wanted[kind] && count * problem.length[kind] <= room; ++count) {
        best = std::max(best,
                        count * std::int64_t{values[kind]} +
                            bestByTryingAll(problem, values, kind + 1, room - count * problem.length[kind]));
    }
    return best;
}

TEST(FillTable, FindsTheBestFillingOnAnyLengths) {
    std::mt19937 random(3);
    for (int round = 0; round < 200; ++round) {
        std::vector<std::int64_t> lengths;
        for (int i = 0; i < 7; ++i)
            lengths.push_back(20'000'001 + static_cast<std::int64_t>(random() % 300'000'000));
        std::sort(lengths.rbegin(), lengths.rend());
        const auto problem = problemOf(lengths, {2, 1, 3, 2, 1, 4, 2}, {{600'300'000, 1}});
        std::vector<std::int32_t> values;
        for (std::int64_t length : lengths)
            values.push_back(static_cast<std::int32_t>(length / 1000 + random() % 20'000));
        nesting::Effort effort{1'000'000};
        nesting::FillTable table(problem);
        table.price(values, problem.wanted, effort);
        const nesting::BestFilling best = table.best(problem.sticks[0].room, 0, effort);
        EXPECT_EQ(best.bound, bestByTryingAll(problem, values, 0, problem.sticks[0].room));
        EXPECT_TRUE(table.best(problem.sticks[0].room, best.bound, effort).pieces.empty())
            << "nothing is worth more";
    }
}

TEST(CuttingLp, ItsCutRulesOutTooFewSticksAndNoMore) {
    // Five pieces of 51 in sticks of 100: five sticks, although they are 2.55 sticks long.
    const auto problem = problemOf({51}, {5}, {{100, 1}});
    nesting::CuttingLp lp(problem);
    nesting::FillingPool pool;
    nesting::Effort effort{1'000'000};
    const nesting::FractionalPlan plan = lp.leastCost({}, pool, effort);
    EXPECT_TRUE(plan.cut.rulesOut({4}));
    EXPECT_FALSE(plan.cut.rulesOut({5}));
    EXPECT_TRUE(plan.cut.rulesOut({3}, {4}));
}

TEST(CuttingLp, LeftOffBetweenTwoCostsHasTheBoundItHasPricedOut) {
    std::mt19937 random(11);
    int fewer = 0;
    for (int round = 0; round < 20; ++round) {
        std::vector<std::int64_t> lengths;
        for (int i = 0; i < 30; ++i)
            lengths.push_back(25'000'001 + static_cast<std::int64_t>(random() % 295'000'000));
        std::sort(lengths.rbegin(), lengths.rend());
        const auto problem =
            problemOf(lengths, std::vector<int>(30, 1), {{731'500'000, 118}, {609'600'000, 100}});
        // What any set of the two may cost.
        std::vector<std::int64_t> costs;
        for (int a = 0; a <= 30; ++a)
            for (int b = 0; b <= 30; ++b) costs.push_back(118 * a + 100 * b);
        std::sort(costs.begin(), costs.end());
        // The least of those costs whose set the cut does not rule out.
        const auto leastOf = [&](const nesting::Cut& cut) {
            std::int64_t least = costs.back();
            for (int a = 0; a <= 30; ++a)
                for (int b = 0; b <= 30; ++b)
                    if (!cut.rulesOut({a, b})) least = std::min<std::int64_t>(least, 118 * a + 100 * b);
            return least;
        };
        std::array<std::size_t, 2> priced{};
        std::array<std::int64_t, 2> least{};
        for (const std::size_t out : {0u, 1u}) {
            nesting::CuttingLp lp(problem);
            nesting::FillingPool pool;
            nesting::Effort effort{10'000'000};
            least[out] =
                leastOf(lp.leastCost(out == 0 ? costs : std::vector<std::int64_t>{}, pool, effort).cut);
            priced[out] = pool.size();
        }
        EXPECT_EQ(least[0], least[1]) << round;
        fewer += priced[0] < priced[1] ? 1 : 0;
    }
    EXPECT_GT(fewer, 10) << "or it is not left off at all";
}

TEST(QuickPlan, CutsEveryPieceOnceFromSticksThatHoldThem) {
    std::mt19937 random(7);
    int found = 0;
    for (int round = 0; round < 100; ++round) {
        std::vector<std::int64_t> lengths;
        for (int i = 0; i < 20; ++i)
            lengths.push_back(25'000'001 + static_cast<std::int64_t>(random() % 295'000'000));
        std::sort(lengths.rbegin(), lengths.rend());
        auto problem = problemOf(lengths, std::vector<int>(20, 1), {{731'500'000, 1}, {365'800'000, 1}});
        for (std::size_t k = 0; k < 4; ++k) problem.apart[k] = 1;
        const nesting::Rest rest{problem.wanted, {4 + round % 3, round % 4}};
        nesting::Effort effort{1'000'000};
        const std::vector<nesting::Filling> plan = nesting::quickPlan(problem, rest, effort);
        if (plan.empty()) continue;
        ++found;
        std::vector<int> cut(20, 0), used(2, 0);
        for (const nesting::Filling& filling : plan) {
            const auto stick = static_cast<std::size_t>(filling.stick);
            ++used[stick];
            std::int64_t room = problem.sticks[stick].room;
            int apart = 0;
            for (const auto& [kind, count] : filling.pieces) {
                cut[static_cast<std::size_t>(kind)] += count;
                room -= count * lengths[static_cast<std::size_t>(kind)];
                apart += kind < 4 ? count : 0;
            }
            EXPECT_GE(room, 0);
            EXPECT_LE(apart, 1);
        }
        EXPECT_EQ(cut, std::vector<int>(20, 1));
        EXPECT_LE(used[0], rest.sticks[0]);
        EXPECT_LE(used[1], rest.sticks[1]);
    }
    EXPECT_GT(found, 20);
}

TEST(Packer, SaysImpossibleOnlyWhenNoSetOfFillingsHolds) {
    std::mt19937 random(5);
    int packed = 0, impossible = 0;
    for (int round = 0; round < 60; ++round) {
        std::vector<std::int64_t> lengths;
        while (lengths.size() < 8) {
            const std::int64_t length = 20 + random() % 60;
            if (std::find(lengths.begin(), lengths.end(), length) == lengths.end()) lengths.push_back(length);
        }
        std::sort(lengths.rbegin(), lengths.rend());
        const auto problem = problemOf(lengths, std::vector<int>(8, 1), {{100, 1}});
        // Least sticks by trying all partitions: sets that fit one stick, combined.
        std::vector<int> least(256, 99);
        least[0] = 0;
        for (unsigned set = 1; set < 256; ++set) {
            for (unsigned part = set; part > 0; part = (part - 1) & set) {
                std::int64_t sum = 0;
                for (unsigned i = 0; i < 8; ++i) sum += (part >> i & 1u) != 0 ? lengths[i] : 0;
                if (sum <= 100) least[set] = std::min(least[set], least[set ^ part] + 1);
            }
        }
        for (int sticks = least[255] - 1; sticks <= least[255]; ++sticks) {
            nesting::CuttingLp lp(problem);
            nesting::FillingPool pool;
            std::vector<nesting::Cut> cuts;
            nesting::Effort effort{10'000'000};
            nesting::Packer packer(problem, lp, pool, cuts);
            const auto outcome = packer.pack({sticks}, effort);
            EXPECT_EQ(outcome, sticks < least[255] ? nesting::Packer::Outcome::impossible
                                                   : nesting::Packer::Outcome::packed);
            (sticks < least[255] ? impossible : packed) += 1;
        }
        EXPECT_LE(nesting::leastSticks(problem), least[255]);
        EXPECT_GE(static_cast<int>(nesting::greedyPlan(problem).size()), least[255]);
    }
    EXPECT_EQ(packed, 60);
    EXPECT_EQ(impossible, 60);
}

}  // namespace
}  // namespace hoopwright
