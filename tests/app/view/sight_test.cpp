#include "app/view/sight.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "app/view/projection.h"
#include "test_cage.h"

namespace hoopwright {
namespace {

Driver seated() {
    Driver driver;
    driver.hip = {300, 350, 200};
    driver.shoulder_left = {80, 540, 690}, driver.shoulder_right = {80, 160, 690};
    driver.elbow_left = {300, 590, 430}, driver.elbow_right = {300, 110, 430};
    driver.hand_left = {560, 500, 520}, driver.hand_right = {560, 200, 520};
    driver.knee_left = {700, 450, 330}, driver.knee_right = {700, 250, 330};
    driver.heel_left = {1050, 450, 60}, driver.heel_right = {1050, 250, 60};
    driver.eye = {140, 350, 880};
    driver.helmet = {{90, 350, 870}, 290, 250, 270};
    return driver;
}

TEST(Sight, TheTrunkTheLimbsAndTheHelmetHideWhatIsBehindThem) {
    const Driver driver = seated();
    EXPECT_TRUE(hiddenByDriver(driver, {3000, 350, 450}, {0, 350, 450})) << "trunk";
    EXPECT_TRUE(hiddenByDriver(driver, {3000, 350, 870}, {-500, 350, 870})) << "helmet";
    EXPECT_TRUE(hiddenByDriver(driver, {700, 2000, 330}, {700, -500, 330})) << "knees";
    EXPECT_FALSE(hiddenByDriver(driver, {3000, 350, 1150}, {-500, 350, 1150})) << "over the helmet";
    EXPECT_FALSE(hiddenByDriver(driver, {3000, 350, 870}, {400, 350, 870})) << "stops short of it";
    EXPECT_FALSE(hiddenByDriver(driver, {3000, -350, 450}, {-500, -350, 450})) << "the other seat is empty";
}

// Second way: the nearest of many pairs of points.
TEST(SegmentDistance, IsTheLeastOfAllPairsOfPoints) {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> mm(-500, 500);
    const auto point = [&] { return Vec3(mm(random), mm(random), mm(random)); };
    for (int round = 0; round < 200; ++round) {
        const Vec3 a = point(), b = point(), c = point(), d = point();
        double least = 1e300;
        constexpr int kSteps = 120;
        for (int i = 0; i <= kSteps; ++i)
            for (int j = 0; j <= kSteps; ++j)
                least = std::min(least, (a + (b - a) * i / kSteps - c - (d - c) * j / kSteps).norm());
        const double found = segmentDistance_mm(a, b, c, d);
        EXPECT_LE(found, least + 1e-9);
        EXPECT_GE(found, least - 0.5 * ((b - a).norm() + (d - c).norm()) / kSteps);
    }
}

TEST(SegmentDistance, TakesParallelLinesAndPoints) {
    const Vec3 o = Vec3::Zero(), x = Vec3::UnitX();
    EXPECT_NEAR(segmentDistance_mm(o, 10 * x, {5, 3, 0}, {20, 3, 0}), 3, 1e-12);
    EXPECT_NEAR(segmentDistance_mm(o, o, {3, 4, 0}, {3, 4, 0}), 5, 1e-12);
    EXPECT_NEAR(segmentDistance_mm(o, 10 * x, {14, 3, 0}, {14, 3, 0}), 5, 1e-12);
}

TEST(ViewNamed, LooksThroughTheDriversEyes) {
    Job job = testJob();
    job.drivers = {seated()};
    const View view =
        viewNamed("driver", job, testCage(), Box(Vec3(-2000, -900, 0), Vec3(3000, 900, 1300)), 1.6);
    EXPECT_LT((view.eye - seated().eye).norm(), 250);
    EXPECT_GT(view.forward().x(), 0.95) << "over the dash";
    EXPECT_FALSE(hiddenByDriver(seated(), view.eye, view.eye + Vec3(1500, 0, 300)));
}

TEST(ViewNamed, ThreeQuarterComesNearerToTheCageThanTheWholeCar) {
    const Box car(Vec3(-1500, -900, -150), Vec3(3000, 900, 1300));
    const View near = viewNamed("three_quarter", testJob(), testCage(), car, 1.6);
    const View whole = standardView("three_quarter", car, 1.6);
    EXPECT_LT((near.eye - near.target).norm(), 0.9 * (whole.eye - whole.target).norm());
    const Projection projection(near, QSize(1280, 800));
    for (const auto& member : testCage().members)
        for (const Vec3& end : {member.line.start(), member.line.end()}) {
            const auto pixel = projection.at(end);
            ASSERT_TRUE(pixel);
            EXPECT_TRUE(QRectF(0, 0, 1280, 800).contains(*pixel)) << member.id;
        }
    const View side = viewNamed("left", testJob(), testCage(), car, 1.6);
    EXPECT_EQ(side.orthographic_height_mm, standardView("left", car, 1.6).orthographic_height_mm);
}

}  // namespace
}  // namespace hoopwright
