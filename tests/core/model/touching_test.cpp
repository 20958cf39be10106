// Joints, what an end is coped around, and tubes that run into each other.
#include <gtest/gtest.h>

#include <numbers>

#include "core/model/resolve.h"
#include "core/model/tube_body.h"
#include "tests/core/model/cage_checks.h"
#include "tests/core/model/small_cage.h"

namespace hoopwright {
namespace {

using namespace testing;
using Kind = GeometryProblem::Kind;

std::vector<std::string> idsOf(const CageGeometry& cage, const std::vector<int>& indices) {
    std::vector<std::string> ids;
    for (int i : indices) ids.push_back(cage.members[static_cast<std::size_t>(i)].id);
    return ids;
}

/// A post up z at the origin.
Job onePost() {
    Job job = emptyJob();
    job.cage.members = {bar("post", {at(0, 0, -1000), at(0, 0, 1000)})};
    return job;
}

TEST(Joints, ASquareLandingHasItsAngleStationAndPlace) {
    Job job = onePost();
    job.cage.members.push_back(bar("arm", {at(600, 0, 200), onHeight("post", 200)}));
    const CageGeometry cage = resolve(job);
    EXPECT_EQ(allTexts(cage), "");
    ASSERT_EQ(cage.joints.size(), 1u);
    const Joint& joint = cage.joints[0];
    EXPECT_EQ(joint.branch, 1);
    EXPECT_EQ(joint.end, 1);
    EXPECT_EQ(joint.host, 0);
    EXPECT_NEAR(joint.host_station_mm, 1200, kExact_mm);
    EXPECT_NEAR(joint.angle_rad, std::numbers::pi / 2, 1e-12);
    EXPECT_NEAR(joint.offset_mm, 0, kExact_mm);
    EXPECT_FALSE(joint.on_bend);
    EXPECT_TRUE(near(cage.members[1].ends[1].outward, {-1, 0, 0}));
}

TEST(Joints, AngleIsNeverMoreThanSquareAndOffsetIsBetweenTheAxes) {
    Job job = onePost();
    MemberPoint beside = onHeight("post", 0);
    std::get<Landing>(beside.place).offset = {0, 12, 0};
    job.cage.members.push_back(bar("arm", {beside, at(500, 12, -500)}, "38x2.5"));
    const CageGeometry cage = resolve(job);
    ASSERT_EQ(cage.joints.size(), 1u);
    EXPECT_NEAR(cage.joints[0].angle_rad, std::numbers::pi / 4, 1e-9);
    EXPECT_NEAR(cage.joints[0].offset_mm, 12, kExact_mm);
}

TEST(Joints, ALandingOnABendSaysSo) {
    Job job = emptyJob();
    job.cage.members = {bar("hoop", {at(0, 600, 0), at(0, 600, 900), at(0, -600, 900), at(0, -600, 0)}),
                        bar("stay", {onHeight("hoop", 850, Side::left), at(-700, 600, 300)}, "38x2.5")};
    const CageGeometry cage = resolve(job);
    EXPECT_EQ(allTexts(cage), "");
    ASSERT_EQ(cage.joints.size(), 1u);
    EXPECT_TRUE(cage.joints[0].on_bend);
}

TEST(Also, TwoBranchesSideBySideTheLaterIsCopedAroundTheEarlier) {
    Job job = onePost();
    job.cage.members.push_back(bar("first", {onHeight("post", 0), at(600, 0, 0)}, "38x2.5"));
    job.cage.members.push_back(bar("second", {onHeight("post", 10), at(600, 0, 500)}, "38x2.5"));
    const CageGeometry cage = resolve(job);
    EXPECT_EQ(allTexts(cage), "");
    EXPECT_TRUE(memberOf(cage, "first").ends[0].also.empty());
    EXPECT_EQ(idsOf(cage, memberOf(cage, "second").ends[0].also), std::vector<std::string>{"first"});
}

TEST(Also, BranchesOnOppositeSidesOfAHostDoNotTouch) {
    Job job = onePost();
    job.cage.members.push_back(bar("front", {onHeight("post", 0), at(600, 0, 0)}, "38x2.5"));
    job.cage.members.push_back(bar("back", {onHeight("post", 0), at(-600, 0, 0)}, "38x2.5"));
    const CageGeometry cage = resolve(job);
    EXPECT_EQ(allTexts(cage), "");
    EXPECT_TRUE(memberOf(cage, "back").ends[0].also.empty());
    ASSERT_EQ(cage.nodes.size(), 1u);
    EXPECT_EQ(idsOf(cage, cage.nodes[0].members), (std::vector<std::string>{"post", "front", "back"}));
}

TEST(Also, SmallBranchesSquareToEachOtherOnAThickHostDoNotTouch) {
    Job job = onePost();
    job.stock.tubes.push_back({"20x2", {20, 2}, "e355", TubeForm::seamless, {{6000, 0}}, {}, {}, ""});
    job.cage.members.push_back(bar("one", {onHeight("post", 0), at(600, 0, 0)}, "20x2"));
    job.cage.members.push_back(bar("two", {onHeight("post", 0), at(0, 600, 0)}, "20x2"));
    const CageGeometry cage = resolve(job);
    EXPECT_EQ(allTexts(cage), "");
    // On the surface they are sqrt(2) 22.5 apart, centre to centre, and 20 thick: 11.8 mm clear.
    EXPECT_TRUE(memberOf(cage, "two").ends[0].also.empty());
}

TEST(Also, NamedMembersComeFirstAndWrongNamesAreSaid) {
    Job job = onePost();
    job.cage.members.push_back(bar("first", {onHeight("post", 0), at(600, 0, 0)}, "38x2.5"));
    MemberPoint end = onHeight("post", 100);
    std::get<Landing>(end.place).also = {"first", "nobody", "second", "post"};
    job.cage.members.push_back(bar("second", {end, at(600, 0, 400)}, "38x2.5"));
    const CageGeometry cage = resolve(job);
    EXPECT_EQ(idsOf(cage, memberOf(cage, "second").ends[0].also), std::vector<std::string>{"first"});
    EXPECT_TRUE(has(cage, Kind::no_such_member, "Second: is to be coped around nobody, which is not there."));
    EXPECT_TRUE(has(cage, Kind::on_itself, "Second: is to be coped around itself."));
}

TEST(Also, FeetOnOnePlateAreCopedToEachOther) {
    Job job = emptyJob();
    job.cage.plates = {footPlate("foot", 0, 0, 0, false)};
    job.cage.members = {bar("leg", {onPlate("foot"), at(0, 0, 800)}),
                        bar("sill_bar", {onPlate("foot", 20), at(700, 0, 400)}, "38x2.5")};
    const CageGeometry cage = resolve(job);
    EXPECT_EQ(allTexts(cage), "");
    EXPECT_EQ(idsOf(cage, memberOf(cage, "sill_bar").ends[0].also), std::vector<std::string>{"leg"});
    ASSERT_EQ(cage.plates[0].feet.size(), 2u);
    ASSERT_EQ(cage.nodes.size(), 1u);
    EXPECT_EQ(cage.nodes[0].plate, 0);
}

TEST(Clash, CrossingTubesSayHowDeepAndWhere) {
    Job job = onePost();
    job.cage.members.push_back(bar("arm", {at(-500, 30, 100), at(500, 30, 100)}, "38x2.5"));
    const CageGeometry cage = resolve(job);
    ASSERT_EQ(cage.problems.size(), 1u) << allTexts(cage);
    // 22.5 + 19 - 30 = 11.5 deep.
    EXPECT_EQ(cage.problems[0].kind, Kind::tubes_collide);
    EXPECT_EQ(cage.problems[0].text,
              "Arm: runs into Post, 11.5 mm deep, at x 0.0 mm, y 15.0 mm, z 100.0 mm.");
    EXPECT_TRUE(near(cage.problems[0].at, {0, 15, 100}, 1e-4));
}

TEST(Clash, TubesThatOnlyTouchDoNotClash) {
    for (double gap : {0.0, 0.05, 1.0}) {
        Job job = onePost();
        job.cage.members.push_back(
            bar("arm", {at(-500, 41.5 + gap, 100), at(500, 41.5 + gap, 100)}, "38x2.5"));
        EXPECT_EQ(allTexts(resolve(job)), "") << gap;
    }
    Job job = onePost();
    job.cage.members.push_back(bar("arm", {at(-500, 41.0, 100), at(500, 41.0, 100)}, "38x2.5"));
    EXPECT_EQ(resolve(job).problems.size(), 1u) << "half a millimetre deep";
}

TEST(Clash, ABendThatRunsIntoATubeIsFound) {
    Job job = onePost();
    // The corner of the bend passes the post's axis 35 mm away.
    job.cage.members.push_back(bar("hook", {at(-600, 0, 300), at(90, 0, 300), at(90, 600, 300)}, "38x2.5"));
    const CageGeometry cage = resolve(job);
    ASSERT_EQ(cage.problems.size(), 1u) << allTexts(cage);
    EXPECT_EQ(cage.problems[0].kind, Kind::tubes_collide);
}

TEST(Clash, PassesAndMidPathLandingsAllowIt) {
    Job job = onePost();
    job.cage.members.push_back(bar("arm", {at(-500, 30, 100), at(500, 30, 100)}, "38x2.5"));
    job.cage.members[1].passes = {"post"};
    EXPECT_EQ(allTexts(resolve(job)), "");
    job.cage.members[1].passes.clear();
    job.cage.members[0].passes = {"arm"};
    EXPECT_EQ(allTexts(resolve(job)), "");
    job = onePost();
    job.cage.members.push_back(
        bar("arm", {at(-500, 0, 100), onHeight("post", 100), at(500, 0, 100)}, "38x2.5"));
    const CageGeometry cage = resolve(job);
    EXPECT_EQ(allTexts(cage), "");
    EXPECT_TRUE(cage.joints.empty()) << "a mid-path landing guides the path and makes no joint";
}

TEST(Clash, AFreeEndInsideATubeIsToldToLand) {
    Job job = onePost();
    job.cage.members.push_back(bar("arm", {at(0, 0, 100), at(500, 0, 100)}, "38x2.5"));
    const CageGeometry cage = resolve(job);
    ASSERT_EQ(cage.problems.size(), 1u) << allTexts(cage);
    EXPECT_NE(cage.problems[0].text.find("Arm: ends inside Post and does not land on it"), std::string::npos);
    EXPECT_EQ(cage.problems[0].remedy, "let that end land on Post");
}

TEST(Clash, AnEarlierEndInALaterTubesWayAsksForTheOtherOrder) {
    Job job = onePost();
    job.cage.members.push_back(bar("arm", {onHeight("post", 0), at(600, 0, 0)}, "38x2.5"));
    job.cage.members.push_back(bar("rail", {at(60, -500, 0), at(60, 500, 0)}, "38x2.5"));
    const CageGeometry cage = resolve(job);
    ASSERT_EQ(cage.problems.size(), 1u) << allTexts(cage);
    EXPECT_NE(cage.problems[0].remedy.find("put Arm after Rail in build order"), std::string::npos);
}

TEST(Clash, AnEndThatMeetsAnotherTubeBeforeItsHostStopsShort) {
    Job job = onePost();
    job.cage.members.push_back(bar("rail", {at(70, -500, 0), at(70, 500, 0)}, "38x2.5"));
    job.cage.members.push_back(bar("arm", {onHeight("post", 0), at(600, 0, 0)}, "38x2.5"));
    const CageGeometry cage = resolve(job);
    ASSERT_EQ(cage.problems.size(), 1u) << allTexts(cage);
    EXPECT_NE(cage.problems[0].text.find("Arm: runs into Rail before it gets to what it lands on"),
              std::string::npos);
}

TEST(Clash, ATubeLaidInsideAnotherIsNoJoint) {
    Job job = onePost();
    job.cage.members.push_back(bar("arm", {onHeight("post", -800), at(20, 0, 900)}, "38x2.5"));
    const CageGeometry cage = resolve(job);
    ASSERT_EQ(cage.problems.size(), 1u) << allTexts(cage);
    EXPECT_NE(cage.problems[0].text.find("runs along inside Post"), std::string::npos);
}

TEST(Clash, ABarThatComesBackToItsHostIsFound) {
    Job job = onePost();
    job.cage.members.push_back(
        bar("loop", {onHeight("post", -500), at(400, 0, -500), at(400, 0, 100), at(-400, 0, 100)}, "38x2.5"));
    const CageGeometry cage = resolve(job);
    ASSERT_EQ(cage.problems.size(), 1u) << allTexts(cage);
    EXPECT_NE(cage.problems[0].text.find("Loop: runs into Post"), std::string::npos);
}

TEST(Nodes, EndsWithinReachAlongAHostMeetAtOneNode) {
    Job job = onePost();
    job.cage.node_reach_mm = 50;
    job.cage.members.push_back(bar("a", {onHeight("post", 0), at(600, 0, 0)}, "38x2.5"));
    job.cage.members.push_back(bar("b", {onHeight("post", 40), at(-600, 0, 40)}, "38x2.5"));
    job.cage.members.push_back(bar("c", {onHeight("post", 140), at(600, 0, 140)}, "38x2.5"));
    CageGeometry cage = resolve(job);
    ASSERT_EQ(cage.nodes.size(), 2u);
    EXPECT_NEAR(cage.nodes[0].spread_mm, 40, kExact_mm);
    EXPECT_TRUE(near(cage.nodes[0].at, {0, 0, 20}));
    EXPECT_EQ(cage.nodes[0].joints.size(), 2u);
    EXPECT_EQ(memberOf(cage, "c").ends[0].node, 1);
    job.cage.node_reach_mm = 39;
    cage = resolve(job);
    EXPECT_EQ(cage.nodes.size(), 3u);
    EXPECT_EQ(cage.nodes[0].spread_mm, 0);
}

TEST(Nodes, ABranchThatLandsByTheEndOfAnotherJoinsItsNode) {
    Job job = onePost();
    job.cage.members.push_back(bar("a", {onHeight("post", 0), at(600, 0, 0)}, "38x2.5"));
    job.cage.members.push_back(bar("b", {onBy("a", Landing::By::distance, 45), at(200, 0, 500)}, "38x2.5"));
    const CageGeometry cage = resolve(job);
    ASSERT_EQ(cage.nodes.size(), 1u) << allTexts(cage);
    EXPECT_EQ(cage.nodes[0].members, (std::vector<int>{0, 1, 2}));
}

TEST(TubeBody, ASpanInsideARodMatchesTheDistance) {
    const resolving::Rod rod{{0, 0, 0}, Vec3::UnitX(), 100, 0, true, false};
    const auto square = resolving::insideRod({50, -100, 0}, Vec3::UnitY(), {0, 200}, rod, 20);
    EXPECT_NEAR(square.from, 80, 1e-12);
    EXPECT_NEAR(square.to, 120, 1e-12);
    const auto along = resolving::insideRod({-100, 0, 0}, Vec3::UnitX(), {0, 500}, rod, 20);
    EXPECT_NEAR(along.from, 80, 1e-12) << "round where it is joined";
    EXPECT_NEAR(along.to, 200, 1e-12) << "flat where it ends";
    EXPECT_TRUE(resolving::insideRod({50, -100, 21}, Vec3::UnitY(), {0, 200}, rod, 20).empty());
}

}  // namespace
}  // namespace hoopwright
