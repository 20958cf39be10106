#include "render/view.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace hoopwright {
namespace {

constexpr int kViewWidth = 1280, kViewHeight = 800;
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
    std::uniform_real_distribution<double> x(0, kViewWidth), y(0, kViewHeight), depth(100, 9000);
    for (int i = 0; i < 400; ++i) {
        const View view = someView(random, i % 2 == 0);
        const double px = x(random), py = y(random), along = depth(random);
        const auto [from, direction] = view.ray(px, py, kViewWidth, kViewHeight);
        EXPECT_NEAR(direction.norm(), 1, 1e-12);
        const Vec3 back = view.project(from + along * direction, kViewWidth, kViewHeight);
        EXPECT_NEAR(back.x(), px, 1e-6);
        EXPECT_NEAR(back.y(), py, 1e-6);
        EXPECT_NEAR(back.z(), along * direction.dot(view.forward()), 1e-6);
    }
}

TEST(View, UpIsUpAndThePointBehindHasNoDepth) {
    View view;
    view.eye = {3000, 0, 0};
    const Vec3 above = view.project({0, 0, 500}, kViewWidth, kViewHeight),
               behind = view.project({4000, 0, 0}, kViewWidth, kViewHeight);
    EXPECT_LT(above.y(), kViewHeight / 2.0);
    EXPECT_NEAR(above.x(), kViewWidth / 2.0, 1e-9);
    EXPECT_LT(behind.z(), 0);
    // Seen from the front, the driver's left is on the right of the picture.
    EXPECT_GT(view.project({0, 500, 0}, kViewWidth, kViewHeight).x(), kViewWidth / 2.0);
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
        const auto [from, direction] = view.ray(900, 300, kViewWidth, kViewHeight);
        const Vec3 keep = from + 2500 * direction;
        for (const double factor : {0.5, 1.2, 3.0}) {
            const View zoomed = view.zoomedAt(factor, keep);
            const Vec3 p = zoomed.project(keep, kViewWidth, kViewHeight);
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
    const Vec3 was = view.project(kBox.center(), kViewWidth, kViewHeight),
               is = moved.project(kBox.center(), kViewWidth, kViewHeight);
    const double scale = kViewHeight / view.orthographic_height_mm;
    EXPECT_NEAR(is.x() - was.x(), -100 * scale, 1e-9);
    EXPECT_NEAR(is.y() - was.y(), 50 * scale, 1e-9);
}

// Two-point perspective: by the definition of a shifted lens the picture of a plumb line is plumb, and the
// target stays in the middle.
TEST(View, UprightKeepsPlumbLinesPlumbAndTheTargetInTheMiddle) {
    std::mt19937 random(5);
    std::uniform_real_distribution<double> far(-4000, 4000), near(-600, 600), x(0, kViewWidth),
        y(0, kViewHeight);
    int upright = 0;
    for (int i = 0; i < 300; ++i) {
        View view = someView(random, false);
        view.upright = true;
        if (!view.isUpright()) continue;
        ++upright;
        const Vec3 middle = view.project(view.target, kViewWidth, kViewHeight);
        EXPECT_NEAR(middle.x(), kViewWidth / 2.0, 1e-6);
        EXPECT_NEAR(middle.y(), kViewHeight / 2.0, 1e-6);
        const Vec3 foot = view.target + Vec3(near(random), near(random), -300);
        const Vec3 low = view.project(foot, kViewWidth, kViewHeight),
                   high = view.project(foot + Vec3(0, 0, 800), kViewWidth, kViewHeight);
        if (low.z() > 50) {
            EXPECT_NEAR(low.x(), high.x(), 1e-6 * (1 + std::abs(low.x())));
            EXPECT_NEAR(low.z(), high.z(), 1e-6);
        }
        const double px = x(random), py = y(random);
        const auto [from, way] = view.ray(px, py, kViewWidth, kViewHeight);
        const Vec3 back = view.project(from + 3000 * way, kViewWidth, kViewHeight);
        EXPECT_NEAR(back.x(), px, 1e-6);
        EXPECT_NEAR(back.y(), py, 1e-6);
        const Vec3 keep = view.target + Vec3(near(random), near(random), near(random));
        const Vec3 before = view.project(keep, kViewWidth, kViewHeight),
                   after = view.zoomedAt(1.3, keep).project(keep, kViewWidth, kViewHeight);
        EXPECT_NEAR(before.x(), after.x(), 1e-5);
        EXPECT_NEAR(before.y(), after.y(), 1e-5);
    }
    EXPECT_GT(upright, 100);
    View plain = someView(random, false), same = plain;
    same.eye.z() = same.target.z();
    View level = same;
    level.upright = true;
    const Vec3 p(120, 340, -50);
    EXPECT_LT((level.project(p, kViewWidth, kViewHeight) - same.project(p, kViewWidth, kViewHeight)).norm(),
              1e-6)
        << "a level view is upright anyway";
}

TEST(View, UprightViewsAreFittedAndNeverSteeperThanTheyMayBe) {
    for (const double aspect : {0.7, 1.6, 2.4})
        for (const char* name : {"three_quarter", "three_quarter_rear"}) {
            View view = standardView(name, kBox, aspect);
            view.upright = true;
            const int height = 900, width = static_cast<int>(std::lround(aspect * height));
            const View all = fitted(view, kBox, aspect);
            ASSERT_TRUE(all.isUpright());
            EXPECT_NEAR(all.shift(), view.shift(), 1e-9);
            double top = 1e9, bottom = -1e9, left = 1e9, right = -1e9;
            for (int i = 0; i < 8; ++i) {
                const Vec3 p = all.project(kBox.corner(static_cast<Box::CornerType>(i)), width, height);
                EXPECT_GT(p.z(), 0);
                left = std::min(left, p.x()), right = std::max(right, p.x());
                top = std::min(top, p.y()), bottom = std::max(bottom, p.y());
            }
            EXPECT_GE(left, 0);
            EXPECT_LE(right, width);
            EXPECT_GE(top, 0);
            EXPECT_LE(bottom, height);
            EXPECT_TRUE(right - left > 0.9 * width || bottom - top > 0.9 * height);
            EXPECT_TRUE(all.orbited(0.3, 3).isUpright());
            EXPECT_TRUE(all.orbited(0.3, -3).isUpright());
        }
}

// True orthographic: a millimetre is as many pixels wherever it lies, in every orthographic standard view.
TEST(View, OrthographicScaleIsExactAtEveryDepth) {
    for (const char* name : {"front", "rear", "left", "right", "top"}) {
        const View view = standardView(name, kBox, 1.6);
        ASSERT_GT(view.orthographic_height_mm, 0);
        const double per_mm = kViewHeight / view.orthographic_height_mm;
        const Vec3 right = view.forward().cross(view.up).normalized(), up = right.cross(view.forward());
        for (double depth = -3000; depth <= 3000; depth += 500)
            for (const Vec3& way : {right, up, Vec3(0.6 * right + 0.8 * up)}) {
                const Vec3 from = kBox.center() + depth * view.forward();
                const Vec3 a = view.project(from, kViewWidth, kViewHeight),
                           b = view.project(from + 1000 * way, kViewWidth, kViewHeight);
                EXPECT_NEAR(std::hypot(b.x() - a.x(), b.y() - a.y()), 1000 * per_mm, 1e-7) << name;
            }
    }
}

}  // namespace
}  // namespace hoopwright
