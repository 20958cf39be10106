#include <gmock/gmock.h>

#include <numbers>

#include "core/geometry/centreline.h"

namespace hoopwright {
namespace {

using Kind = PathProblem::Kind;

PathResult make(std::vector<PathPoint> path) {
    return makeCentreline(path);
}

TEST(Path, OfNoLengthHasNoLine) {
    for (const auto& path : {std::vector<PathPoint>{}, {{{1, 2, 3}}}, {{{1, 2, 3}}, {{1, 2, 3}}}}) {
        const PathResult result = make(path);
        EXPECT_TRUE(result.line.empty());
        ASSERT_FALSE(result.problems.empty());
        EXPECT_EQ(result.problems.back().kind, Kind::too_few_points);
    }
}

TEST(Path, LeavesOutAPointInTheSamePlace) {
    const PathResult result = make({{{0, 0, 0}}, {{0, 0, 0}, 100}, {{500, 0, 0}, 100}, {{500, 500, 0}}});
    ASSERT_EQ(result.problems.size(), 1u);
    EXPECT_EQ(result.problems[0].kind, Kind::coincident_points);
    EXPECT_EQ(result.problems[0].vertex, 1);
    EXPECT_EQ(result.line.bendCount(), 1);
    EXPECT_EQ(result.line.pieces()[1].vertex, 2);
}

TEST(Path, NamesABendOfHalfATurnAndDrawsItSharp) {
    const PathResult result = make({{{0, 0, 0}}, {{500, 0, 0}, 100}, {{100, 0, 0}}});
    ASSERT_EQ(result.problems.size(), 1u);
    EXPECT_EQ(result.problems[0].kind, Kind::turns_back);
    EXPECT_EQ(result.problems[0].vertex, 1);
    EXPECT_NEAR(result.line.length_mm(), 900, 1e-9);
}

TEST(Path, NamesACornerWithoutARadius) {
    for (double radius : {0.0, -100.0, std::nan("")}) {
        const PathResult result = make({{{0, 0, 0}}, {{500, 0, 0}, radius}, {{500, 300, 0}}});
        ASSERT_EQ(result.problems.size(), 1u);
        EXPECT_EQ(result.problems[0].kind, Kind::no_radius);
        EXPECT_EQ(result.line.bendCount(), 0);
        EXPECT_NEAR(result.line.length_mm(), 800, 1e-9);
    }
}

TEST(Path, ACornerThatRunsStraightOnNeedsNoRadius) {
    const PathResult result = make({{{0, 0, 0}}, {{250, 0, 0}}, {{500, 0, 0}}});
    EXPECT_TRUE(result.problems.empty());
    EXPECT_NEAR(result.line.length_mm(), 500, 1e-12);
}

TEST(Path, SaysByHowMuchTwoBendsOverlapAndStillDrawsThem) {
    const PathResult result = make({{{0, 0, 0}}, {{500, 0, 0}, 150}, {{500, 200, 0}, 100}, {{900, 200, 0}}});
    ASSERT_EQ(result.problems.size(), 1u);
    EXPECT_EQ(result.problems[0].kind, Kind::bends_overlap);
    EXPECT_EQ(result.problems[0].vertex, 1);
    EXPECT_NEAR(result.problems[0].have_mm, 200, 1e-9);
    EXPECT_NEAR(result.problems[0].need_mm, 250, 1e-9);
    ASSERT_EQ(result.line.bendCount(), 2);
    EXPECT_NEAR(result.line.pieces()[1].radius_mm, 120, 1e-9);
    EXPECT_NEAR(result.line.pieces()[2].radius_mm, 80, 1e-9);
    EXPECT_TRUE(result.line.end().isApprox(Vec3(900, 200, 0)));
}

TEST(Path, ABendThatReachesPastAnEndOverlaps) {
    const PathResult result = make({{{0, 0, 0}}, {{80, 0, 0}, 100}, {{80, 500, 0}}});
    ASSERT_EQ(result.problems.size(), 1u);
    EXPECT_EQ(result.problems[0].kind, Kind::bends_overlap);
    EXPECT_EQ(result.problems[0].vertex, 1);
    EXPECT_NEAR(result.problems[0].need_mm, 100, 1e-9);
}

TEST(Path, BendsThatJustFitLeaveNoStraightBetween) {
    const PathResult result = make({{{0, 0, 0}}, {{500, 0, 0}, 100}, {{500, 200, 0}, 100}, {{900, 200, 0}}});
    EXPECT_TRUE(result.problems.empty());
    EXPECT_EQ(result.line.pieces().size(), 4u);
}

}  // namespace
}  // namespace hoopwright
