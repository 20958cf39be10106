#include "core/fit/bent_path.h"

#include <gmock/gmock.h>

#include <random>

#include "core/fit/path_of.h"

namespace hoopwright {
namespace {

std::vector<Vec3> randomPath(std::mt19937_64& random) {
    std::uniform_real_distribution<double> off(-250, 250);
    std::vector<Vec3> path;
    for (int i = 0; i < 5; ++i) path.emplace_back(700.0 * i + off(random), off(random), off(random));
    return path;
}

Centreline lineOf(const std::vector<Vec3>& path, double radius_mm) {
    std::vector<PathPoint> points;
    for (const Vec3& at : path) points.push_back({at, radius_mm});
    PathResult made = makeCentreline(points);
    EXPECT_TRUE(made.problems.empty());
    return made.line;
}

TEST(BentPath, IsTheCentrelineThatIsDrawn) {
    std::mt19937_64 random(12);
    for (int round = 0; round < 50; ++round) {
        const std::vector<Vec3> path = randomPath(random);
        const Centreline line = lineOf(path, 110);
        const BentPath bent(path, 110);
        ASSERT_EQ(static_cast<std::size_t>(bent.pieces()), line.pieces().size());
        for (int piece = 0; piece < bent.pieces(); ++piece) {
            const Piece& drawn = line.pieces()[static_cast<std::size_t>(piece)];
            EXPECT_NEAR(bent.length_mm(piece), drawn.length_mm, 1e-9);
            for (const double share : {0.0, 0.3, 1.0})
                EXPECT_NEAR((bent.point({piece, share}) - drawn.point(share * drawn.length_mm)).norm(), 0,
                            1e-9);
        }
        const std::vector<Vec3> again = pathOf(line);
        ASSERT_EQ(again.size(), path.size());
        for (std::size_t i = 0; i < path.size(); ++i) EXPECT_NEAR((again[i] - path[i]).norm(), 0, 1e-8);
    }
}

TEST(BentPath, NearestAgreesWithTheCentreline) {
    std::mt19937_64 random(13);
    std::uniform_real_distribution<double> off(-700, 700);
    for (int round = 0; round < 200; ++round) {
        const std::vector<Vec3> path = randomPath(random);
        const Centreline line = lineOf(path, 110);
        const Vec3 p(1400 + 2 * off(random), off(random), off(random));
        const auto near = BentPath(path, 110).nearest(p);
        EXPECT_NEAR(near.distance_mm, (line.point(line.nearestStation(p)) - p).norm(), 1e-9);
        EXPECT_NEAR((BentPath(path, 110).point(near.place) - near.at).norm(), 0, 1e-12);
    }
}

TEST(BentPath, SkipsItsEndsAndGoesOnWhereBendsOverlap) {
    const std::vector<Vec3> path = {{0, 0, 0}, {500, 0, 0}, {500, 600, 0}};
    const BentPath bent(path, 100, {50, 70});
    EXPECT_NEAR(bent.length_mm(0), 500 - 100 - 50, 1e-9);
    EXPECT_NEAR(bent.length_mm(2), 600 - 100 - 70, 1e-9);
    EXPECT_NEAR(bent.straight_mm(0), 400, 1e-9);
    EXPECT_NEAR(BentPath(path, 700).straight_mm(0), -200, 1e-9);
}

TEST(Centreline, PartHasTheSamePlaces) {
    std::mt19937_64 random(14);
    const Centreline line = lineOf(randomPath(random), 110);
    const Centreline part = partOf(line, 430, 1900);
    EXPECT_NEAR(part.length_mm(), 1470, 1e-9);
    for (double s = 0; s <= 1470; s += 35) {
        EXPECT_NEAR((part.point(s) - line.point(s + 430)).norm(), 0, 1e-9);
        EXPECT_NEAR((part.tangent(s) - line.tangent(s + 430)).norm(), 0, 1e-9);
    }
    EXPECT_TRUE(partOf(line, 500, 500).empty());
    EXPECT_NEAR(partOf(line, -10, 1e9).length_mm(), line.length_mm(), 1e-9);
}

}  // namespace
}  // namespace hoopwright
