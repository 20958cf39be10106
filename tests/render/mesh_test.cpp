#include "render/mesh.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "core/geometry/curve.h"
#include "core/geometry/polygon.h"
#include "render/ribbon.h"

namespace hoopwright {
namespace {

double area(const std::vector<Vec2>& outline, const std::vector<std::uint32_t>& triangles) {
    double sum = 0;
    for (std::size_t i = 0; i + 2 < triangles.size(); i += 3) {
        const Vec2 a = outline[triangles[i]], b = outline[triangles[i + 1]] - a,
                   c = outline[triangles[i + 2]] - a;
        const double part = 0.5 * (b.x() * c.y() - b.y() * c.x());
        EXPECT_GE(part, -1e-9);
        sum += part;
    }
    return sum;
}

TEST(FillPolygon, CoversAnOutlineWithNotchesOnce) {
    const std::vector<Vec2> outline = {{0, 0},   {100, 0}, {100, 80}, {60, 80},
                                       {60, 30}, {40, 30}, {40, 80},  {0, 80}};
    const auto triangles = fillPolygon(outline);
    EXPECT_EQ(triangles.size(), 3 * (outline.size() - 2));
    EXPECT_NEAR(area(outline, triangles), 100 * 80 - 20 * 50, 1e-9);
}

TEST(FillPolygon, CoversAStarOfRandomRays) {
    std::mt19937 random(2);
    std::uniform_real_distribution<double> radius(20, 100);
    for (int run = 0; run < 40; ++run) {
        std::vector<Vec2> outline;
        double shoelace = 0;
        for (int i = 0; i < 17; ++i) {
            const double angle = 2 * std::numbers::pi * i / 17;
            outline.push_back(radius(random) * Vec2(std::cos(angle), std::sin(angle)));
        }
        for (std::size_t i = 0; i < 17; ++i) {
            const Vec2 &a = outline[i], &b = outline[(i + 1) % 17];
            shoelace += 0.5 * (a.x() * b.y() - a.y() * b.x());
        }
        EXPECT_NEAR(area(outline, fillPolygon(outline)), shoelace, 1e-6);
    }
}

TEST(FillPolygon, ComesToAnEndOnACrossedOutline) {
    EXPECT_EQ(fillPolygon({{0, 0}, {100, 100}, {100, 0}, {0, 100}}).size(), 6u);
    EXPECT_TRUE(fillPolygon({{0, 0}, {1, 0}}).empty());
}

TEST(MonotoneSlopes, NeverOvershootThePoints) {
    std::mt19937 random(8);
    std::uniform_real_distribution<double> step(1, 400), value(-500, 500);
    for (int run = 0; run < 100; ++run) {
        std::vector<double> x = {0}, y = {value(random)};
        for (int i = 0; i < 8; ++i) {
            x.push_back(x.back() + step(random));
            y.push_back(value(random));
        }
        const auto slope = monotoneSlopes(x, y);
        for (std::size_t i = 0; i + 1 < x.size(); ++i) {
            const double low = std::min(y[i], y[i + 1]), high = std::max(y[i], y[i + 1]);
            for (int k = 0; k <= 20; ++k) {
                const double at = x[i] + (x[i + 1] - x[i]) * k / 20;
                const double v = hermite(at, x[i], x[i + 1], y[i], y[i + 1], slope[i], slope[i + 1]);
                EXPECT_GE(v, low - 1e-9);
                EXPECT_LE(v, high + 1e-9);
            }
        }
    }
}

TEST(SmoothCurve, PassesThroughItsPointsAndKeepsItsCorners) {
    const std::vector<Vec3> points = {{0, 0, 0}, {100, 10, 0}, {200, 0, 0}, {200, 100, 0}, {200, 200, 0}};
    const auto curve = smoothCurve(points, 8, false, 0.7);
    ASSERT_EQ(curve.size(), 8 * (points.size() - 1) + 1);
    for (std::size_t i = 0; i < points.size(); ++i) EXPECT_NEAR((curve[8 * i] - points[i]).norm(), 0, 1e-9);
    // Beyond the corner the last two stretches lie in line: straight on.
    for (std::size_t i = 24; i < curve.size(); ++i) EXPECT_NEAR(curve[i].x(), 200, 1e-9);
    // Without corners the curve swings out there.
    const auto round = smoothCurve(points, 8, false);
    EXPECT_GT((round[28] - Vec3(200, 150, 0)).norm() + (round[20] - Vec3(200, 50, 0)).norm(), 1);
}

TEST(SmoothCurve, ClosesARing) {
    const auto ring = smoothCurve({{0, 0, 0}, {100, 0, 0}, {100, 100, 0}, {0, 100, 0}}, 6, true);
    ASSERT_EQ(ring.size(), 25u);
    EXPECT_EQ(ring.front(), ring.back());
    EXPECT_NEAR((ring[3] - Vec3(50, 0, 0)).x(), 0, 1e-9);  // alike on both sides
    EXPECT_LT(ring[3].y(), -5);
}

TEST(RodMesh, HasItsRadiusEverywhereAndFacesOut) {
    std::vector<Vec3> ring;
    for (int i = 0; i < 60; ++i)
        ring.push_back(150 *
                       Vec3(std::cos(i * std::numbers::pi / 30), std::sin(i * std::numbers::pi / 30), 0));
    const Mesh mesh = rodMesh(ring, 15, 12, true, {1, 0, 0});
    EXPECT_EQ(mesh.triangleCount(), 60u * 12 * 2);
    double six = 0;
    for (const MeshCorner& corner : mesh.corners)
        EXPECT_NEAR(std::hypot(std::hypot(corner.at.x(), corner.at.y()) - 150, corner.at.z()), 15, 1e-3);
    for (std::size_t i = 0; i < mesh.triangles.size(); i += 3)
        six += mesh.corners[mesh.triangles[i]].at.dot(
            mesh.corners[mesh.triangles[i + 1]].at.cross(mesh.corners[mesh.triangles[i + 2]].at));
    // Pappus: 2 pi^2 R r^2, less what 12 sides and 60 stretches cut off (4.5 % and 0.2 %); positive: it faces
    // out.
    const double exact = 2 * std::numbers::pi * std::numbers::pi * 150 * 15 * 15;
    EXPECT_NEAR(six / 6 / exact, 0.953, 0.006);
}

TEST(RibbonMesh, IsAsWideAsTheStrap) {
    const Mesh mesh = ribbonMesh({{0, 0, 0}, {100, 0, 0}, {200, 0, 0}},
                                 {Vec3::UnitZ(), Vec3::UnitZ(), Vec3::UnitZ()}, 76, 2.5, {1, 1, 1});
    const Box box = mesh.bounds();
    EXPECT_NEAR(box.sizes().y(), 76, 1e-4);
    EXPECT_NEAR(box.min().z(), 0, 1e-6);
    EXPECT_NEAR(box.max().z(), 2.5, 1e-5);
}

}  // namespace
}  // namespace hoopwright
