// Published cutting-stock instances with a known optimum; the source of each stands in its file. And lists
// with a saw cut between the pieces, of our own making, whose optimum two integer programming libraries
// agreed on.
#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "core/base/text.h"
#include "core/shop/nest.h"

namespace hoopwright {
namespace {

struct Published {
    const char* file;
    double stick_mm;
    std::size_t optimum;
};

void PrintTo(const Published& instance, std::ostream* out) {
    *out << instance.file;
}

void addPieces(std::vector<Piece1d>& pieces, double length, int count) {
    for (int i = 0; i < count; ++i) pieces.push_back({"piece", length});
}

std::vector<Piece1d> piecesOfFile(const std::string& name) {
    std::ifstream file(std::string(HOOPWRIGHT_SOURCE_DIR) + "/tests/outside/data/stock/" + name + ".csv");
    std::vector<Piece1d> pieces;
    for (std::string line; std::getline(file, line);) {
        if (line.empty() || line[0] == '#') continue;
        const auto comma = line.find(',');
        addPieces(pieces, plainNumber(line.substr(0, comma)).value(),
                  static_cast<int>(plainNumber(line.substr(comma + 1)).value()));
    }
    return pieces;
}

/// "3290x2 2525x2 2360"
std::vector<Piece1d> piecesOfList(const std::string& list, double to_mm = 1) {
    std::vector<Piece1d> pieces;
    std::istringstream words(list);
    for (std::string word; words >> word;) {
        const auto times = word.find('x');
        const int count =
            times == std::string::npos ? 1 : static_cast<int>(plainNumber(word.substr(times + 1)).value());
        addPieces(pieces, to_mm * plainNumber(word.substr(0, times)).value(), count);
    }
    return pieces;
}

class PublishedStock : public ::testing::TestWithParam<Published> {};

TEST_P(PublishedStock, IsCutFromTheKnownNumberOfSticksAndProved) {
    const std::vector<Piece1d> pieces = piecesOfFile(GetParam().file);
    ASSERT_GT(pieces.size(), 100u);
    const Expected<NestPlan> plan = nest(pieces, {{GetParam().stick_mm, 0}}, 0);
    ASSERT_TRUE(plan) << plan.reason();
    EXPECT_EQ(plan->sticks.size(), GetParam().optimum);
    EXPECT_EQ(plan->lower_bound, static_cast<int>(GetParam().optimum));
    EXPECT_TRUE(plan->proved);
}

INSTANTIATE_TEST_SUITE_P(Files, PublishedStock,
                         ::testing::Values(Published{"thirteen_widths", 5600, 73},
                                           Published{"paper_rolls", 100, 453},
                                           Published{"roll_trim", 110, 47}, Published{"u120_00", 150, 48},
                                           Published{"u120_01", 150, 49}, Published{"u120_02", 150, 46},
                                           Published{"u120_03", 150, 49}));

std::size_t sticksFor(const std::vector<Piece1d>& pieces, double stick_mm, double kerf_mm) {
    const Expected<NestPlan> plan = nest(pieces, {{stick_mm, 0}}, kerf_mm);
    EXPECT_TRUE(plan && plan->proved);
    return plan ? plan->sticks.size() : 0;
}

TEST(StockWithKerf, ACageLikeListInSixMetreSticks) {
    const auto pieces = piecesOfList("3290x2 2525x2 1390x2 1060x4 1465x2 905x3 640x6 415x4 260x8");
    EXPECT_EQ(sticksFor(pieces, 6000, 0), 6u);
    EXPECT_EQ(sticksFor(pieces, 6000, 3), 6u);
}

TEST(StockWithKerf, TheSawCutDecidesWhetherFourFit) {
    EXPECT_EQ(sticksFor(piecesOfList("1497.75x8"), 6000, 3), 2u);
    EXPECT_EQ(sticksFor(piecesOfList("1500x8"), 6000, 3), 3u);
    EXPECT_EQ(sticksFor(piecesOfList("1500x8"), 6000, 0), 2u);
}

NestPlan planFor(const std::vector<Piece1d>& pieces, const NestWish& wish) {
    const Expected<NestPlan> plan = nest(pieces, wish);
    EXPECT_TRUE(plan && plan->proved);
    return plan ? *plan : NestPlan{};
}

// Either convention: sum + (n - 1) kerf <= stick, or sum + n kerf <= stick.
TEST(StockWithKerf, ByEitherConvention) {
    NestWish wish;
    wish.sticks = {{6000, 0}};
    wish.kerf_at = KerfAt::every_cut;
    EXPECT_EQ(planFor(piecesOfList("1497.75x8"), wish).bought(), 3);
    EXPECT_EQ(
        planFor(piecesOfList("3290x2 2525x2 1390x2 1060x4 1465x2 905x3 640x6 415x4 260x8"), wish).bought(),
        6);
}

TEST(StockWithKerf, OffCutsOnTheRackSaveAStick) {
    const auto pieces = piecesOfList("3290 2525x2 1390x2 1060x3 640x4 415x2");
    NestWish wish;
    wish.sticks = {{6000, 0}};
    EXPECT_EQ(planFor(pieces, wish).bought(), 3);
    wish.owned = {{3100, ""}, {2400, ""}, {1850, ""}};
    EXPECT_EQ(planFor(pieces, wish).bought(), 2);
}

TEST(StockWithKerf, ListsOnWhichFirstFitWastesAStick) {
    EXPECT_EQ(sticksFor(piecesOfList("2360 2100x3 1035 735x3"), 6000, 3), 2u);
    EXPECT_EQ(sticksFor(piecesOfList("2960 2530x3 2390x2 1065x2"), 6000, 3), 3u);
}

TEST(StockWithKerf, InchListsInTwentyFootSticks) {
    const auto cage =
        piecesOfList("129.5x2 99.4375x2 54.75x2 41.75x4 57.6875x2 35.625x3 25.25x6 16.375x4 10.25x8", 25.4);
    EXPECT_EQ(sticksFor(cage, 240 * 25.4, 25.4 / 16), 6u);
    EXPECT_EQ(sticksFor(piecesOfList("80x3 59.9375x4 47.95x5 39.9x6", 25.4), 240 * 25.4, 25.4 / 8), 5u);
}

TEST(StockWithKerf, TwoStickLengthsLeastLengthBought) {
    const Expected<NestPlan> plan =
        nest(piecesOfList("3290 2525x2 1390x2 1060x3 640x4 415x2"), {{6000, 0}, {7500, 0}}, 3);
    ASSERT_TRUE(plan);
    EXPECT_EQ(plan->bought_mm, 18000);
    EXPECT_TRUE(plan->proved);
}

}  // namespace
}  // namespace hoopwright
