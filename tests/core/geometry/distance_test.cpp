#include "core/geometry/distance.h"

#include <gmock/gmock.h>

#include <numbers>

#include "tests/core/geometry/random_tubes.h"

namespace hoopwright {
namespace {

Centreline pathLine(std::vector<PathPoint> path) {
    return makeCentreline(path).line;
}
Centreline straight(const Vec3& from, const Vec3& to) {
    return pathLine({{from}, {to}});
}

/// A hoop 1200 wide and 1000 high at x.
Centreline hoopAt(double x) {
    return pathLine({{{x, 600, 0}}, {{x, 600, 1000}, 150}, {{x, -600, 1000}, 150}, {{x, -600, 0}}});
}

void expectConsistent(const Nearest& n, const Centreline& a, const Centreline& b) {
    EXPECT_NEAR((n.on_a - n.on_b).norm(), n.distance_mm, 1e-9);
    EXPECT_LT((a.point(n.station_a_mm) - n.on_a).norm(), 1e-9);
    EXPECT_LT((b.point(n.station_b_mm) - n.on_b).norm(), 1e-9);
}

/// Least distance of fine chords: never less than the true one by more than the chords' own error.
double byBruteForce(const Centreline& a, const Centreline& b, double chord_error) {
    double least = 1e9;
    const auto stations = b.sampleStations(chord_error);
    for (size_t k = 1; k < stations.size(); ++k) {
        least =
            std::min(least, nearestToSegment(a, b.point(stations[k - 1]), b.point(stations[k])).distance_mm);
    }
    return least;
}

TEST(Distance, OfRandomTubesIsThatOfFineChords) {
    std::mt19937_64 random(21);
    for (int i = 0; i < 150; ++i) {
        const Centreline a = randomTube(random), b = randomTube(random);
        const Nearest n = nearest(a, b);
        expectConsistent(n, a, b);
        EXPECT_NEAR(n.distance_mm, byBruteForce(a, b, 1e-4), 1.1e-4);
        EXPECT_NEAR(nearest(b, a).distance_mm, n.distance_mm, kDistanceError_mm);
    }
}

TEST(Distance, IsNeverMoreThanBetweenAnyTwoPoints) {
    std::mt19937_64 random(22);
    std::uniform_real_distribution<double> part(0, 1);
    for (int i = 0; i < 200; ++i) {
        const Centreline a = randomTube(random), b = randomTube(random);
        const double least = nearest(a, b).distance_mm;
        for (int k = 0; k < 300; ++k) {
            const Vec3 on_a = a.point(part(random) * a.length_mm());
            EXPECT_LE(least, (on_a - b.point(b.nearestStation(on_a))).norm() + kDistanceError_mm);
        }
    }
}

TEST(Distance, OfTwoHoopsAlikeIsTheirSpacingEverywhere) {
    const Nearest n = nearest(hoopAt(0), hoopAt(750));
    EXPECT_NEAR(n.distance_mm, 750, 1e-9);
    expectConsistent(n, hoopAt(0), hoopAt(750));
}

TEST(Distance, OfNestedBendsIsTheDifferenceOfRadii) {
    const Centreline outer = pathLine({{{200, 0, 0}}, {{200, 200, 0}, 200}, {{0, 200, 0}}});
    const Centreline inner = pathLine({{{120, 0, 0}}, {{120, 120, 0}, 120}, {{0, 120, 0}}});
    EXPECT_NEAR(nearest(outer, inner).distance_mm, 80, kDistanceError_mm);
}

TEST(Distance, OfNearlyParallelSegmentsIsAtTheRightEnd) {
    for (double rise : {0.0, 1e-12, 1e-9, 1e-7, 5e-5, 1e-3, 0.1}) {
        const Centreline a = straight({0, 0, 0}, {1000, 0, 0});
        EXPECT_NEAR(nearest(a, straight({0, 10 + rise, 0}, {1000, 10, 0})).distance_mm, 10, 1e-9) << rise;
        EXPECT_NEAR(nearest(a, straight({1000, 10, 0}, {0, 10 + rise, 0})).distance_mm, 10, 1e-9) << rise;
    }
}

TEST(Distance, OfAStretchLooksAtThatStretchOnly) {
    const Centreline a = hoopAt(0);
    const Centreline b = straight({0, 500, 500}, {300, 500, 500});
    EXPECT_NEAR(nearest(a, b).distance_mm, 100, 1e-9);
    const Nearest high = nearest(a, {700, 800}, b);
    EXPECT_NEAR(high.station_a_mm, 700, 1e-9);
    EXPECT_NEAR(high.distance_mm, std::hypot(100, 200), 1e-9);
    EXPECT_NEAR(nearest(a, {-50, 1e9}, b).distance_mm, 100, 1e-9);
}

TEST(Distance, WithinALimitAgreesWithTheWholeOrIsNothing) {
    std::mt19937_64 random(23);
    int found = 0;
    for (int i = 0; i < 400; ++i) {
        const Centreline a = randomTube(random), b = randomTube(random);
        const double exact = nearest(a, b).distance_mm;
        const auto near = nearestWithin(a, b, 300);
        if (exact > 300 + kDistanceError_mm) {
            EXPECT_FALSE(near);
        } else {
            ASSERT_TRUE(near);
            EXPECT_NEAR(near->distance_mm, exact, kDistanceError_mm);
            ++found;
        }
    }
    EXPECT_GT(found, 40);
}

TEST(Distance, ATubeAtTheLimitIsFound) {
    EXPECT_TRUE(nearestWithin(straight({0, 0, 0}, {500, 0, 0}), straight({0, 0, 60}, {500, 0, 60}), 60));
    EXPECT_FALSE(
        nearestWithin(straight({0, 0, 0}, {500, 0, 0}), straight({0, 0, 60.001}, {500, 0, 60.001}), 60));
}

TEST(Distance, ToASegmentOfNoLengthIsThatToAPoint) {
    const Vec3 p(40, 30, 1100);
    EXPECT_NEAR(nearestToSegment(hoopAt(0), p, p).distance_mm, nearest(hoopAt(0), p).distance_mm,
                kDistanceError_mm);
    EXPECT_NEAR(nearest(hoopAt(0), p).distance_mm, std::hypot(40, 100), 1e-9);
}

TEST(PlaneDistance, IsThatOfTheLowestPoint) {
    const Centreline sag = pathLine({{{0, 0, 500}}, {{300, 0, 100}, 200}, {{600, 0, 500}}});
    const Nearest low = nearestToPlane(sag, Vec3::Zero(), Vec3::UnitZ());
    EXPECT_NEAR(low.on_a.x(), 300, 1e-9);
    EXPECT_NEAR(low.distance_mm, sag.bounds().min().z(), 1e-9);
    EXPECT_NEAR(low.on_b.z(), 0, 1e-9);
    EXPECT_NEAR(tubeOverPlane_mm(sag, 20, Vec3::Zero(), Vec3::UnitZ()), low.distance_mm - 20, 1e-9);
    EXPECT_NEAR(nearestToPlane(sag, {0, 0, 400}, Vec3::UnitZ()).distance_mm, low.distance_mm - 400, 1e-9);
}

TEST(PlaneDistance, OfATubeIsThatOfItsRimsEverywhere) {
    std::mt19937_64 random(24);
    for (int i = 0; i < 200; ++i) {
        const Centreline tube = randomTube(random);
        const Vec3 n = randomUnit(random);
        double least = 1e9, axis = 1e9;
        for (double s : tube.sampleStations(1e-4)) {
            const double lean = n.dot(tube.tangent(s));
            axis = std::min(axis, n.dot(tube.point(s)));
            least = std::min(least, n.dot(tube.point(s)) - 22.5 * std::sqrt(1 - std::min(1.0, lean * lean)));
        }
        EXPECT_NEAR(tubeOverPlane_mm(tube, 22.5, Vec3::Zero(), n), least, 2e-4);
        EXPECT_NEAR(nearestToPlane(tube, Vec3::Zero(), n).distance_mm, axis, 2e-4);
    }
}

}  // namespace
}  // namespace hoopwright
