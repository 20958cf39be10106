// The sheet over the bars, against boxes worked out by hand and against many directions tried one by one.
#include "core/geometry/envelope.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "core/geometry/hull.h"

namespace hoopwright {
namespace {

bool anyWay(const Vec3&) {
    return true;
}

Centreline between(const Vec3& a, const Vec3& b) {
    const PathPoint path[] = {{a, 0}, {b, 0}};
    return makeCentreline(path).line;
}

/// Four upright tubes at the corners of a box of 2 x 1.2 x 1 m.
std::vector<Centreline> boxPosts() {
    std::vector<Centreline> out;
    for (double x : {-1000.0, 1000.0})
        for (double y : {-600.0, 600.0}) out.push_back(between({x, y, 0}, {x, y, 1000}));
    return out;
}
Envelope envelopeOf(const std::vector<Centreline>& lines, double radius) {
    std::vector<EnvelopeTube> tubes;
    for (const Centreline& line : lines) tubes.push_back({&line, radius});
    return Envelope(tubes);
}

TEST(Envelope, OfABoxIsABoxGrownByTheTubes) {
    const auto posts = boxPosts();
    const Envelope sheet = envelopeOf(posts, 20);
    ASSERT_TRUE(sheet.solid());
    const EnvelopeDepth point = sheet.depth(Vec3(0, 500, 500), anyWay);
    EXPECT_NEAR(point.depth_mm, 120, 1e-3);
    EXPECT_NEAR(point.normal.y(), 1, 1e-3);
    const Ellipsoid helmet{{0, 0, 900}, Eigen::Matrix3d::Identity(), {170, 130, 140}};
    EXPECT_NEAR(sheet.depth(helmet, anyWay).depth_mm, 1020 - 1040, 1e-3);
    EXPECT_NEAR(sheet.depth(helmet, [](const Vec3& n) { return std::abs(n.y()) > 0.5; }).depth_mm, 620 - 130,
                1e-3);
}

TEST(Envelope, OfNothingOrFlatBarsIsNotSolid) {
    EXPECT_FALSE(Envelope({}).solid());
    const std::vector<Centreline> flat = {between({0, 0, 0}, {100, 0, 0}), between({0, 0, 50}, {100, 0, 50})};
    EXPECT_FALSE(envelopeOf(flat, 20).solid());
}

TEST(Envelope, AgreesWithTryingEveryDirection) {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> place(-800, 800);
    for (int round = 0; round < 5; ++round) {
        std::vector<Centreline> lines;
        for (int i = 0; i < 12; ++i)
            lines.push_back(between({place(random), place(random), place(random)},
                                    {place(random), place(random), place(random)}));
        const Envelope sheet = envelopeOf(lines, 22);
        const Ellipsoid body{{place(random) / 8, place(random) / 8, place(random) / 8},
                             Eigen::Matrix3d::Identity(),
                             {170, 130, 140}};
        double least = 1e300;
        for (int i = 0; i < 40000; ++i) {  // a spiral of even directions
            const double z = 1 - (2 * i + 1) / 40000.0, turn = i * 2.39996322972865332;
            const Vec3 n(std::sqrt(1 - z * z) * std::cos(turn), std::sqrt(1 - z * z) * std::sin(turn), z);
            double reach = -1e300;
            for (const Centreline& line : lines)
                reach = std::max({reach, line.start().dot(n), line.end().dot(n)});
            least = std::min(least, reach + 22 - body.support(n).dot(n));
        }
        const double found = sheet.depth(body, anyWay).depth_mm;
        EXPECT_LE(found, least + 1e-3);  // never deeper than a direction tried
        EXPECT_GE(found, least - 12);    // directions are up to 0.6 degrees apart, the bars up to 1.4 m away
    }
}

TEST(ConvexHull, HasEveryPointInsideAndClosesUp) {
    std::mt19937 random(3);
    std::uniform_real_distribution<double> place(-500, 500);
    std::vector<Vec3> points;
    for (int i = 0; i < 300; ++i) points.push_back({place(random), place(random), place(random)});
    for (int i = 0; i < 100; ++i) points.push_back({500, place(random), place(random)});  // many in one plane
    const auto faces = convexHull(points);
    ASSERT_GE(faces.size(), 4u);
    double volume = 0;
    for (const HullFace& face : faces) {
        for (const Vec3& p : points) EXPECT_LE(face.normal.dot(p) - face.offset, 1e-3);
        const auto at = [&](std::size_t i) { return points[static_cast<std::size_t>(face.corners[i])]; };
        volume += at(0).dot(at(1).cross(at(2))) / 6;
    }
    EXPECT_GT(volume, 0.8e9);
    EXPECT_LT(volume, 1e9);
}

// A row of equal hoops fills flat sides with points: they make no faces of their own.
TEST(ConvexHull, OfFlatSidesFullOfPointsHasFewFaces) {
    std::vector<Vec3> points;
    for (int row = 0; row < 20; ++row)
        for (int i = 0; i < 12; ++i) {
            const double turn = i * std::numbers::pi / 6;
            points.push_back({100.0 * row, 500 * std::cos(turn), 500 * std::sin(turn)});
        }
    const auto faces = convexHull(points);
    // Twelve sides of two triangles and two ends of ten; a nudge may leave a point or two more.
    EXPECT_LE(faces.size(), 50u);
    double volume = 0;
    for (const HullFace& face : faces) {
        for (const Vec3& p : points) EXPECT_LE(face.normal.dot(p) - face.offset, 1e-4);
        const auto at = [&](std::size_t i) { return points[static_cast<std::size_t>(face.corners[i])]; };
        volume += at(0).dot(at(1).cross(at(2))) / 6;
    }
    EXPECT_NEAR(volume, 1900 * 12 * 0.5 * 500 * 500 * 0.5, 1000);
}

TEST(ConvexHull, OfABoxHasItsVolume) {
    std::vector<Vec3> corners;
    for (double x : {0.0, 100.0})
        for (double y : {0.0, 200.0})
            for (double z : {0.0, 300.0}) corners.push_back({x, y, z});
    double volume = 0;
    for (const HullFace& face : convexHull(corners)) {
        const auto at = [&](std::size_t i) { return corners[static_cast<std::size_t>(face.corners[i])]; };
        volume += at(0).dot(at(1).cross(at(2))) / 6;
    }
    EXPECT_NEAR(volume, 6e6, 1);
}

}  // namespace
}  // namespace hoopwright
