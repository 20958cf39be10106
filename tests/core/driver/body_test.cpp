// The solids of a person touch what was measured and reach from joint to joint.
#include "core/driver/body.h"

#include <gtest/gtest.h>

#include "people.h"

namespace hoopwright {
namespace {

using testing::Dice;
using testing::someone;

/// Signed distance of a point to a solid, by its nearest support plane tried in many directions.
double bySupport(const Solid& solid, const Vec3& p) {
    double most = -1e300;
    for (int i = 0; i < 40000; ++i) {
        const double z = 1 - (2 * i + 1) / 40000.0, turn = i * 2.39996322972865332;
        const Vec3 n(std::sqrt(1 - z * z) * std::cos(turn), std::sqrt(1 - z * z) * std::sin(turn), z);
        most = std::max(most, n.dot(p - support(solid, n)));
    }
    return most;
}

/// The surface of the solid nearest to a point, with a rod so thin and short that it is one.
double toPoint(const Solid& solid, const Vec3& p) {
    const PathPoint path[] = {{p, 0}, {p + Vec3(0, 0, 1e-4), 0}};
    return nearest(makeCentreline(path).line, solid).distance_mm;
}

TEST(BodySolids, TouchTheMeasuredPoints) {
    const Driver d = someone();
    const auto touches = [&](BodyPart part, int index, const Vec3& p) {
        EXPECT_NEAR(toPoint(solidsOf(d, part)[static_cast<std::size_t>(index)].solid, p), 0, 2e-4)
            << partWord(part);
    };
    touches(BodyPart::shoulder, 0, d.shoulder_left);
    touches(BodyPart::shoulder, 1, d.shoulder_right);
    touches(BodyPart::elbow, 0, d.elbow_left);
    touches(BodyPart::elbow, 1, d.elbow_right);
    touches(BodyPart::knee, 0, d.knee_left);
    touches(BodyPart::knee, 1, d.knee_right);
    touches(BodyPart::eye, 0, d.eye);
    touches(BodyPart::heel, 1, d.heel_right);
}

TEST(BodySolids, PointsAreTheOutermostOfTheirBalls) {
    const Driver d = someone();
    EXPECT_NEAR(support(solidsOf(d, BodyPart::elbow)[0].solid, Vec3::UnitY()).y(), d.elbow_left.y(), 1e-9);
    EXPECT_NEAR(support(solidsOf(d, BodyPart::elbow)[1].solid, -Vec3::UnitY()).y(), d.elbow_right.y(), 1e-9);
    const Vec3 out = sticksOut(hipJoint(d, 1), d.knee_left, d.heel_left);
    EXPECT_NEAR((support(solidsOf(d, BodyPart::knee)[0].solid, out) - d.knee_left).norm(), 0, 1e-9);
}

TEST(BodySolids, ShouldersAreAsWideAsMeasured) {
    Driver d = someone();
    const auto width = [&] {
        const auto both = solidsOf(d, BodyPart::shoulder);
        return support(both[0].solid, Vec3::UnitY()).y() - support(both[1].solid, -Vec3::UnitY()).y();
    };
    EXPECT_NEAR(width(), 280 + 2 * 120, 1e-9);
    d.shoulder_width_mm = 470;
    EXPECT_NEAR(width(), 470, 1e-9);
}

TEST(BodySolids, HipsAreAsWideAsTheSeat) {
    Driver d = someone();
    d.seat = Seat{600, 440, {}, {}};
    const Solid hips = solidsOf(d, BodyPart::hip)[0].solid;
    EXPECT_NEAR(support(hips, Vec3::UnitY()).y() - support(hips, -Vec3::UnitY()).y(), 440, 1e-9);
    EXPECT_NEAR(support(hips, -Vec3::UnitZ()).z(), d.hip.z() - 100, 1e-9);
}

TEST(BodySolids, LimbsJoinUp) {
    const Driver d = someone();
    const auto arms = solidsOf(d, BodyPart::arm);
    ASSERT_EQ(arms.size(), 4u);
    for (const std::size_t i : {0u, 2u}) {
        const auto &upper = std::get<Capsule>(arms[i].solid), &lower = std::get<Capsule>(arms[i + 1].solid);
        EXPECT_EQ(upper.to, lower.from);
    }
    const auto thigh = std::get<Capsule>(solidsOf(d, BodyPart::thigh)[1].solid),
               shin = std::get<Capsule>(solidsOf(d, BodyPart::shin)[1].solid);
    EXPECT_EQ(thigh.to, shin.from);
}

TEST(BodySolids, TheWheelIsThereOnceItIsMeasured) {
    Driver d = someone();
    EXPECT_TRUE(solidsOf(d, BodyPart::wheel).empty());
    d.steering_wheel = SteeringWheel{{580, 350, 590}, 348, 25 * testing::kDeg};
    const Solid rim = solidsOf(d, BodyPart::wheel)[0].solid;
    const Vec3 top = support(rim, d.steering_wheel->up());
    EXPECT_NEAR((top - (d.steering_wheel->centre + 174 * d.steering_wheel->up())).norm(), 0, 1e-9);
    EXPECT_GT(top.x(), 580) << "the top of a tilted rim is away from the driver";
    const PathPoint through[] = {{d.steering_wheel->centre - 50 * d.steering_wheel->facing(), 0},
                                 {d.steering_wheel->centre + 50 * d.steering_wheel->facing(), 0}};
    EXPECT_NEAR(nearest(makeCentreline(through).line, rim).distance_mm, 174 - 28, 1e-6);
}

TEST(BodySolids, DistancesAgreeWithManySupportPlanes) {
    Dice dice(11);
    const Driver d = someone();
    for (const BodyPart part : {BodyPart::helmet, BodyPart::torso, BodyPart::arm, BodyPart::shin}) {
        for (const BodySolid& one : solidsOf(d, part)) {
            for (int i = 0; i < 3; ++i) {
                const Vec3 p = middleOf(one.solid) + (reachOf(one.solid) + dice.between(5, 400)) * dice.way();
                EXPECT_NEAR(toPoint(one.solid, p), bySupport(one.solid, p), 1.0) << partWord(part);
            }
        }
    }
}

TEST(BodySolids, ShiftedOnesAreTheSameElsewhere) {
    Dice dice(3);
    Driver d = someone();
    d.steering_wheel = SteeringWheel{{580, 350, 590}, 348, 0.4};
    for (const BodyPart part : allBodyParts()) {
        for (const BodySolid& one : solidsOf(d, part)) {
            const Vec3 by = dice.point(300), way = dice.way();
            EXPECT_NEAR((support(shifted(one.solid, by), way) - support(one.solid, way) - by).norm(), 0,
                        1e-9);
            EXPECT_LE((support(one.solid, way) - middleOf(one.solid)).norm(), reachOf(one.solid) + 1e-9);
        }
    }
}

TEST(BodyParts, HaveWordsAndPoints) {
    Driver d = someone();
    d.steering_wheel = SteeringWheel{};
    for (const BodyPart part : allBodyParts()) {
        EXPECT_FALSE(partWord(part).empty());
        EXPECT_EQ(hasPoint(part), !bodyPoints(d, part).empty()) << partWord(part);
    }
}

}  // namespace
}  // namespace hoopwright
