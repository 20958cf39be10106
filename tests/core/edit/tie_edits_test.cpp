// Feet tied to rails and raised on boxes.
#include "core/edit/tie_edits.h"

#include <gmock/gmock.h>

#include <set>

#include "core/edit/cage_edits.h"
#include "core/model/resolve.h"
#include "tests/core/edit/demo_job.h"
#include "tests/core/edit/plain_job.h"

namespace hoopwright {
namespace {

using ::testing::HasSubstr;

std::set<std::string> against(const CageGeometry& cage) {
    std::set<std::string> out;
    for (const GeometryProblem& problem : cage.problems) out.insert(problem.text);
    return out;
}

/// The demo pickup without what ties its cab to the frame.
Job untied() {
    Job job = demoJobValue("mile_pickup.yaml");
    deleteParts(job, resolve(job),
                {"hoop_return", "side_return", "front_return", "hoop_tie", "side_tie", "front_foot"},
                Orphans::remove_too);
    return job;
}

/// Least distance from a point to a rail's centreline, step by step.
double toRail(const FrameRail& rail, const Vec3& p) {
    double least = 1e300;
    for (std::size_t i = 0; i + 1 < rail.line.size(); ++i)
        for (int k = 0; k <= 3000; ++k)
            least =
                std::min(least, (rail.line[i] + k / 3000.0 * (rail.line[i + 1] - rail.line[i]) - p).norm());
    return least;
}

TEST(TieToRail, AFootOnTheCabGetsAReturnToTheFrameAndNothingNewIsAgainstIt) {
    for (const char* foot : {"hoop_foot.left", "side_foot.left", "hoop_foot.right"}) {
        Job job = untied();
        const CageGeometry before = resolve(job);
        const auto made = tieToRail(job, before, foot, Fixing::bolted);
        ASSERT_TRUE(made) << made.reason();
        EXPECT_EQ(made->rail, "frame.left") << foot;
        const Plate* plate = job.cage.plate(made->plate);
        const Member* bar = job.cage.member(made->bar);
        ASSERT_TRUE(plate && bar);
        EXPECT_EQ(plate->fixing, Fixing::bolted);
        EXPECT_GT(plate->bolts.count, 0);
        EXPECT_EQ(bar->role, "frame_return");
        EXPECT_TRUE(plate->mirrored && bar->mirrored) << "the foot is one of a pair";
        const CageGeometry after = resolve(job);
        EXPECT_EQ(against(after), against(before)) << foot;
        for (const char* side : {".left", ".right"}) {
            const int p = after.plate(made->plate + side), b = after.member(made->bar + side);
            ASSERT_TRUE(p >= 0 && b >= 0);
            const ResolvedPlate& made_plate = after.plates[static_cast<std::size_t>(p)];
            EXPECT_TRUE(made_plate.on_frame);
            EXPECT_EQ(job.car.rails[static_cast<std::size_t>(made_plate.rail)].name,
                      std::string("frame") + side);
            // Its lower face lies on the rail: half a rail and a plate above the centreline.
            const FrameRail& rail = *job.car.rail(std::string("frame") + side);
            EXPECT_NEAR(toRail(rail, made_plate.at), rail.height_mm / 2 + made_plate.thickness_mm, 1.5);
            EXPECT_EQ(after.members[static_cast<std::size_t>(b)].ends[0].on, ResolvedEnd::On::member);
        }
    }
}

TEST(TieToRail, AWeldedTieIsSaidAndABoltedOneNot) {
    for (const Fixing fixing : {Fixing::welded, Fixing::bolted}) {
        Job job = untied();
        const std::size_t known = resolve(job).notes.size();
        const auto made = tieToRail(job, resolve(job), "hoop_foot.left", fixing);
        ASSERT_TRUE(made) << made.reason();
        EXPECT_EQ(resolve(job).notes.size(), known + (fixing == Fixing::welded ? 1 : 0));
    }
}

TEST(TieToRail, APlateThatLiesOnTheRailIsFixedAsItIs) {
    Job job = demoJobValue("mile_pickup.yaml");
    const std::size_t bars = job.cage.members.size();
    findPlate(job.cage, "brace_foot")->rail.clear();
    const auto made = tieToRail(job, resolve(job), "rear_brace.right", Fixing::bolted);
    ASSERT_TRUE(made) << made.reason();
    EXPECT_EQ(made->plate, "brace_foot");
    EXPECT_EQ(made->bar, "");
    EXPECT_EQ(job.cage.members.size(), bars);
    EXPECT_EQ(job.cage.plate("brace_foot")->rail, "frame.left");
    EXPECT_EQ(job.cage.plate("brace_foot")->fixing, Fixing::bolted);
}

TEST(TieToRail, RefusesWithTheReason) {
    Job job = demoJobValue("mile_pickup.yaml");
    EXPECT_THAT(tieToRail(job, resolve(job), "belt_bar", Fixing::bolted).reason(),
                HasSubstr("Choose a foot"));
    EXPECT_THAT(tieToRail(job, resolve(job), "nothing", Fixing::bolted).reason(), HasSubstr("Choose a foot"));
    std::erase_if(job.car.rails, [](const FrameRail& rail) { return rail.name.starts_with("frame"); });
    EXPECT_THAT(tieToRail(job, resolve(job), "hoop_foot.left", Fixing::bolted).reason(),
                HasSubstr("no rail of the car within 1 m of Hoop foot, left"));
}

TEST(PutOnRiser, WhatIsUnderItStaysWhereItIs) {
    Job job = plainHoop();
    Plate plate;
    plate.id = "foot";
    plate.at = FixedPoint{{0, 600, 0}};
    plate.normal = {0, 0.3, 1};
    plate.length_mm = plate.width_mm = 200;
    plate.thickness_mm = 3;
    job.cage.plates = {plate};
    const auto under = [](const ResolvedPlate& of) {
        return Vec3(of.at - (of.thickness_mm + of.riser_height_mm) * of.axes.col(2));
    };
    const Vec3 floor = under(resolve(job).plates[0]);
    for (const double height : {50.0, 80.0, 20.0}) {
        putOnRiser(job.cage.plates[0], Riser{height, 2});
        const ResolvedPlate on = resolve(job).plates[0];
        EXPECT_TRUE(under(on).isApprox(floor, 1e-9));
        EXPECT_NEAR((on.at - Vec3(0, 600, 0)).norm(), height, 1e-9);
    }
    putOnRiser(job.cage.plates[0], std::nullopt);
    EXPECT_NEAR((resolve(job).plates[0].at - Vec3(0, 600, 0)).norm(), 0, 1e-9);
    EXPECT_FALSE(job.cage.plates[0].riser);
}

}  // namespace
}  // namespace hoopwright
