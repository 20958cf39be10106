// A seat move keeps every bone as long as it was, the hands on the wheel and the heels on the pedals.
#include "core/driver/seat_move.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/driver/body.h"
#include "core/model/figure.h"
#include "people.h"

namespace hoopwright {
namespace {

using testing::Dice;
using testing::kDeg;
using testing::someone;

Driver seated() {
    Driver d = someone();
    d.seat = Seat{600, 420, {60, 440, 640}, {60, 260, 640}};
    d.steering_wheel = SteeringWheel{{580, 350, 590}, 348, 25 * kDeg};
    return d;
}

TEST(SeatMove, OfNothingChangesNothing) {
    const auto moved = seatMoved(seated(), {});
    ASSERT_TRUE(moved);
    EXPECT_EQ(moved->driver, seated());
    EXPECT_TRUE(moved->out_of_reach.empty());
}

TEST(SeatMove, SlidesAndLiftsTheTrunk) {
    const Driver d = seated();
    const auto moved = seatMoved(d, {20, -10, 0});
    const Vec3 by(20, 0, -10);
    const Driver& m = moved->driver;
    EXPECT_EQ(m.hip, d.hip + by);
    for (const auto& [now, was] :
         {std::pair{m.shoulder_left, d.shoulder_left}, std::pair{m.eye, d.eye},
          std::pair{m.helmet.centre, d.helmet.centre}, std::pair{m.seat->slot_right, d.seat->slot_right}})
        EXPECT_NEAR((now - was - by).norm(), 0, 1e-9);
    EXPECT_EQ(m.back_angle_rad, d.back_angle_rad);
    EXPECT_EQ(m.hand_left, d.hand_left);
    EXPECT_EQ(m.heel_right, d.heel_right);
    EXPECT_EQ(m.steering_wheel, d.steering_wheel);
    EXPECT_EQ(m.belts, d.belts);
}

TEST(SeatMove, ReclinesAboutTheHipPoint) {
    const Driver d = seated();
    const auto moved = seatMoved(d, {0, 0, 90 * kDeg - 20 * kDeg - 5 * kDeg});
    ASSERT_TRUE(moved);
    const Driver& m = moved->driver;
    EXPECT_EQ(m.hip, d.hip);
    EXPECT_NEAR(m.back_angle_rad, 85 * kDeg, 1e-12);
    EXPECT_NEAR((m.shoulders() - m.hip).norm(), (d.shoulders() - d.hip).norm(), 1e-9);
    const Vec3 was = d.shoulders() - d.hip, now = m.shoulders() - m.hip;
    EXPECT_NEAR(std::atan2(-now.x(), now.z()) - std::atan2(-was.x(), was.z()), 65 * kDeg, 1e-12);
    EXPECT_NEAR((m.eye - m.helmet.centre - (d.eye - d.helmet.centre)).norm(), 0, 1e-12);
    EXPECT_EQ(m.helmet.length_mm, d.helmet.length_mm);
}

TEST(SeatMove, KeepsEveryLinkAsLongAsItReaches) {
    Dice dice(4);
    const Driver d = seated();
    for (int i = 0; i < 300; ++i) {
        const SeatMove move{dice.between(-120, 120), dice.between(-60, 60), dice.between(-12, 30) * kDeg};
        const auto moved = seatMoved(d, move);
        ASSERT_TRUE(moved);
        const Driver& m = moved->driver;
        for (const int side : {1, -1}) {
            const Vec3 &hand = side > 0 ? d.hand_left : d.hand_right,
                       &heel = side > 0 ? d.heel_left : d.heel_right;
            const auto reached = [&](OutOfReach::Limb limb) {
                return std::none_of(moved->out_of_reach.begin(), moved->out_of_reach.end(),
                                    [&](const OutOfReach& o) { return o.limb == limb && o.side == side; });
            };
            if (reached(OutOfReach::Limb::arm)) {
                EXPECT_NEAR((elbowJoint(m, side) - shoulderJoint(m, side)).norm(),
                            (elbowJoint(d, side) - shoulderJoint(d, side)).norm(), 0.06);
                EXPECT_NEAR((hand - elbowJoint(m, side)).norm(), (hand - elbowJoint(d, side)).norm(), 0.06);
            }
            if (reached(OutOfReach::Limb::leg)) {
                EXPECT_NEAR((kneeJoint(m, side) - hipJoint(m, side)).norm(),
                            (kneeJoint(d, side) - hipJoint(d, side)).norm(), 0.06);
                EXPECT_NEAR((heel - kneeJoint(m, side)).norm(), (heel - kneeJoint(d, side)).norm(), 0.06);
            }
            // Knees stay up and elbows stay down.
            EXPECT_GT((side > 0 ? m.knee_left : m.knee_right).z(), heel.z());
        }
        EXPECT_EQ(crossedPair(m), "");
    }
}

TEST(SeatMove, ASmallMoveMovesEverythingALittle) {
    const Driver d = seated();
    const auto moved = seatMoved(d, {0.01, 0.01, 0.0001 * kDeg});
    for (const PointPair& pair : pointPairs()) {
        EXPECT_NEAR((moved->driver.*pair.left - d.*pair.left).norm(), 0, 0.3) << pair.name;
        EXPECT_NEAR((moved->driver.*pair.right - d.*pair.right).norm(), 0, 0.3) << pair.name;
    }
}

TEST(SeatMove, ThereAndBackIsWhereItWas) {
    const Driver d = seated();
    const auto there = seatMoved(d, {35, 12, 6 * kDeg});
    ASSERT_TRUE(there && there->out_of_reach.empty());
    const auto upright = seatMoved(there->driver, {-35, -12, -6 * kDeg});
    // The side a limb bends to is carried over by projection, which does not quite come back.
    for (const PointPair& pair : pointPairs())
        EXPECT_NEAR((upright->driver.*pair.left - d.*pair.left).norm(), 0, 0.05) << pair.name;
    EXPECT_NEAR((upright->driver.helmet.centre - d.helmet.centre).norm(), 0, 1e-9);
}

TEST(SeatMove, SaysWhatNoLongerReaches) {
    const auto moved = seatMoved(seated(), {-400, 0, 0});
    ASSERT_TRUE(moved);
    ASSERT_EQ(moved->out_of_reach.size(), 4u);
    EXPECT_EQ(moved->driver.hand_left, seated().hand_left);
    OutOfReach arm{OutOfReach::Limb::arm, 1, 31};
    EXPECT_EQ(sentence(arm, LengthUnit::mm), "The left arm is 31.0 mm short of the wheel.");
    EXPECT_EQ(sentence({OutOfReach::Limb::leg, -1, 25.4}, LengthUnit::in),
              "The right leg is 1.000 in short of the pedals.");
    EXPECT_EQ(
        seatMoved(seated(), {0, 0, 70 * kDeg}).reason(),
        "the back would lean at 90.0°; it leans from -5 degrees (forward) to 85 degrees back from vertical");
}

TEST(SeatMove, WorksOnAFigureFullyReclined) {
    for (const double lean : {0.0, 30.0, 60.0, 80.0}) {
        const auto figure =
            driverFromFigure(figures()[0], {{0, 0, 0}, lean * kDeg, Driver::Occupant::driver, {}});
        ASSERT_TRUE(figure);
        const auto moved = seatMoved(*figure, {10, 5, 3 * kDeg});
        ASSERT_TRUE(moved);
        EXPECT_NEAR(moved->driver.back_angle_rad, (lean + 3) * kDeg, 1e-12);
    }
}

}  // namespace
}  // namespace hoopwright
