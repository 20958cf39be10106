#include "render/view.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace hoopwright {
namespace {

constexpr int kWidth = 1280, kHeight = 800;
const Box kBox(Vec3(-2100, -800, -330), Vec3(2300, 800, 1050));

View someView(std::mt19937& random, bool orthographic) {
    std::uniform_real_distribution<double> far(-5000, 5000), near(-500, 500);
    View view;
    view.eye = {far(random), far(random), far(random)};
    view.target = {near(random), near(random), near(random)};
    if (orthographic) view.orthographic_height_mm = 3000;
    return view;
}

TEST(View, ARayThroughAPixelComesBackToThatPixel) {
    std::mt19937 random(11);
    std::uniform_real_distribution<double> x(0, kWidth), y(0, kHeight), depth(100, 9000);
    for (int i = 0; i < 400; ++i) {
        const View view = someView(random, i % 2 == 0);
        const double px = x(random), py = y(random), along = depth(random);
        const auto [from, direction] = view.ray(px, py, kWidth, kHeight);
        EXPECT_NEAR(direction.norm(), 1, 1e-12);
        const Vec3 back = view.project(from + along * direction, kWidth, kHeight);
        EXPECT_NEAR(back.x(), px, 1e-6);
        EXPECT_NEAR(back.y(), py, 1e-6);
        EXPECT_NEAR(back.z(), along * direction.dot(view.forward()), 1e-6);
    }
}

TEST(View, UpIsUpAndThePointBehindHasNoDepth) {
    View view;
    view.eye = {3000, 0, 0};
    const Vec3 above = view.project({0, 0, 500}, kWidth, kHeight),
               behind = view.project({4000, 0, 0}, kWidth, kHeight);
    EXPECT_LT(above.y(), kHeight / 2.0);
    EXPECT_NEAR(above.x(), kWidth / 2.0, 1e-9);
    EXPECT_LT(behind.z(), 0);
    // Seen from the front, the driver's left is on the right of the picture.
    EXPECT_GT(view.project({0, 500, 0}, kWidth, kHeight).x(), kWidth / 2.0);
}

TEST(View, EveryStandardViewHoldsTheWholeBoxAndFillsThePicture) {
    for (const std::string& name : standardViews()) {
        if (name == "driver") continue;  // stands inside
        for (const double aspect : {0.6, 1.0, 16.0 / 9, 3.0}) {
            const int height = 900, width = static_cast<int>(std::lround(aspect * height));
            const View view = standardView(name, kBox, static_cast<double>(width) / height);
            double left = 1e9, right = -1e9, top = 1e9, bottom = -1e9;
            for (int i = 0; i < 8; ++i) {
                const Vec3 p = view.project(kBox.corner(static_cast<Box::CornerType>(i)), width, height);
                EXPECT_GT(p.z(), 0) << name;
                left = std::min(left, p.x()), right = std::max(right, p.x());
                top = std::min(top, p.y()), bottom = std::max(bottom, p.y());
            }
            EXPECT_GE(left, 0) << name;
            EXPECT_LE(right, width) << name;
            EXPECT_GE(top, 0) << name;
            EXPECT_LE(bottom, height) << name;
            EXPECT_GT(std::max((right - left) / width, (bottom - top) / height), 0.88) << name << aspect;
            // In the direction that fills the picture both margins are alike.
            if ((right - left) / width > 0.88) {
                EXPECT_NEAR(left, width - right, 0.02 * width) << name;
            }
        }
    }
}

TEST(View, StandardViewsLookFromWhereTheySay) {
    const auto from = [](const char* name) { return standardView(name, kBox, 1.6).forward(); };
    EXPECT_NEAR((from("front") - Vec3(-1, 0, 0)).norm(), 0, 1e-9);
    EXPECT_NEAR((from("rear") - Vec3(1, 0, 0)).norm(), 0, 1e-9);
    EXPECT_NEAR((from("left") - Vec3(0, -1, 0)).norm(), 0, 1e-9);
    EXPECT_NEAR((from("right") - Vec3(0, 1, 0)).norm(), 0, 1e-9);
    EXPECT_NEAR((from("top") - Vec3(0, 0, -1)).norm(), 0, 1e-9);
    EXPECT_GT(from("driver").x(), 0.9);
    // The plan lies nose left, like the left side view.
    const View top = standardView("top", kBox, 1.6), left = standardView("left", kBox, 1.6);
    EXPECT_LT(top.project({2000, 0, 0}, 1600, 1000).x(), top.project({-2000, 0, 0}, 1600, 1000).x());
    EXPECT_LT(left.project({2000, 0, 0}, 1600, 1000).x(), left.project({-2000, 0, 0}, 1600, 1000).x());
}

TEST(View, AnUnknownNameOrAnEmptyBoxStillGivesAPicture) {
    const View unknown = standardView("sideways", kBox, 1.6),
               known = standardView("three_quarter", kBox, 1.6);
    EXPECT_EQ(unknown.eye, known.eye);
    const View empty = standardView("front", Box(), 1.6);
    EXPECT_TRUE(empty.eye.allFinite());
    EXPECT_GT((empty.eye - empty.target).norm(), 1);
}

TEST(View, TurningKeepsTheDistanceAndStopsShortOfStraightUp) {
    std::mt19937 random(5);
    std::uniform_real_distribution<double> angle(-3, 3);
    View view = someView(random, false);
    const double distance = (view.eye - view.target).norm();
    for (int i = 0; i < 50; ++i) {
        view = view.orbited(angle(random), angle(random));
        EXPECT_NEAR((view.eye - view.target).norm(), distance, 1e-6);
        EXPECT_LT(std::abs(view.forward().z()), 1);
        EXPECT_GT(view.forward().cross(view.up).norm(), 1e-3);
    }
}

TEST(View, TurningFromThePlanGoesOnFromWhereThePictureWas) {
    const View top = standardView("top", kBox, 1.6);
    const View tilted = top.orbited(0, -0.3);
    // What was up in the plan is away from the camera now.
    EXPECT_GT(tilted.forward().dot(top.up), 0.2);
    EXPECT_NEAR(tilted.forward().cross(top.up).dot(Vec3::UnitZ()), 0, 1e-9);
}

TEST(View, ZoomingKeepsThePointUnderTheCursor) {
    std::mt19937 random(3);
    for (int i = 0; i < 60; ++i) {
        const View view = someView(random, i % 2 == 0);
        const auto [from, direction] = view.ray(900, 300, kWidth, kHeight);
        const Vec3 keep = from + 2500 * direction;
        for (const double factor : {0.5, 1.2, 3.0}) {
            const View zoomed = view.zoomedAt(factor, keep);
            const Vec3 p = zoomed.project(keep, kWidth, kHeight);
            EXPECT_NEAR(p.x(), 900, 1e-6);
            EXPECT_NEAR(p.y(), 300, 1e-6);
            if (view.orthographic_height_mm > 0) {
                EXPECT_NEAR(zoomed.orthographic_height_mm * factor, view.orthographic_height_mm, 1e-6);
            } else {
                EXPECT_NEAR((keep - zoomed.eye).norm() * factor, (keep - view.eye).norm(), 1e-6);
            }
        }
    }
}

TEST(View, PanningMovesThePictureByThatMuchAtTheTarget) {
    View view = standardView("left", kBox, 1.6);
    const View moved = view.panned(100, 50);
    const Vec3 was = view.project(kBox.center(), kWidth, kHeight),
               is = moved.project(kBox.center(), kWidth, kHeight);
    const double scale = kHeight / view.orthographic_height_mm;
    EXPECT_NEAR(is.x() - was.x(), -100 * scale, 1e-9);
    EXPECT_NEAR(is.y() - was.y(), 50 * scale, 1e-9);
}

}  // namespace
}  // namespace hoopwright
