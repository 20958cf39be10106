#include <gmock/gmock.h>

#include <numbers>

#include "core/geometry/centreline.h"
#include "tests/core/geometry/random_tubes.h"

namespace hoopwright {
namespace {

using std::numbers::pi;

TEST(BendTable, OfAStraightTubeIsItsLength) {
    const std::vector<PathPoint> path = {{{0, 0, 0}}, {{0, 300, 400}}};
    const BendTable table = bendTable(makeCentreline(path).line);
    EXPECT_TRUE(table.rows.empty());
    EXPECT_NEAR(table.last_straight_mm, 500, 1e-12);
    EXPECT_NEAR(table.developed_mm, 500, 1e-12);
}

TEST(BendTable, WalkedForwardIsTheTubeAgain) {
    std::mt19937_64 random(8);
    for (int i = 0; i < 500; ++i) {
        const Centreline tube = randomTube(random);
        const BendTable table = bendTable(tube);
        const Vec3 feed = tube.tangent(0);
        const Vec3 up =
            tube.bendCount() > 0 ? tube.pieces()[1].axis.cross(feed).eval() : feed.unitOrthogonal().eval();
        const Centreline again = walkBendTable(table, tube.start(), feed, up);
        ASSERT_NEAR(again.length_mm(), tube.length_mm(), 1e-9);
        for (int k = 0; k <= 20; ++k) {
            const double s = tube.length_mm() * k / 20;
            EXPECT_LT((again.point(s) - tube.point(s)).norm(), 1e-8);
        }
    }
}

TEST(BendTable, OfTheTableWalkedIsTheTableAgain) {
    std::mt19937_64 random(9);
    for (int i = 0; i < 300; ++i) {
        const BendTable table = bendTable(randomTube(random));
        const BendTable again = bendTable(walkBendTable(table, {1, 2, 3}, Vec3::UnitX(), Vec3::UnitZ()));
        ASSERT_EQ(again.rows.size(), table.rows.size());
        for (size_t k = 0; k < table.rows.size(); ++k) {
            EXPECT_NEAR(again.rows[k].straight_before_mm, table.rows[k].straight_before_mm, 1e-8);
            EXPECT_NEAR(std::remainder(again.rows[k].rotation_rad - table.rows[k].rotation_rad, 2 * pi), 0,
                        1e-9);
            EXPECT_NEAR(again.rows[k].angle_rad, table.rows[k].angle_rad, 1e-12);
            EXPECT_NEAR(again.rows[k].mark_end_mm, table.rows[k].mark_end_mm, 1e-8);
        }
    }
}

TEST(BendTable, OfAMirroredTubeDiffersOnlyInTheSignOfItsRotations) {
    std::mt19937_64 random(10);
    for (int i = 0; i < 300; ++i) {
        const Centreline tube = randomTube(random);
        const BendTable one = bendTable(tube);
        const BendTable other = bendTable(tube.mirrored());
        ASSERT_EQ(one.rows.size(), other.rows.size());
        for (size_t k = 0; k < one.rows.size(); ++k) {
            EXPECT_NEAR(one.rows[k].rotation_rad, -other.rows[k].rotation_rad, 1e-9);
            EXPECT_DOUBLE_EQ(one.rows[k].straight_before_mm, other.rows[k].straight_before_mm);
            EXPECT_DOUBLE_EQ(one.rows[k].angle_rad, other.rows[k].angle_rad);
        }
    }
}

TEST(BendTable, OfAnSBendTurnsHalfRoundAndSaysPlus) {
    const std::vector<PathPoint> path = {
        {{0, 0, 0}}, {{400, 0, 0}, 120}, {{700, 300, 0}, 120}, {{1100, 300, 0}}};
    EXPECT_NEAR(bendTable(makeCentreline(path).line).rows[1].rotation_rad, pi, 1e-12);
}

TEST(BendTable, ASharpCornerIsARowOfNoRadius) {
    const std::vector<PathPoint> path = {{{0, 0, 0}}, {{400, 0, 0}}, {{400, 300, 0}, 100}, {{400, 300, 500}}};
    const BendTable table = bendTable(makeCentreline(path).line);
    ASSERT_EQ(table.rows.size(), 2u);
    EXPECT_EQ(table.rows[0].radius_mm, 0);
    EXPECT_NEAR(table.rows[0].angle_rad, pi / 2, 1e-12);
    EXPECT_NEAR(table.rows[1].rotation_rad, pi / 2, 1e-12);
    EXPECT_NEAR(table.rows[1].straight_before_mm, 200, 1e-9);
}

}  // namespace
}  // namespace hoopwright
