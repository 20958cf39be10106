// Standard views to the last digit, what fitting promises, and the camera of the scene graph against the
// view it was set from.
#include "render/camera.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "render/view.h"
#include "tests/degrees.h"

namespace hoopwright {
namespace {

constexpr double kMargin = 1.07;  // what fitting leaves round the box
const Box kCar(Vec3(-2100, -800, -330), Vec3(2300, 800, 1050));

struct Facing {
    const char* view;
    Vec3 forward, right, up;  // of the picture, in car axes
    bool orthographic;
};
std::string facingName(const ::testing::TestParamInfo<Facing>& info) {
    std::string name;
    bool capital = true;
    for (const char c : std::string_view(info.param.view)) {
        if (c != '_') name += capital ? static_cast<char>(std::toupper(c)) : c;
        capital = c == '_';
    }
    return name;
}
void PrintTo(const Facing& facing, std::ostream* out) {
    *out << facing.view;
}

/// A camera at an azimuth from the nose towards the driver's left, and an elevation.
Facing turned(const char* view, double azimuth_deg, double elevation_deg) {
    const double a = azimuth_deg * kDegree, e = elevation_deg * kDegree;
    return {view,
            {-std::cos(e) * std::cos(a), -std::cos(e) * std::sin(a), -std::sin(e)},
            {-std::sin(a), std::cos(a), 0},
            {-std::sin(e) * std::cos(a), -std::sin(e) * std::sin(a), std::cos(e)},
            false};
}

const std::vector<Facing>& facings() {
    static const std::vector<Facing> all = {
        // From the front the driver's left is on the right; from the left the nose is on the left.
        {"front", {-1, 0, 0}, {0, 1, 0}, {0, 0, 1}, true},
        {"rear", {1, 0, 0}, {0, -1, 0}, {0, 0, 1}, true},
        {"left", {0, -1, 0}, {-1, 0, 0}, {0, 0, 1}, true},
        {"right", {0, 1, 0}, {1, 0, 0}, {0, 0, 1}, true},
        {"top", {0, 0, -1}, {-1, 0, 0}, {0, -1, 0}, true},
        turned("three_quarter", 44, 16),
        turned("three_quarter_rear", 146, 21)};
    return all;
}

class StandardViews : public ::testing::TestWithParam<Facing> {};

TEST_P(StandardViews, LookExactlyAlongTheirAxes) {
    const Facing& wanted = GetParam();
    const View view = standardView(wanted.view, kCar, 1.6);
    EXPECT_NEAR((view.forward() - wanted.forward).norm(), 0, 1e-12);
    EXPECT_EQ(view.orthographic_height_mm > 0, wanted.orthographic);
}

TEST_P(StandardViews, ShowRightAndUpWhereTheyBelong) {
    const Facing& wanted = GetParam();
    constexpr int kWidth = 1600, kHeight = 1000;
    const View view = standardView(wanted.view, kCar, 1.6);
    const Vec3 target = view.project(view.target, kWidth, kHeight);
    EXPECT_NEAR(target.x(), kWidth / 2.0, 1e-9);
    EXPECT_NEAR(target.y(), kHeight / 2.0, 1e-9);
    const Vec3 right = view.project(view.target + 100 * wanted.right, kWidth, kHeight) - target,
               up = view.project(view.target + 100 * wanted.up, kWidth, kHeight) - target,
               away = view.project(view.target + 100 * wanted.forward, kWidth, kHeight) - target;
    EXPECT_GT(right.x(), 1);
    EXPECT_NEAR(right.y(), 0, 1e-9);
    EXPECT_NEAR(up.x(), 0, 1e-9);
    EXPECT_NEAR(up.y(), -right.x(), 1e-9);  // the same scale both ways; y runs down
    EXPECT_NEAR(away.x(), 0, 1e-9);
    EXPECT_NEAR(away.y(), 0, 1e-9);
    EXPECT_NEAR(away.z(), 100, 1e-9);
}

TEST_P(StandardViews, FitFillsThePictureToTheMargin) {
    std::mt19937 random(23);
    std::uniform_real_distribution<double> length(200, 6000), middle(-2000, 2000), shape(0.4, 3.5);
    for (int run = 0; run < 60; ++run) {
        const Vec3 half = 0.5 * Vec3(length(random), length(random), length(random)),
                   at(middle(random), middle(random), middle(random));
        const Box box(at - half, at + half);
        const double aspect = shape(random);
        const int height = 1000, width = static_cast<int>(std::lround(aspect * height));
        const View view = standardView(GetParam().view, box, static_cast<double>(width) / height);
        Box seen;
        for (int i = 0; i < 8; ++i) {
            const Vec3 p = view.project(box.corner(static_cast<Box::CornerType>(i)), width, height);
            ASSERT_GT(p.z(), 0);
            seen.extend(Vec3(p.x() / width, p.y() / height, 0));
        }
        EXPECT_GT(seen.min().x(), 0);
        EXPECT_LT(seen.max().x(), 1);
        EXPECT_GT(seen.min().y(), 0);
        EXPECT_LT(seen.max().y(), 1);
        const double filled = std::max(seen.sizes().x(), seen.sizes().y());
        EXPECT_NEAR(filled, 1 / kMargin, GetParam().orthographic ? 1e-9 : 0.02);
    }
}

TEST_P(StandardViews, FittingAgainChangesNothing) {
    const View once = standardView(GetParam().view, kCar, 1.6), twice = fitted(once, kCar, 1.6);
    EXPECT_NEAR((once.eye - twice.eye).norm(), 0, 1e-6);
    EXPECT_NEAR((once.forward() - twice.forward()).norm(), 0, 1e-12);
    EXPECT_NEAR(once.orthographic_height_mm, twice.orthographic_height_mm, 1e-9);
}

TEST_P(StandardViews, TheSceneGraphsCameraPutsEveryPointWhereTheViewDoes) {
    constexpr int kWidth = 1366, kHeight = 768;
    constexpr double kAspect = static_cast<double>(kWidth) / kHeight;
    std::mt19937 random(5);
    std::uniform_real_distribution<double> x(-2100, 2300), y(-800, 800), z(-330, 1050);
    const View view = standardView(GetParam().view, kCar, kAspect);
    osg::ref_ptr<osg::Camera> camera = new osg::Camera;
    applyView(*camera, view, kCar, kAspect);
    const osg::Matrixd whole = camera->getViewMatrix() * camera->getProjectionMatrix();
    for (int i = 0; i < 200; ++i) {
        const Vec3 p(x(random), y(random), z(random));
        const osg::Vec3d seen = osg::Vec3d(p.x(), p.y(), p.z()) * whole;
        const Vec3 wanted = view.project(p, kWidth, kHeight);
        EXPECT_NEAR(0.5 * (seen.x() + 1) * kWidth, wanted.x(), 1e-6);
        EXPECT_NEAR(0.5 * (1 - seen.y()) * kHeight, wanted.y(), 1e-6);
        EXPECT_GT(seen.z(), -1);
        EXPECT_LT(seen.z(), 1);
    }
}

TEST_P(StandardViews, DepthTellsHalfAMillimetreApartAnywhereOnTheCage) {
    // 24 bits of depth: 2 / 2^24 of the range from -1 to 1.
    constexpr double kStep = 2.0 / (1 << 24);
    const View view = standardView(GetParam().view, kCar, 1.6);
    osg::ref_ptr<osg::Camera> camera = new osg::Camera;
    applyView(*camera, view, kCar, 1.6);
    const osg::Matrixd whole = camera->getViewMatrix() * camera->getProjectionMatrix();
    const auto depth = [&](const Vec3& p) { return (osg::Vec3d(p.x(), p.y(), p.z()) * whole).z(); };
    for (int i = 0; i < 8; ++i) {
        const Vec3 p = kCar.corner(static_cast<Box::CornerType>(i));
        EXPECT_GT(depth(p + 0.5 * view.forward()) - depth(p), kStep) << i;
    }
}

INSTANTIATE_TEST_SUITE_P(Each, StandardViews, ::testing::ValuesIn(facings()), facingName);

TEST(StandardViews, HaveEachATestOfItsFacing) {
    std::vector<std::string> tested = {"driver"};
    for (const Facing& facing : facings()) tested.push_back(facing.view);
    for (const std::string& name : standardViews())
        EXPECT_NE(std::find(tested.begin(), tested.end(), name), tested.end()) << name;
    EXPECT_EQ(tested.size(), standardViews().size());
}

TEST(ApplyView, WhatWasNearStaysInSightAndTheGroundToo) {
    const View view = standardView("three_quarter", kCar, 1.6);
    osg::ref_ptr<osg::Camera> camera = new osg::Camera;
    applyView(*camera, view, kCar, 1.6);
    const osg::Matrixd whole = camera->getViewMatrix() * camera->getProjectionMatrix();
    // The ground as far as it is drawn behind the car, 14 m.
    const Vec3 flat = Vec3(view.forward().x(), view.forward().y(), 0).normalized();
    const Vec3 far = Vec3(0, 0, -330) + 14000 * flat;
    EXPECT_LT((osg::Vec3d(far.x(), far.y(), far.z()) * whole).z(), 1);
}

TEST(ApplyView, FromInsideTheCageTheNearPlaneComesNear) {
    View view = standardView("driver", kCar, 1.6);
    osg::ref_ptr<osg::Camera> camera = new osg::Camera;
    applyView(*camera, view, kCar, 1.6);
    double fovy = 0, aspect = 0, near_plane = 0, far_plane = 0;
    ASSERT_TRUE(camera->getProjectionMatrixAsPerspective(fovy, aspect, near_plane, far_plane));
    EXPECT_NEAR(fovy, 62, 1e-6);
    EXPECT_NEAR(aspect, 1.6, 1e-9);
    EXPECT_NEAR(near_plane, 15, 1e-6);
    EXPECT_GT(far_plane, 20000);
}

TEST(ApplyView, AnEmptySceneHasACameraToo) {
    osg::ref_ptr<osg::Camera> camera = new osg::Camera;
    applyView(*camera, standardView("front", Box(), 1.6), Box(), 1.6);
    EXPECT_TRUE(camera->getProjectionMatrix().valid());
    EXPECT_TRUE(camera->getViewMatrix().valid());
}

TEST(Orbit, TurnsByExactlyTheAngleAsked) {
    View view = standardView("three_quarter", kCar, 1.6);
    const auto azimuth = [](const View& v) {
        return std::atan2(v.eye.y() - v.target.y(), v.eye.x() - v.target.x());
    };
    const auto elevation = [](const View& v) { return std::asin((v.eye - v.target).normalized().z()); };
    const View turned = view.orbited(20 * kDegree, 9 * kDegree);
    EXPECT_NEAR(azimuth(turned) - azimuth(view), 20 * kDegree, 1e-12);
    EXPECT_NEAR(elevation(turned) - elevation(view), 9 * kDegree, 1e-12);
    EXPECT_EQ(turned.target, view.target);
}

TEST(Orbit, AWholeTurnComesBack) {
    View view = standardView("three_quarter_rear", kCar, 1.6);
    const View start = view;
    for (int i = 0; i < 36; ++i) view = view.orbited(10 * kDegree, 0);
    EXPECT_NEAR((view.eye - start.eye).norm(), 0, 1e-6);
}

TEST(Orbit, FromBelowTheCarIsAView) {
    View view = standardView("left", kCar, 1.6).orbited(0, -300 * kDegree);
    EXPECT_LT(view.eye.z(), view.target.z());
    EXPECT_NEAR(std::asin((view.eye - view.target).normalized().z()), -89.9 * kDegree, 1e-9);
}

TEST(Zoom, IsKeptWithinSense) {
    View plan = standardView("top", kCar, 1.6);
    for (int i = 0; i < 40; ++i) plan = plan.zoomedAt(50, kCar.center());
    EXPECT_GE(plan.orthographic_height_mm, 1.0);
    for (int i = 0; i < 40; ++i) plan = plan.zoomedAt(0.02, kCar.center());
    EXPECT_LE(plan.orthographic_height_mm, 1e6);
    View round = standardView("three_quarter", kCar, 1.6);
    for (int i = 0; i < 40; ++i) round = round.zoomedAt(50, kCar.center());
    EXPECT_TRUE(round.eye.allFinite());
    EXPECT_GE((round.target - round.eye).norm(), 39.9);
}

TEST(Pan, AndBackIsNoChange) {
    const View view = standardView("three_quarter", kCar, 1.6);
    const View there = view.panned(310, -120), back = there.panned(-310, 120);
    EXPECT_NEAR((there.eye - view.eye).norm(), std::hypot(310, 120), 1e-9);
    EXPECT_NEAR((back.eye - view.eye).norm(), 0, 1e-9);
    EXPECT_NEAR((back.target - view.target).norm(), 0, 1e-9);
}

}  // namespace
}  // namespace hoopwright
