#include <gmock/gmock.h>

#include <numbers>

#include "core/geometry/distance.h"
#include "tests/core/geometry/random_tubes.h"

namespace hoopwright {
namespace {

Ellipsoid helmet(std::mt19937_64& random) {
    std::uniform_real_distribution<double> half(90, 190), place(-300, 300);
    Ellipsoid e;
    e.centre = {place(random), place(random), place(random)};
    e.half_mm = {half(random), half(random), half(random)};
    e.axes = Eigen::AngleAxisd(half(random), randomUnit(random)).toRotationMatrix();
    return e;
}

/// Left side of the ellipsoid's equation: 1 on the surface.
double equation(const Ellipsoid& e, const Vec3& p) {
    return (e.axes.transpose() * (p - e.centre)).cwiseQuotient(e.half_mm).squaredNorm();
}

TEST(Ellipsoid, OfEqualHalvesIsABall) {
    Ellipsoid ball;
    ball.half_mm = Vec3::Constant(150);
    EXPECT_NEAR(ball.toPoint({0, 0, 400}).distance_mm, 250, 1e-9);
    EXPECT_NEAR(ball.toPoint({30, 40, 0}).distance_mm, -100, 1e-9);
    EXPECT_NEAR(ball.toPoint({0, 0, 0}).distance_mm, -150, 1e-9);
}

TEST(Ellipsoid, SupportIsTheFarthestSurfacePoint) {
    std::mt19937_64 random(31);
    for (int i = 0; i < 300; ++i) {
        const Ellipsoid e = helmet(random);
        const Vec3 d = randomUnit(random) * 7;
        const Vec3 far = e.support(d);
        EXPECT_NEAR(equation(e, far), 1, 1e-12);
        for (int k = 0; k < 30; ++k) EXPECT_LE(d.dot(e.support(randomUnit(random))), d.dot(far) + 1e-9);
    }
}

TEST(Ellipsoid, NearestPointIsOnTheSurfaceAndSquareToIt) {
    std::mt19937_64 random(32);
    std::uniform_real_distribution<double> place(-500, 500);
    for (int i = 0; i < 2000; ++i) {
        const Ellipsoid e = helmet(random);
        const Vec3 p(place(random), place(random), place(random));
        const Nearest n = e.toPoint(p);
        EXPECT_NEAR(equation(e, n.on_b), 1, 1e-9);
        const Vec3 local = e.axes.transpose() * (n.on_b - e.centre);
        const Vec3 normal = (e.axes * local.cwiseQuotient(e.half_mm.cwiseProduct(e.half_mm))).normalized();
        EXPECT_LT((p - n.on_b).cross(normal).norm(), 1e-6);
        EXPECT_EQ(n.distance_mm > 0, equation(e, p) > 1);
        EXPECT_NEAR(std::abs(n.distance_mm), (p - n.on_b).norm(), 1e-12);
    }
}

TEST(Ellipsoid, DeepInsideTheNearestPointIsOnTheShortestHalf) {
    Ellipsoid e;
    e.half_mm = {150, 120, 130};
    EXPECT_NEAR(e.toPoint({0, 0, 0}).distance_mm, -120, 1e-9);
    // On the long axis inside the focal curve: x = h0^2 p / (h0^2 - h1^2), found by hand.
    const Nearest n = e.toPoint({20, 0, 0});
    const double x = 150. * 150 * 20 / (150. * 150 - 120. * 120);
    EXPECT_NEAR(n.on_b.x(), x, 1e-6);
    EXPECT_NEAR(std::abs(n.on_b.y()), 120 * std::sqrt(1 - x * x / 22500), 1e-6);
}

TEST(Ellipsoid, ToATubeIsTheLeastOverFineSamples) {
    std::mt19937_64 random(33);
    int inside = 0;
    for (int i = 0; i < 100; ++i) {
        Ellipsoid e = helmet(random);
        const Centreline tube = randomTube(random);
        e.centre = tube.point(0.6 * tube.length_mm()) + 250 * randomUnit(random);
        const Nearest n = nearest(tube, e);
        double least = 1e9;
        for (int k = 0; k <= 3000; ++k)
            least = std::min(least, e.toPoint(tube.point(tube.length_mm() * k / 3000)).distance_mm);
        EXPECT_LE(n.distance_mm, least + kDistanceError_mm);
        EXPECT_NEAR(n.distance_mm, least, tube.length_mm() / 6000);  // it cannot change faster than the place
        EXPECT_LT((tube.point(n.station_a_mm) - n.on_a).norm(), 1e-9);
        EXPECT_NEAR((n.on_a - n.on_b).norm(), std::abs(n.distance_mm), 1e-9);
        inside += n.distance_mm < 0;
    }
    EXPECT_GT(inside, 3);
}

TEST(Ellipsoid, ToALineBetweenTwoHoops) {
    Ellipsoid e;
    e.half_mm = {150, 120, 130};
    const Nearest over = nearestToSegment(e, {-500, 30, 200}, {700, 30, 200});
    EXPECT_LT(over.distance_mm, 200 - 130 + 5);
    EXPECT_NEAR(over.on_b.z(), 200, 1e-9);
    EXPECT_NEAR(over.on_b.x(), 0, 0.2);
    EXPECT_NEAR(over.station_b_mm, 500, 0.2);
    EXPECT_NEAR(equation(e, over.on_a), 1, 1e-9);
    EXPECT_NEAR(nearestToSegment(e, {-500, 0, 200}, {700, 0, 200}).distance_mm, 70, kDistanceError_mm);
    EXPECT_NEAR(nearestToSegment(e, {-500, 0, 100}, {700, 0, 100}).distance_mm, -30, 0.5);
    EXPECT_NEAR(nearestToSegment(e, {300, 0, 0}, {300, 0, 0}).distance_mm, 150, kDistanceError_mm);
}

}  // namespace
}  // namespace hoopwright
