// Belts: the tangent to the bar against a taut string found by other means, and figures worked out by hand.
#include "core/driver/straps.h"

#include <gtest/gtest.h>

#include <cmath>

#include "people.h"

namespace hoopwright {
namespace {

using testing::cageOf;
using testing::Dice;
using testing::kDeg;
using testing::smallCage;
using testing::someone;
using testing::straight;

TEST(WrapOver, TouchesTheBarSquareToTheRadius) {
    Dice dice(5);
    for (int i = 0; i < 2000; ++i) {
        const Vec3 axis = dice.way(), at = dice.point(200), from = dice.point(900);
        const double r = dice.between(10, 40);
        const double distance = ((from - at) - (from - at).dot(axis) * axis).norm();
        const auto start = wrapOver(from, at, axis, r, Vec3::UnitZ());
        ASSERT_EQ(start.has_value(), distance > r);
        if (!start) continue;
        EXPECT_NEAR((start->touches - at).norm(), r, 1e-9);
        EXPECT_NEAR(start->out.dot(axis), 0, 1e-9);
        EXPECT_NEAR((from - start->touches).dot(start->out), 0, 1e-7);
        // No point of the free strap is nearer to the axis than the bar's outside.
        for (double t = 0; t <= 1; t += 0.05) {
            const Vec3 p = start->touches + t * (from - start->touches) - at;
            EXPECT_GE((p - p.dot(axis) * axis).norm(), r - 1e-7);
        }
    }
}

/// The shortest string from a point over the top of a circle to one at its back, by trying every place it
/// could leave.
double shortestOver(const Vec2& from, double r) {
    double best = 1e300, at = 0;
    for (int i = 0; i <= 200000; ++i) {
        const double angle = std::numbers::pi * i / 200000;  // on the upper half, 0 ahead
        const Vec2 leave(r * std::cos(angle), r * std::sin(angle));
        if ((from - leave).dot(leave) < -1e-9) continue;  // the straight part would cut the circle
        const double length = (from - leave).norm() + r * (std::numbers::pi - angle);
        if (length < best) {
            best = length;
            at = angle;
        }
    }
    return at;
}

TEST(ShoulderStraps, AreTautOverTheBar) {
    for (const double z : {420.0, 520.0, 570.0, 640.0, 700.0}) {
        const CageGeometry cage = cageOf({straight("belt_bar", {-80, 700, z}, {-80, -700, z}, 38)});
        const auto straps = shoulderStraps(someone(), cage);
        ASSERT_TRUE(straps) << straps.reason();
        const ShoulderStrap& left = straps->both[0];
        const double angle = shortestOver({180, 650 - z}, 19);
        EXPECT_NEAR(left.support.x(), -80 + 19 * std::cos(angle), 2e-3);
        EXPECT_NEAR(left.support.z(), z + 19 * std::sin(angle), 2e-3);
        EXPECT_NEAR(left.angle_rad, std::atan2(650 - left.support.z(), 100 - left.support.x()), 1e-12);
    }
}

TEST(ShoulderStraps, LevelAtTheTopOfALevelBar) {
    const CageGeometry cage = cageOf({straight("belt_bar", {-80, 700, 631}, {-80, -700, 631}, 38)});
    const auto straps = shoulderStraps(someone(), cage);
    EXPECT_NEAR(straps->both[0].angle_rad, 0, 1e-9);
    EXPECT_NEAR(straps->both[0].support.z(), 650, 1e-9);
    EXPECT_NEAR(straps->both[1].bar_top.z(), 650, 1e-9);
}

TEST(ShoulderStraps, SpreadAndRun) {
    const auto straps = shoulderStraps(someone(), smallCage());
    ASSERT_TRUE(straps);
    const ShoulderStrap &left = straps->both[0], &right = straps->both[1];
    EXPECT_EQ(left.side, 1);
    EXPECT_EQ(right.side, -1);
    EXPECT_NEAR(left.support.y(), 450, 1e-9);
    EXPECT_NEAR(right.support.y(), 250, 1e-9);
    EXPECT_NEAR(straps->spread_mm, 200, 1e-9);
    // From 490 in to 450: inwards over the run back.
    EXPECT_NEAR(left.plan_rad, -std::atan2(40, 100 - left.support.x()), 1e-12);
    EXPECT_NEAR(left.plan_rad, right.plan_rad, 1e-12);
    EXPECT_NEAR(left.run_mm, (left.shoulder - left.support).norm(), 1e-12);
    EXPECT_NEAR(left.wrap_rad, 2 * std::numbers::pi, 1e-12);
    EXPECT_EQ(left.bar, 4);
}

TEST(ShoulderStraps, BehindTheSeat) {
    Driver d = someone();
    d.seat = Seat{600, 420, {60, 440, 640}, {60, 260, 640}};
    const auto straps = shoulderStraps(d, smallCage());
    const ShoulderStrap& left = straps->both[0];
    EXPECT_NEAR(left.behind_seat_mm, (left.support - Vec3(60, 440, 640)).norm(), 1e-12);
    // Over the slot: on the straight line at x = 60.
    const double share = 40 / (100 - left.support.x());
    EXPECT_NEAR(left.over_slot_mm, 650 - share * (650 - left.support.z()) - 640, 1e-9);
}

TEST(ShoulderStraps, OnOverTheBarToAnchors) {
    Driver d = someone();
    d.belts.shoulder_anchors = StrapAnchors{{-300, 450, 0}, {-300, 250, 0}};
    const auto straps = shoulderStraps(d, smallCage());
    ASSERT_TRUE(straps);
    const ShoulderStrap& left = straps->both[0];
    ASSERT_EQ(left.bar, 4);
    ASSERT_TRUE(left.leaves);
    EXPECT_GT(left.wrap_rad, 0);
    EXPECT_LT(left.wrap_rad, std::numbers::pi);
    const Vec3 out = (*left.leaves - left.on_bar.axis_at).normalized();
    EXPECT_NEAR((*left.leaves - left.on_bar.axis_at).norm(), 19, 1e-9);
    EXPECT_NEAR((Vec3(-300, 450, 0) - *left.leaves).dot(out), 0, 1e-7);
    // Turned from coming to going: the two straights differ by the wrap.
    const Vec3 going = Vec3(-300, 450, 0) - *left.leaves;
    Vec3 coming = left.support - left.shoulder;
    coming.y() = 0;
    EXPECT_NEAR(std::acos(coming.normalized().dot(going.normalized())), left.wrap_rad, 1e-9);
    // As if anchored there, up to the bar.
    EXPECT_NEAR(left.angle_rad, shoulderStraps(someone(), smallCage())->both[0].angle_rad, 1e-12);
}

TEST(ShoulderStraps, PassABarTheyDoNotTouch) {
    Driver d = someone();
    d.belts.shoulder_anchors = StrapAnchors{{-400, 450, 640}, {-400, 250, 640}};
    const auto straps = shoulderStraps(d, smallCage());
    ASSERT_TRUE(straps);
    EXPECT_EQ(straps->both[0].bar, -1);
    EXPECT_EQ(straps->both[0].support, Vec3(-400, 450, 640));
    EXPECT_NEAR(straps->both[0].angle_rad, std::atan2(10, 500), 1e-12);
}

TEST(ShoulderStraps, ToEyesWithoutABar) {
    Driver d = someone();
    d.belts.bar.clear();
    d.belts.shoulder_anchors = StrapAnchors{{-200, 440, 600}, {-200, 260, 600}};
    const auto straps = shoulderStraps(d, smallCage());
    ASSERT_TRUE(straps);
    EXPECT_NEAR(straps->both[0].angle_rad, std::atan2(50, 300), 1e-12);
    EXPECT_NEAR(straps->spread_mm, 180, 1e-12);
    EXPECT_EQ(straps->both[1].bar, -1);
}

TEST(ShoulderStraps, SayWhatIsMissing) {
    Driver d = someone();
    d.belts.bar.clear();
    EXPECT_EQ(shoulderStraps(d, smallCage()).reason(), "no belt bar is named for this driver");
    d.belts.bar = "gone";
    EXPECT_EQ(shoulderStraps(d, smallCage()).reason(),
              "the cage has no member 'gone' for this driver's straps");
    d.belts.bar = "belt_bar";
    d.belts.spacing_mm = 3000;
    EXPECT_EQ(shoulderStraps(d, smallCage()).reason(), "the bar does not reach as far across as the straps");
    d = someone();
    const CageGeometry inside = cageOf({straight("belt_bar", {100, 700, 650}, {100, -700, 650}, 38)});
    EXPECT_EQ(shoulderStraps(d, inside).reason(), "the shoulder lies inside the bar");
}

TEST(LapStraps, AreSeenFromTheSide) {
    const auto lap = lapStraps(someone());
    ASSERT_EQ(lap.size(), 2u);
    EXPECT_NEAR(lap[0].angle_rad, std::atan2(160, 80), 1e-12);
    EXPECT_NEAR(lap[0].run_mm, std::sqrt(160.0 * 160 + 80 * 80 + 210 * 210), 1e-9);
    EXPECT_TRUE(lap[0].behind);
}

}  // namespace
}  // namespace hoopwright
