// A second opinion from GLPK's branch and bound, on small cases and on what the demo cages are cut from.
#ifdef HOOPWRIGHT_HAVE_GLPK
#include <cmath>
#include <random>

#include "core/files/job_file.h"
#include "core/model/resolve.h"
#include "core/shop/order.h"
#include "tests/outside/stock/glpk_model.h"

namespace hoopwright {
namespace {

TEST(StockAgainstGlpk, OneStickLengthTheSameNumberOfSticks) {
    std::mt19937 random(2024);
    std::uniform_int_distribution<int> length(700, 3600);
    for (int round = 0; round < 12; ++round) {
        std::vector<Piece1d> pieces;
        for (int i = 0; i < 9; ++i) pieces.push_back({"p", static_cast<double>(length(random))});
        const std::vector<StickLength> sticks{{6000, 0}};
        const Expected<NestPlan> plan = nest(pieces, sticks, 3);
        ASSERT_TRUE(plan && plan->proved);
        EXPECT_EQ(std::lround(leastCost(pieces, sticks, {1.0}, 3, plan->sticks.size())),
                  static_cast<long>(plan->sticks.size()));
    }
}

TEST(StockAgainstGlpk, SeveralStickLengthsTheSamePrice) {
    std::mt19937 random(77);
    std::uniform_int_distribution<int> length(500, 3500);
    for (int round = 0; round < 12; ++round) {
        std::vector<Piece1d> pieces;
        for (int i = 0; i < 7; ++i) pieces.push_back({"p", static_cast<double>(length(random))});
        const std::vector<StickLength> sticks{{6096, 100}, {7315, 118}, {4064, 69}};
        const Expected<NestPlan> plan = nest(pieces, sticks, 3);
        ASSERT_TRUE(plan && plan->proved);
        EXPECT_NEAR(leastCost(pieces, sticks, {100, 118, 69}, 3, plan->sticks.size() + 2), plan->price, 1e-6);
    }
}

TEST(StockAgainstGlpk, OffCutsFirstAndKerfEitherWayTheSamePrice) {
    std::mt19937 random(4711);
    std::uniform_int_distribution<int> length(500, 3500);
    for (int round = 0; round < 12; ++round) {
        std::vector<Piece1d> pieces;
        for (int i = 0; i < 7; ++i) pieces.push_back({"p", static_cast<double>(length(random))});
        NestWish wish;
        wish.sticks = {{6096, 100}, {7315, 118}, {4064, 69}};
        wish.kerf_at = round % 2 == 0 ? KerfAt::every_cut : KerfAt::between_pieces;
        for (int i = 0; i < round % 4; ++i) wish.owned.push_back({static_cast<double>(length(random)), ""});
        const Expected<NestPlan> plan = nest(pieces, wish);
        ASSERT_TRUE(plan && plan->proved);
        EXPECT_NEAR(leastCost(pieces, wish.sticks, {100, 118, 69}, 3,
                              static_cast<std::size_t>(plan->bought()) + 1, wish.owned, wish.kerf_at),
                    plan->price, 1e-6)
            << round;
    }
}

/// Every tube of a demo's order: what GLPK pays for the same pieces.
class DemoAgainstGlpk : public testing::TestWithParam<std::string> {};
INSTANTIATE_TEST_SUITE_P(Jobs, DemoAgainstGlpk, testing::Values("hillclimb_saloon", "mile_pickup"),
                         [](const auto& it) { return it.param; });

TEST_P(DemoAgainstGlpk, TheOrderCannotBeCutFromLess) {
    const JobResult read =
        readJob(std::string(HOOPWRIGHT_SOURCE_DIR) + "/data/cages/" + GetParam() + ".yaml");
    ASSERT_TRUE(read.job);
    Job job = *read.job;
    job.cage.apart.clear();
    OrderWishes all_bought;
    all_bought.off_cuts_first = false;
    all_bought.kerf_at = KerfAt::between_pieces;
    const Order bought = order(job, resolve(job), all_bought);
    ASSERT_FALSE(bought.tubes.empty());
    for (const OrderTube& tube : bought.tubes) {
        ASSERT_EQ(tube.trouble, "") << tube.stock;
        std::vector<Piece1d> pieces;
        double length = 0;
        for (const OrderPiece& piece : tube.pieces) {
            pieces.push_back({"p", piece.cut.blank_mm});
            length += piece.cut.blank_mm;
        }
        // The unit of cost is that of the plan: sticks where there is one length, else money, else length.
        std::vector<double> cost;
        for (const StickLength& stick : tube.sticks)
            cost.push_back(tube.sticks.size() == 1 ? 1 : stick.price > 0 ? stick.price : stick.length_mm);
        double ours = 0;
        for (const CutStick& stick : tube.nest.sticks) ours += cost[static_cast<std::size_t>(stick.stick)];
        EXPECT_NEAR(leastCost(pieces, tube.sticks, cost, read.job->stock.kerf_mm, tube.nest.sticks.size()),
                    ours, 1e-6)
            << tube.stock;
        EXPECT_GE(tube.nest.bought_mm, length) << tube.stock;
    }
}

}  // namespace
}  // namespace hoopwright
#endif
