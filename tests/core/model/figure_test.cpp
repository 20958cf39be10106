// A driver started from a figure, and a limb of two links.
#include "core/model/figure.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "core/model/two_link.h"
#include "tests/degrees.h"

namespace hoopwright {
namespace {

Driver seated(double lean_deg, const Vec3& hip = Vec3::Zero()) {
    return *driverFromFigure(figures()[0], {hip, lean_deg * kDegree, Driver::Occupant::driver, {}});
}

TEST(Figure, IsFoundByItsId) {
    ASSERT_NE(figureNamed("student_formula_95"), nullptr);
    EXPECT_EQ(figureNamed("student_formula_95")->hip_to_pedal_mm, 915);
    EXPECT_EQ(figureNamed("nobody"), nullptr);
}

TEST(Figure, SitsAtEveryLean) {
    for (double lean = -5; lean <= 85; lean += 5) {
        const Driver d = seated(lean, {300, 350, 100});
        EXPECT_EQ(d.hip, Vec3(300, 350, 100));
        EXPECT_NEAR(d.back_angle_rad, lean * kDegree, 1e-12);
        const Vec3 back = d.shoulders() - d.hip;
        EXPECT_NEAR(std::atan2(-back.x(), back.z()), lean * kDegree, 1e-9);
        EXPECT_EQ(crossedPair(d), "");
        EXPECT_GT(d.eye.x(), d.helmet.centre.x());
        EXPECT_GT(d.helmet.centre.z(), d.shoulders().z() - 1);
        EXPECT_NEAR(d.knee_left.y() - 350, -(d.knee_right.y() - 350), 1e-9);
        EXPECT_GT(d.knee_left.z(), d.heel_left.z() + 50);
        ASSERT_TRUE(d.steering_wheel);
        EXPECT_NEAR((d.hand_left - d.hand_right).norm(), d.steering_wheel->diameter_mm - 28, 1e-9);
        EXPECT_LT(d.elbow_left.z(), std::max(d.shoulder_left.z(), d.hand_left.z()) + 100);
        EXPECT_GT(d.seat->slot_left.y(), d.seat->slot_right.y());
    }
}

TEST(Figure, SaysItIsOne) {
    const Driver d = seated(20);
    EXPECT_EQ(d.figure, "student_formula_95");
    EXPECT_NE(d.note.find("F.5.6.4"), std::string::npos);
    EXPECT_NE(d.note.find("Correct every point"), std::string::npos);
}

TEST(Figure, HoldsAWheelThatIsGiven) {
    const SteeringWheel wheel{{520, 0, 480}, 320, 30 * kDegree};
    const Driver d = *driverFromFigure(figures()[0], {{0, 0, 0}, 0.3, Driver::Occupant::passenger, wheel});
    EXPECT_EQ(*d.steering_wheel, wheel);
    EXPECT_EQ(d.occupant, Driver::Occupant::passenger);
    EXPECT_NEAR((d.hand_left - Vec3(520, 146, 480)).norm(), 0, 1e-9);
}

TEST(Figure, RefusesALeanNobodySitsAt) {
    const auto wrong =
        driverFromFigure(figures()[0], {{0, 0, 0}, 95 * kDegree, Driver::Occupant::driver, {}});
    ASSERT_FALSE(wrong);
    EXPECT_EQ(
        wrong.reason(),
        "a back at 95.0° cannot sit: it leans from -5 degrees (forward) to 85 degrees back from vertical");
}

TEST(TwoLinks, KeepTheirLengthsAndBendTheWaySaid) {
    std::mt19937 random(2);
    std::uniform_real_distribution<double> place(-500, 500), length(50, 600);
    for (int i = 0; i < 3000; ++i) {
        const Vec3 root(place(random), place(random), place(random)),
            tip(place(random), place(random), place(random));
        const double upper = length(random), lower = length(random), reach = (tip - root).norm();
        const Vec3 towards(place(random), place(random), place(random));
        const MiddleJoint joint = middleJoint(root, tip, upper, lower, towards);
        if (reach >= upper + lower) {
            EXPECT_NEAR(joint.short_by_mm, reach - upper - lower, 1e-9);
            EXPECT_NEAR((joint.at - root).cross(tip - root).norm(), 0, 1e-6 * reach * reach);
            continue;
        }
        EXPECT_EQ(joint.short_by_mm, 0);
        EXPECT_NEAR((joint.at - root).norm(), upper, 1e-6);
        if (reach > std::abs(upper - lower)) {
            EXPECT_NEAR((joint.at - tip).norm(), lower, 1e-6);
        }
        const Vec3 along = (tip - root).normalized(), off = joint.at - root;
        EXPECT_GE((off - off.dot(along) * along).dot(towards), -1e-6);
    }
}

TEST(CrossedPair, NamesIt) {
    Driver d = seated(20);
    std::swap(d.knee_left, d.knee_right);
    EXPECT_EQ(crossedPair(d), "knee");
    d = seated(20);
    std::swap(d.seat->slot_left, d.seat->slot_right);
    EXPECT_EQ(crossedPair(d), "belt slot");
    d = seated(20);
    d.belts.shoulder_anchors = StrapAnchors{{0, -90, 0}, {0, 90, 0}};
    EXPECT_EQ(crossedPair(d), "shoulder anchor");
    d.belts.shoulder_anchors = StrapAnchors{{0, 0, 0}, {0, 0, 0}};
    EXPECT_EQ(crossedPair(d), "") << "heels or hands may be together";
}

TEST(SteeringWheel, TiltsItsTopAway) {
    EXPECT_NEAR((SteeringWheel{{}, 350, 0}.facing() - Vec3(-1, 0, 0)).norm(), 0, 1e-12);
    EXPECT_NEAR((SteeringWheel{{}, 350, 90 * kDegree}.facing() - Vec3(0, 0, 1)).norm(), 0, 1e-12);
    const SteeringWheel wheel{{}, 350, 0.4};
    EXPECT_NEAR(wheel.up().dot(wheel.facing()), 0, 1e-12);
    EXPECT_GT(wheel.up().x(), 0);
}

}  // namespace
}  // namespace hoopwright
