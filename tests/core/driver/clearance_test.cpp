// Clearances against figures worked out by hand and against trying many places one by one.
#include "core/driver/clearance.h"

#include <gtest/gtest.h>

#include <cmath>

#include "people.h"

namespace hoopwright {
namespace {

using testing::cageOf;
using testing::Dice;
using testing::smallCage;
using testing::someone;
using testing::straight;
using testing::tube;

const Clearance& of(const Clearances& all, const std::string& name) {
    for (const Clearance& one : all.parts)
        if (one.name == name) return one;
    throw std::logic_error("no part " + name);
}

TEST(NearestBar, IsToBareAndToPaddedTube) {
    // A level bar over the helmet's crown (835 + 137.5), and a padded one a little farther off.
    const CageGeometry cage = cageOf({straight("near", {140, -500, 1032.5}, {140, 900, 1032.5}, 40),
                                      straight("padded", {140, -500, 752.5}, {140, 100, 752.5}, 40, 30)});
    const auto helmet = solidsOf(someone(), BodyPart::helmet);
    const NearestBar bare = nearestBar(helmet, cage, false);
    EXPECT_EQ(bare.member, 0);
    EXPECT_NEAR(bare.gap_mm, 40, 1e-6);
    // Round the least the gap is flat: where it is comes out as the root of how much it is.
    EXPECT_NEAR((bare.on_person - Vec3(140, 350, 972.5)).norm(), 0, 0.02);
    EXPECT_NEAR((bare.on_bar - Vec3(140, 350, 1012.5)).norm(), 0, 0.02);
    EXPECT_NEAR((bare.on_bar - bare.on_person).norm(), bare.gap_mm, 1e-6);
}

TEST(NearestBar, PaddingMayMakeAnotherBarTheNearest) {
    const CageGeometry cage = cageOf({straight("bare", {140, -500, 1042.5}, {140, 900, 1042.5}, 40),
                                      straight("padded", {-112.5, 350, 600}, {-112.5, 350, 1100}, 45, 25)});
    const auto helmet = solidsOf(someone(), BodyPart::helmet);
    EXPECT_EQ(nearestBar(helmet, cage, false).member, 0);
    EXPECT_NEAR(nearestBar(helmet, cage, false).gap_mm, 50, 1e-6);
    const NearestBar padded = nearestBar(helmet, cage, true);  // helmet's back at -30, bar's front at -90
    EXPECT_EQ(padded.member, 1);
    EXPECT_NEAR(padded.gap_mm, 60 - 25, 1e-6);
    EXPECT_NEAR(padded.on_bar.x(), -90 + 25, 1e-3);
}

TEST(NearestBar, IsNegativeInTheTube) {
    const CageGeometry cage = cageOf({straight("in", {140, -500, 960}, {140, 900, 960}, 40)});
    EXPECT_NEAR(nearestBar(solidsOf(someone(), BodyPart::helmet), cage, false).gap_mm, 960 - 20 - 972.5,
                1e-6);
}

TEST(NearestBar, AgreesWithEveryBarTriedByItself) {
    Dice dice(21);
    for (int round = 0; round < 10; ++round) {
        std::vector<ResolvedMember> bars;
        for (int i = 0; i < 12; ++i)
            bars.push_back(tube("b" + std::to_string(i),
                                {{Vec3(0, 350, 500) + dice.point(900), 0},
                                 {Vec3(0, 350, 500) + dice.point(900), 90},
                                 {Vec3(0, 350, 500) + dice.point(900), 0}},
                                dice.between(25, 50), dice.between(0, 30)));
        const CageGeometry cage = cageOf(bars);
        for (const BodyPart part : {BodyPart::helmet, BodyPart::arm, BodyPart::thigh}) {
            const auto body = solidsOf(someone(), part);
            for (const bool padded : {false, true}) {
                double least = 1e300;
                for (const ResolvedMember& bar : cage.members)
                    for (const BodySolid& one : body)
                        least = std::min(least, nearest(bar.line, one.solid).distance_mm - bar.radius_mm() -
                                                    (padded ? bar.padding_mm : 0));
                EXPECT_NEAR(nearestBar(body, cage, padded).gap_mm, least, 1e-6);
            }
        }
    }
}

TEST(Clearances, NameEveryPartAndBothSides) {
    const Clearances all = clearances(someone(), smallCage());
    EXPECT_TRUE(all.enclosed);
    for (const char* name :
         {"helmet", "shoulder_left", "shoulder_right", "arm_left", "elbow_left", "hand_right", "torso_left",
          "hip", "thigh_left", "knee_right", "shin_left", "foot_right"})
        EXPECT_GE(of(all, name).bare.member, 0) << name;
    // The door bar runs beside the left elbow (y 590): at x = 350 its middle is at y 677.3, z 339.7.
    const Clearance& elbow = of(all, "elbow_left");
    EXPECT_EQ(elbow.bare.member, 5);
    for (const Clearance& one : all.parts) EXPECT_LE(one.padded.gap_mm, one.bare.gap_mm) << one.name;
}

TEST(Clearances, OfNoCageAreNone) {
    EXPECT_TRUE(clearances(someone(), {}).parts.empty());
    const CageGeometry flat = cageOf({straight("one", {0, -500, 1100}, {0, 500, 1100})});
    const Clearances all = clearances(someone(), flat);
    EXPECT_FALSE(all.enclosed);
    EXPECT_TRUE(std::isnan(of(all, "helmet").inside_mm));
}

TEST(Clearances, InsideASheetOverTheBars) {
    // Four posts at x 0 and 900, y 650 and -650, 1200 high: a box grown by 20.
    std::vector<ResolvedMember> posts;
    for (const double x : {-400.0, 1300.0})
        for (const double y : {650.0, -650.0}) posts.push_back(straight("post", {x, y, -200}, {x, y, 1200}));
    const Clearances all = clearances(someone(), cageOf(posts));
    EXPECT_NEAR(of(all, "helmet").inside_mm, 670 - 482.5, 1e-3);
    EXPECT_NEAR(of(all, "elbow_left").inside_mm, 670 - 590, 1e-3);
    EXPECT_NEAR(of(all, "elbow_left").on_sheet.y(), 670, 1e-3);
    EXPECT_NEAR(of(all, "elbow_left").on_body.y(), 590, 1e-3);
}

TEST(Travel, IsUntilTheHelmetMeetsATube) {
    const Driver d = someone();
    const CageGeometry cage = cageOf({straight("above", {140, -500, 1092.5}, {140, 900, 1092.5}, 40, 15),
                                      straight("behind", {-130, 350, 300}, {-130, 350, 1200}, 45),
                                      straight("aside", {-500, 600, 835}, {900, 600, 835}, 30)});
    const HelmetRoom room = helmetRoom(d, cage);
    EXPECT_EQ(room.above.member, 0);
    EXPECT_NEAR(room.above.bare_mm, 100, 1e-4);
    EXPECT_NEAR(room.above.padded_mm, 85, 1e-4);
    EXPECT_EQ(room.behind.member, 1);
    EXPECT_NEAR(room.behind.bare_mm, -30 + 130 - 22.5, 1e-4);
    EXPECT_EQ(room.left.member, 2);
    EXPECT_NEAR(room.left.bare_mm, 600 - 15 - 482.5, 1e-4);
    EXPECT_EQ(room.right.member, -1);
    EXPECT_EQ(room.right.bare_mm, kTravelLimit_mm);
    EXPECT_EQ(room.ahead.member, -1);
}

TEST(Travel, TouchesWhenItHasGoneThatFar) {
    Dice dice(8);
    const Solid helmet = someone().helmet.ellipsoid();
    int met = 0;
    for (int i = 0; i < 400; ++i) {
        const CageGeometry cage = cageOf({tube("bar", {{Vec3(140, 350, 835) + dice.point(600), 0},
                                                       {Vec3(140, 350, 835) + dice.point(600), 80},
                                                       {Vec3(140, 350, 835) + dice.point(600), 0}})});
        const int all[] = {0};
        const Vec3 way = dice.way();
        const Travel far = travel(helmet, cage, all, way);
        if (far.member < 0 || far.bare_mm <= 0) continue;
        ++met;
        EXPECT_NEAR(nearest(cage.members[0].line, shifted(helmet, far.bare_mm * way)).distance_mm, 20, 1e-5);
        for (double t = 0; t < far.bare_mm; t += far.bare_mm / 40)
            EXPECT_GT(nearest(cage.members[0].line, shifted(helmet, t * way)).distance_mm, 20 - 1e-6);
    }
    EXPECT_GT(met, 25);
}

TEST(TopLines, AreLaidWhereTheHeadIs) {
    const CageGeometry cage = smallCage();
    const auto lines = topLines(someone(), cage);
    ASSERT_EQ(lines.size(), 1u);
    EXPECT_EQ(lines[0].from, 0);
    EXPECT_EQ(lines[0].to, 3);
    EXPECT_NEAR((lines[0].from_at - Vec3(-80, 350, 1082.5)).norm(), 0, 1e-6);
    EXPECT_NEAR((lines[0].to_at - Vec3(600, 350, 999)).norm(), 0, 1e-6);
    // The ellipse's reach square to the line, from its middle.
    const double length = std::hypot(680, 83.5), nx = 83.5 / length, nz = 680 / length;
    const double gap = nz * 1082.5 + nx * -80 - (nz * 835 + nx * 140) - std::hypot(170 * nx, 137.5 * nz);
    EXPECT_NEAR(lines[0].helmet.gap_mm, gap, 1e-6);
}

TEST(UnderEdge, CountsWhatIsOverItAsLacking) {
    const Solid ball = Capsule{{0, 0, 120}, {0, 0, 120}, 50};
    EXPECT_NEAR(underEdge(ball, {-500, 0, 300}, {500, 0, 300}).gap_mm, 130, 1e-9);
    EXPECT_NEAR(underEdge(ball, {-500, 0, 100}, {500, 0, 100}).gap_mm, -70, 1e-9);
    EXPECT_NEAR(underEdge(ball, {500, 0, 100}, {-500, 0, 100}).gap_mm, -70, 1e-9);
}

}  // namespace
}  // namespace hoopwright
