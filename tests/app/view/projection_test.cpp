// Points to pixels and back: against the pinhole written out by hand, and against themselves.
#include "app/view/projection.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "app/view/flight.h"

namespace hoopwright {
namespace {

std::vector<View> someViews() {
    std::vector<View> views;
    std::mt19937 random(7);
    std::uniform_real_distribution<double> far(1500, 6000), turn(-3, 3), rise(-1.2, 1.2), at(-800, 800);
    for (int n = 0; n < 24; ++n) {
        View view;
        view.target = {at(random), at(random), at(random)};
        const double a = turn(random), e = rise(random), r = far(random);
        view.eye = view.target + r * Vec3(std::cos(a) * std::cos(e), std::sin(a) * std::cos(e), std::sin(e));
        views.push_back(n % 2 ? asOrthographic(view) : view);
    }
    return views;
}

Vec3 somePoint(std::mt19937& random) {
    std::uniform_real_distribution<double> at(-700, 700);
    return {at(random), at(random), at(random)};
}

// A pinhole by similar triangles: f = h / 2 / tan(angle / 2), x = f X / Z (Hartley and Zisserman, Multiple
// View Geometry, 2nd ed., section 6.1; from memory).
TEST(Projection, IsAPinholeByTheBook) {
    std::mt19937 random(11);
    const QSize size(1280, 800);
    for (const View& view : someViews()) {
        if (view.orthographic_height_mm > 0) continue;
        const Projection projection(view, size);
        const Vec3 forward = (view.target - view.eye).normalized();
        const Vec3 right = forward.cross(view.up).normalized(), up = right.cross(forward);
        const double f = size.height() / 2.0 / std::tan(view.vertical_angle_rad / 2);
        for (int n = 0; n < 20; ++n) {
            const Vec3 p = somePoint(random), d = p - view.eye;
            const double z = d.dot(forward);
            if (z < 50) continue;
            const auto pixel = projection.at(p);
            ASSERT_TRUE(pixel);
            EXPECT_NEAR(pixel->x(), size.width() / 2.0 + f * d.dot(right) / z, 1e-6);
            EXPECT_NEAR(pixel->y(), size.height() / 2.0 - f * d.dot(up) / z, 1e-6);
            EXPECT_NEAR(projection.depth(p), z, 1e-6);
            EXPECT_NEAR(projection.pixelsPerMm(p), f / z, 1e-9);
        }
    }
}

TEST(Projection, ARayThroughAPixelGoesThroughThePointSeenThere) {
    std::mt19937 random(12);
    for (const View& view : someViews()) {
        const Projection projection(view, QSize(900, 700));
        for (int n = 0; n < 20; ++n) {
            const Vec3 p = somePoint(random);
            const auto pixel = projection.at(p);
            if (!pixel) continue;
            const auto [from, way] = projection.ray(*pixel);
            EXPECT_NEAR(way.norm(), 1, 1e-12);
            EXPECT_NEAR((p - from).cross(way).norm(), 0, 1e-5);
        }
    }
}

TEST(Projection, AMillimetreAcrossIsAsManyPixelsAsItSays) {
    std::mt19937 random(13);
    for (const View& view : someViews()) {
        const Projection projection(view, QSize(1280, 800));
        const Vec3 right = view.forward().cross(view.up).normalized();
        for (int n = 0; n < 10; ++n) {
            const Vec3 p = somePoint(random);
            const auto a = projection.at(p), b = projection.at(p + 0.01 * right);
            if (!a || !b) continue;
            EXPECT_NEAR(std::hypot(b->x() - a->x(), b->y() - a->y()) / 0.01, projection.pixelsPerMm(p),
                        1e-4 * projection.pixelsPerMm(p) + 1e-6);
        }
    }
}

TEST(Projection, WhatIsBehindTheEyeHasNoPlaceAndANegativeDepth) {
    View view;
    const Projection projection(view, QSize(800, 600));
    const Vec3 behind = view.eye - 300 * view.forward();
    EXPECT_FALSE(projection.at(behind));
    EXPECT_NEAR(projection.depth(behind), -300, 1e-9);
    EXPECT_TRUE(projection.at(view.target));
    EXPECT_NEAR(projection.at(view.target)->x(), 400, 1e-9);
    EXPECT_NEAR(projection.at(view.target)->y(), 300, 1e-9);
}

TEST(Projection, AStrokeIsTheLineItIsOf) {
    std::mt19937 random(14);
    for (const View& view : someViews()) {
        const Projection projection(view, QSize(1280, 800));
        const std::vector<Vec3> line = {somePoint(random), somePoint(random), somePoint(random)};
        for (const Stroke& stroke : projection.strokes(line, 20)) {
            EXPECT_GT(stroke.half_width, 0);
            for (const QPointF& at : stroke.points) {
                // On the screen each point lies on the picture of one of the two pieces.
                double nearest = 1e9;
                for (int piece = 0; piece < 2; ++piece) {
                    for (int n = 0; n <= 3000; ++n) {
                        const Vec3 p =
                            line[std::size_t(piece)] +
                            (line[std::size_t(piece) + 1] - line[std::size_t(piece)]) * (n / 3000.0);
                        if (const auto pixel = projection.at(p))
                            nearest = std::min(nearest, std::hypot(pixel->x() - at.x(), pixel->y() - at.y()));
                    }
                }
                EXPECT_LT(nearest, 3);
            }
        }
    }
}

TEST(Dragging, ThereAndBackIsWhereItWas) {
    std::mt19937 random(15);
    std::uniform_real_distribution<double> by(-120, 120);
    const QSize size(1280, 800);
    for (const View& view : someViews()) {
        View pannned = view;
        QPointF sum;
        for (int n = 0; n < 12; ++n) {
            const QPointF step(by(random), by(random));
            pannned = pannedByPixels(pannned, step, size);
            sum += step;
        }
        pannned = pannedByPixels(pannned, -sum, size);
        EXPECT_NEAR((pannned.eye - view.eye).norm(), 0, 1e-6);
        EXPECT_NEAR((pannned.target - view.target).norm(), 0, 1e-6);
        const View turned = orbitedByPixels(orbitedByPixels(view, {60, 0}, size), {-60, 0}, size);
        EXPECT_NEAR((turned.eye - view.eye).norm(), 0, 1e-6);
    }
}

TEST(Dragging, TurningKeepsTheDistanceAndTheHorizonLevel) {
    std::mt19937 random(16);
    std::uniform_real_distribution<double> by(-90, 90);
    View view;
    const double arm = (view.eye - view.target).norm();
    for (int n = 0; n < 400; ++n) {
        view = orbitedByPixels(view, {by(random), by(random)}, QSize(1280, 800));
        ASSERT_NEAR((view.eye - view.target).norm(), arm, 1e-6 * arm);
        ASSERT_NEAR((view.up - Vec3::UnitZ()).norm(), 0, 1e-12);
        // Never straight up or down, where left and right would change places.
        ASSERT_LT(std::abs(view.forward().z()), 0.9999999);
    }
}

TEST(Wheel, InAndOutAgainIsWhereItWas) {
    std::mt19937 random(17);
    for (const View& view : someViews()) {
        const Vec3 keep = somePoint(random);
        View now = view;
        for (const double factor : {1.18, 1.18, 1 / 1.18, 1.4, 1 / 1.18, 1 / 1.4})
            now = now.zoomedAt(factor, keep);
        EXPECT_NEAR((now.eye - view.eye).norm(), 0, 1e-6);
        EXPECT_NEAR(now.orthographic_height_mm, view.orthographic_height_mm, 1e-6);
    }
}

}  // namespace
}  // namespace hoopwright
