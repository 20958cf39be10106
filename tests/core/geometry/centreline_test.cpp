#include "core/geometry/centreline.h"

#include <gmock/gmock.h>

#include <numbers>

#include "tests/core/geometry/random_tubes.h"

namespace hoopwright {
namespace {

using std::numbers::pi;
using testing::ElementsAre;

Centreline lineOf(std::vector<PathPoint> path) {
    return makeCentreline(path).line;
}

/// A hoop of two legs and a top, 100 mm bends.
Centreline hoop() {
    return lineOf({{{0, 600, 0}}, {{0, 600, 1000}, 100}, {{0, -600, 1000}, 100}, {{0, -600, 0}}});
}

TEST(Centreline, OfOneCornerIsStraightArcStraight) {
    const Centreline line = lineOf({{{0, 0, 0}}, {{500, 0, 0}, 100}, {{500, 300, 0}}});
    ASSERT_EQ(line.pieces().size(), 3u);
    EXPECT_NEAR(line.pieces()[0].length_mm, 400, 1e-12);
    EXPECT_NEAR(line.pieces()[1].length_mm, 50 * pi, 1e-12);
    EXPECT_NEAR(line.pieces()[2].length_mm, 200, 1e-12);
    EXPECT_EQ(line.pieces()[1].vertex, 1);
    EXPECT_TRUE(line.pieces()[1].axis.isApprox(Vec3::UnitZ()));
    EXPECT_TRUE(line.pieces()[1].centre.isApprox(Vec3(400, 100, 0)));
    EXPECT_NEAR(line.length_mm(), 600 + 50 * pi, 1e-12);
    EXPECT_EQ(line.bendCount(), 1);
    const Vec3 half = line.point(400 + 25 * pi);
    EXPECT_TRUE(half.isApprox(Vec3(400 + 100 * std::sqrt(0.5), 100 - 100 * std::sqrt(0.5), 0), 1e-12));
    EXPECT_TRUE(line.tangent(400 + 25 * pi).isApprox(Vec3(1, 1, 0).normalized(), 1e-12));
}

TEST(Centreline, StationsAreClampedToItsEnds) {
    const Centreline line = hoop();
    EXPECT_EQ(line.point(-5), Vec3(0, 600, 0));
    EXPECT_TRUE(line.point(1e6).isApprox(Vec3(0, -600, 0)));
    EXPECT_TRUE(line.tangent(1e6).isApprox(-Vec3::UnitZ()));
}

TEST(Centreline, PiecesJoinInPlaceAndDirection) {
    std::mt19937_64 random(1);
    for (int i = 0; i < 300; ++i) {
        const Centreline line = randomTube(random);
        const auto pieces = line.pieces();
        for (size_t k = 1; k < pieces.size(); ++k) {
            EXPECT_LT((pieces[k].start - pieces[k - 1].end()).norm(), 1e-9);
            EXPECT_LT((pieces[k].tangent - pieces[k - 1].endTangent()).norm(), 1e-9);
            EXPECT_DOUBLE_EQ(pieces[k].station_mm, pieces[k - 1].station_mm + pieces[k - 1].length_mm);
        }
    }
}

TEST(Centreline, ReversedIsTheSameTubeTheOtherWay) {
    std::mt19937_64 random(2);
    for (int i = 0; i < 100; ++i) {
        const Centreline line = randomTube(random);
        const Centreline back = line.reversed();
        ASSERT_NEAR(back.length_mm(), line.length_mm(), 1e-9);
        for (double part : {0.0, 0.13, 0.5, 0.77, 1.0}) {
            const double s = part * line.length_mm();
            EXPECT_LT((back.point(back.length_mm() - s) - line.point(s)).norm(), 1e-9);
        }
        EXPECT_LT((back.tangent(0) + line.tangent(line.length_mm())).norm(), 1e-9);
    }
}

TEST(Centreline, MirroredIsOnTheOtherSideOfTheCar) {
    std::mt19937_64 random(3);
    for (int i = 0; i < 100; ++i) {
        const Centreline line = randomTube(random);
        const Centreline other = line.mirrored();
        for (double part : {0.0, 0.21, 0.5, 0.9, 1.0}) {
            const double s = part * line.length_mm();
            EXPECT_LT((other.point(s) - mirrored(line.point(s))).norm(), 1e-9);
            EXPECT_LT((other.tangent(s) - mirrored(line.tangent(s))).norm(), 1e-9);
        }
    }
}

TEST(Centreline, BoundsAreThoseOfTheArcsToo) {
    const Centreline line = lineOf({{{0, 0, 0}}, {{0, 0, 500}, 200}, {{400, 0, 100}}});
    const Box box = line.bounds();
    const Piece& bend = line.pieces()[1];
    EXPECT_NEAR(box.max().z(), bend.centre.z() + 200, 1e-9);
    EXPECT_LT(box.max().z(), 500);
    std::mt19937_64 random(4);
    for (int i = 0; i < 50; ++i) {
        const Centreline tube = randomTube(random);
        Box sampled;
        for (double s : tube.sampleStations(1e-4)) sampled.extend(tube.point(s));
        EXPECT_LT((tube.bounds().max() - sampled.max()).cwiseAbs().maxCoeff(), 2e-4);
        EXPECT_LT((tube.bounds().min() - sampled.min()).cwiseAbs().maxCoeff(), 2e-4);
        EXPECT_GE((tube.bounds().max() - sampled.max()).minCoeff(), -1e-9);
    }
}

TEST(Centreline, NearestStationIsThatOfAFineSearch) {
    std::mt19937_64 random(5);
    std::uniform_real_distribution<double> place(-1500, 1500);
    for (int i = 0; i < 200; ++i) {
        const Centreline tube = randomTube(random);
        const Vec3 p(place(random), place(random), place(random));
        const double found = (tube.point(tube.nearestStation(p)) - p).norm();
        double least = 1e9;
        for (int k = 0; k <= 4000; ++k)
            least = std::min(least, (tube.point(tube.length_mm() * k / 4000) - p).norm());
        EXPECT_LE(found, least + 1e-9);
        EXPECT_NEAR(found, least, 1.0);
    }
}

TEST(Centreline, NearestStationOfAnArcsOwnCentreIsOnTheArc) {
    const Centreline line = lineOf({{{0, 0, 0}}, {{500, 0, 0}, 100}, {{500, 300, 0}}});
    EXPECT_NEAR((line.point(line.nearestStation({400, 100, 7})) - Vec3(400, 100, 7)).norm(),
                std::hypot(100, 7), 1e-9);
}

TEST(Centreline, CrossesAHeightOnBothLegsOfAHoop) {
    const auto stations = hoop().crossings({0, 0, 400}, Vec3::UnitZ());
    ASSERT_EQ(stations.size(), 2u);
    EXPECT_NEAR(stations[0], 400, 1e-9);
    EXPECT_NEAR(stations[1], hoop().length_mm() - 400, 1e-9);
}

TEST(Centreline, CrossesInsideBendsAndTouchesOnce) {
    for (double s : hoop().crossings({0, 0, 950}, Vec3::UnitZ())) EXPECT_NEAR(hoop().point(s).z(), 950, 1e-9);
    EXPECT_EQ(hoop().crossings({0, 0, 950}, Vec3::UnitZ()).size(), 2u);
    EXPECT_TRUE(hoop().crossings({0, 0, 1000.1}, Vec3::UnitZ()).empty());
    const Centreline arch = lineOf({{{0, 0, 0}}, {{0, 0, 500}, 200}, {{400, 0, 100}}});
    const double top = arch.bounds().max().z();
    EXPECT_EQ(arch.crossings({0, 0, top}, Vec3::UnitZ()).size(), 1u);
}

TEST(Centreline, APieceLyingInThePlaneGivesItsEnds) {
    const auto stations = hoop().crossings({0, 0, 1000}, Vec3::UnitZ());
    ASSERT_EQ(stations.size(), 2u);
    EXPECT_NEAR(stations[0], 900 + 50 * pi, 1e-9);
    EXPECT_NEAR(stations[1], 900 + 50 * pi + 1000, 1e-9);
}

TEST(Centreline, CrossingsAreOnThePlaneForAnyTube) {
    std::mt19937_64 random(6);
    std::uniform_real_distribution<double> place(-300, 300);
    int found = 0;
    for (int i = 0; i < 300; ++i) {
        const Centreline tube = randomTube(random);
        const Vec3 p = tube.point(tube.length_mm() * 0.4) + Vec3(place(random), place(random), place(random));
        const Vec3 n = Vec3(place(random), place(random), place(random)).normalized();
        const auto stations = tube.crossings(p, n);
        for (double s : stations) EXPECT_NEAR(n.dot(tube.point(s) - p), 0, 1e-8);
        int changes = 0;
        double last = n.dot(tube.point(0) - p);
        for (int k = 1; k <= 2000; ++k) {
            const double height = n.dot(tube.point(tube.length_mm() * k / 2000) - p);
            changes += (height > 0) != (last > 0);
            last = height;
        }
        EXPECT_GE(static_cast<int>(stations.size()), changes);
        found += changes;
    }
    EXPECT_GT(found, 100);
}

TEST(Centreline, SamplesKeepChordsWithinTheErrorAsked) {
    const Centreline line = hoop();
    const auto stations = line.sampleStations(0.5);
    EXPECT_EQ(stations.front(), 0);
    EXPECT_EQ(stations.back(), line.length_mm());
    double worst = 0;
    for (size_t i = 1; i < stations.size(); ++i) {
        ASSERT_GT(stations[i], stations[i - 1]);
        const Vec3 middle = 0.5 * (line.point(stations[i]) + line.point(stations[i - 1]));
        worst = std::max(worst, (line.point(0.5 * (stations[i] + stations[i - 1])) - middle).norm());
    }
    EXPECT_LE(worst, 0.5);
    EXPECT_GT(worst, 0.1);
}

}  // namespace
}  // namespace hoopwright
