#include "core/edit/snap.h"

#include <gtest/gtest.h>

#include <set>

#include "core/edit/cage_edits.h"
#include "core/model/resolve.h"
#include "tests/core/edit/plain_job.h"

namespace hoopwright {
namespace {

using Kind = Grip::Kind;

/// A bar across the hoop, 40 out of level, and one from its leg to the rear.
Job plainJob() {
    Job job = plainHoop();
    addBar(job, "across", "belt_bar",
           {landingOn("hoop", Landing::By::height, 500, Side::left),
            landingOn("hoop", Landing::By::height, 540, Side::right)});
    addBar(job, "back", "rear_brace",
           {landingOn("hoop", Landing::By::height, 700, Side::left), FixedPoint{{-900, 600, 100}}});
    return job;
}

struct Snapping {
    Job job = plainJob();
    CageGeometry now = resolve(job);
    Grip grip(const std::string& part, Kind kind, std::size_t nth = 0) const {
        for (const Grip& one : gripsOf(job, now, part))
            if (one.kind == kind && nth-- == 0) return one;
        ADD_FAILURE() << part;
        return {};
    }
    Snap at(const Grip& of, const Vec3& place, double reach = 12) const {
        const auto snap = snapped(job, now, of, place, reach);
        return snap ? *snap : Snap{Vec3::Zero(), "nothing"};
    }
};

TEST(Snapping, ABarIsLevelWhereItsOtherEndIs) {
    const Snapping in;
    ASSERT_TRUE(in.now.problems.empty()) << in.now.problems.front().text;
    const Snap snap = in.at(in.grip("across", Kind::landing, 1), {0, -600, 507});
    EXPECT_EQ(snap.why, "level");
    EXPECT_NEAR((snap.at - Vec3(0, -600, 500)).norm(), 0, 1e-6);
}

TEST(Snapping, WhereAnotherLandsAndInTheMiddleOfAStraight) {
    const Snapping in;
    const Grip grip = in.grip("across", Kind::landing, 0);
    EXPECT_EQ(in.at(grip, {0, 600, 706}).why, "where Rear brace lands");
    EXPECT_NEAR(in.at(grip, {0, 600, 706}).at.z(), 700, 1e-6);
    // The leg's straight goes from the floor to where the bend begins.
    const double middle = (1000 - 135) / 2.0;
    EXPECT_EQ(in.at(grip, {0, 600, middle + 5}).why, "middle of the straight");
    EXPECT_NEAR(in.at(grip, {0, 600, middle + 5}).at.z(), middle, 1e-6);
    EXPECT_EQ(in.at(grip, {0, 600, 861}).why, "end of the bend");
    EXPECT_EQ(in.at(grip, {0, 600, 610}).why, "nothing");
}

TEST(Snapping, SquareToItsHostAndNotFromFartherThanTheReach) {
    const Snapping in;
    // The brace's foot at z 100: square to the leg is at z 100.
    const Grip grip = in.grip("back", Kind::landing);
    const Snap snap = in.at(grip, {0, 600, 108});
    EXPECT_NEAR((snap.at - Vec3(0, 600, 100)).norm(), 0, 1e-6);
    EXPECT_EQ(in.at(grip, {0, 600, 108}, 7).why, "nothing");
}

TEST(Snapping, ACornerAlikeOnBothSidesLevelOrPlumb) {
    const Snapping in;
    const Grip corner = in.grip("hoop", Kind::corner, 1);
    ASSERT_NEAR((corner.at - Vec3(0, 600, 1000)).norm(), 0, 1e-6);
    EXPECT_EQ(in.at(corner, {0, 596, 1004}).why, "alike on both sides");
    EXPECT_EQ(in.at(corner, {0, 640, 1009}).why, "level");
    EXPECT_NEAR(in.at(corner, {0, 640, 1009}).at.y(), 640, 1e-6);
    EXPECT_EQ(in.at(corner, {0, 605, 1050}).why, "plumb, seen from ahead");
}

TEST(Snapping, AHoopIsUprightAndAPlateOverItsRail) {
    Snapping in;
    const Grip lean = in.grip("hoop", Kind::lean);
    EXPECT_EQ(in.at(lean, lean.at + Vec3(8, 0, 0)).why, "upright");
    EXPECT_NEAR(in.at(lean, lean.at + Vec3(8, 0, 0)).at.x(), 0, 1e-6);
    FrameRail rail;
    rail.line = {{-500, 400, -60}, {500, 420, -60}};
    in.job.car.rails = {rail};
    Plate plate = called<Plate>("foot");
    plate.at = FixedPoint{{0, 430, 0}};
    plate.length_mm = plate.width_mm = 100;
    plate.thickness_mm = 3;
    in.job.cage.plates = {plate};
    in.now = resolve(in.job);
    const Grip grip = in.grip("foot", Kind::plate);
    const Snap snap = in.at(grip, {0, 418, 0});
    EXPECT_EQ(snap.why, "over the rail");
    // On the line y = 410 + x / 50, in plan.
    EXPECT_NEAR(snap.at.y(), 410 + snap.at.x() / 50, 1e-9);
    EXPECT_NEAR(snap.at.z(), 0, 1e-9);
}

TEST(Snapping, OnTheDemosEveryPlaceIsOneTheGripCanGoTo) {
    std::set<std::string> kinds;
    for (const char* demo : {"hillclimb_saloon.yaml", "mile_pickup.yaml"}) {
        const Job job = demoJobValue(demo);
        const CageGeometry now = resolve(job);
        for (const ResolvedMember& member : now.members)
            for (const Grip& grip : gripsOf(job, now, member.id)) {
                const auto snap = snapped(job, now, grip, grip.at, 60);
                if (!snap) continue;
                EXPECT_FALSE(snap->why.empty());
                EXPECT_LE((snap->at - grip.at).norm(), 60);
                kinds.insert(snap->why.substr(0, snap->why.find(' ')));
                if (grip.kind != Kind::landing && grip.kind != Kind::node) continue;
                const Centreline& host = now.members[static_cast<std::size_t>(now.member(grip.host))].line;
                EXPECT_LT((host.point(host.nearestStation(snap->at)) - snap->at).norm(), 0.1)
                    << member.id << ": " << snap->why;
            }
    }
    EXPECT_GE(kinds.size(), 3u);
}

}  // namespace
}  // namespace hoopwright
