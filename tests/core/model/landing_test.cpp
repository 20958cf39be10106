// Where members land, on which side, in any order of declaration.
#include <gtest/gtest.h>

#include "core/model/resolve.h"
#include "tests/core/model/cage_checks.h"
#include "tests/core/model/small_cage.h"

namespace hoopwright {
namespace {

using namespace testing;

/// A post at x = 0 from z = 0 to 1000 at y = 500, leaning in by 100.
Job postJob() {
    Job job = emptyJob();
    job.cage.members = {pair("post", {at(0, 500, 0), at(0, 400, 1000)})};
    return job;
}

TEST(Landing, ByHeightGivesThePointOfTheHostAtThatHeight) {
    Job job = postJob();
    job.cage.members.push_back(
        bar("cross", {onHeight("post.left", 500), onHeight("post.right", 500)}, "38x2.5"));
    const CageGeometry cage = resolve(job);
    EXPECT_EQ(allTexts(cage), "");
    EXPECT_TRUE(near(memberOf(cage, "cross").ends[0].at, {0, 450, 500}));
    EXPECT_TRUE(near(memberOf(cage, "cross").ends[1].at, {0, -450, 500}));
}

TEST(Landing, ASingleBarPicksTheHalfOfAPairBySide) {
    Job job = postJob();
    job.cage.members.push_back(
        bar("cross", {onHeight("post", 500, Side::left), onHeight("post", 500, Side::right)}));
    const CageGeometry cage = resolve(job);
    EXPECT_EQ(allTexts(cage), "");
    EXPECT_TRUE(near(memberOf(cage, "cross").ends[1].at, {0, -450, 500}));
}

TEST(Landing, ASingleBarThatDoesNotSayWhichOfAPairIsAProblem) {
    Job job = postJob();
    job.cage.members.push_back(bar("cross", {onHeight("post", 500), onHeight("post.right", 500)}));
    const CageGeometry cage = resolve(job);
    EXPECT_TRUE(has(cage, GeometryProblem::Kind::no_such_member, "post, of which there are two"))
        << allTexts(cage);
    EXPECT_EQ(cage.problems[0].remedy, "say post.left or post.right");
}

TEST(Landing, ByDistanceFractionAndEndCountFromTheEndTheySay) {
    Job job = emptyJob();
    job.cage.members = {
        bar("rail", {at(0, 0, 0), at(1000, 0, 0)}),
        bar("a", {onBy("rail", Landing::By::distance, 200), at(200, 0, 500)}, "38x2.5"),
        bar("b", {onBy("rail", Landing::By::distance, 200, true), at(800, 0, 500)}, "38x2.5"),
        bar("c", {onBy("rail", Landing::By::fraction, 0.4), at(400, 0, 500)}, "38x2.5"),
        bar("d", {onBy("rail", Landing::By::end, 0, true), at(1000, 0, 500)}, "38x2.5"),
        bar("e", {onBy("rail", Landing::By::station_x, 600), at(600, 0, 500)}, "38x2.5"),
    };
    const CageGeometry cage = resolve(job);
    EXPECT_EQ(allTexts(cage), "");
    EXPECT_TRUE(near(memberOf(cage, "a").ends[0].at, {200, 0, 0}));
    EXPECT_TRUE(near(memberOf(cage, "b").ends[0].at, {800, 0, 0}));
    EXPECT_TRUE(near(memberOf(cage, "c").ends[0].at, {400, 0, 0}));
    EXPECT_TRUE(near(memberOf(cage, "d").ends[0].at, {1000, 0, 0}));
    EXPECT_TRUE(near(memberOf(cage, "e").ends[0].at, {600, 0, 0}));
}

TEST(Landing, OrderOfDeclarationDoesNotMatterForThePlace) {
    Job job = postJob();
    job.cage.members.insert(
        job.cage.members.begin(),
        bar("cross", {onHeight("post.left", 500), onHeight("post.right", 500)}, "38x2.5"));
    job.cage.members.insert(
        job.cage.members.begin(),
        bar("prop", {onBy("cross", Landing::By::fraction, 0.5), at(400, 0, 500)}, "38x2.5"));
    const CageGeometry cage = resolve(job);
    EXPECT_EQ(allTexts(cage), "");
    EXPECT_EQ(cage.members[0].id, "prop");
    EXPECT_TRUE(near(memberOf(cage, "prop").ends[0].at, {0, 0, 500}));
}

TEST(Landing, MovingTheMainHoopCarriesEverythingLandedOnIt) {
    Job job = hoopJob();
    job.cage.members.push_back(
        bar("prop", {onBy("belt_bar", Landing::By::fraction, 0.25), at(-500, 300, 620)}, "38x2.5"));
    const CageGeometry before = resolve(job);
    for (MemberPoint& point : job.cage.members[0].path) {
        if (auto* fixed = std::get_if<FixedPoint>(&point.place)) fixed->at += Vec3(40, 0, 0);
    }
    auto* plate = std::get_if<FixedPoint>(&job.cage.plates[0].at);
    ASSERT_NE(plate, nullptr);
    plate->at += Vec3(40, 0, 0);
    const CageGeometry after = resolve(job);
    EXPECT_EQ(allTexts(after), "");
    for (const char* id : {"rear_brace.left", "rear_brace.right", "belt_bar", "prop"}) {
        const Vec3 moved = memberOf(after, id).ends[0].at - memberOf(before, id).ends[0].at;
        EXPECT_TRUE(near(moved, {40, 0, 0})) << id << " moved by " << moved.transpose();
    }
    EXPECT_TRUE(
        near(memberOf(after, "rear_brace.left").ends[1].at, memberOf(before, "rear_brace.left").ends[1].at));
}

TEST(Landing, TheRightHandCopyReallyLandsOnAnUnevenHost) {
    Job job = hoopJob();
    // A hoop higher and narrower on the right.
    job.cage.members[0].path[2] = at(-60, -540, 980);
    const CageGeometry cage = resolve(job);
    const ResolvedMember& hoop = memberOf(cage, "main_hoop");
    for (const char* id : {"rear_brace.left", "rear_brace.right"}) {
        const Vec3 end = memberOf(cage, id).ends[0].at;
        EXPECT_NEAR(end.z(), 720, kExact_mm) << id;
        EXPECT_TRUE(near(hoop.line.point(hoop.line.nearestStation(end)), end)) << id;
    }
    EXPECT_GT(std::abs(memberOf(cage, "rear_brace.left").ends[0].at.y() +
                       memberOf(cage, "rear_brace.right").ends[0].at.y()),
              5);
}

TEST(Landing, OnASingleHostAcrossTheCarTheRightHandCopyCountsFromTheOtherEnd) {
    for (const auto by : {Landing::By::distance, Landing::By::fraction, Landing::By::end}) {
        Job job = emptyJob();
        const double value = by == Landing::By::distance ? 150 : by == Landing::By::fraction ? 0.125 : 0;
        job.cage.members = {bar("dash", {at(0, 600, 300), at(0, -600, 300)}),
                            pair("strut", {onBy("dash", by, value), at(400, 450, 300)})};
        const CageGeometry cage = resolve(job);
        EXPECT_EQ(allTexts(cage), "");
        EXPECT_TRUE(near(memberOf(cage, "strut.right").ends[0].at,
                         mirrored(memberOf(cage, "strut.left").ends[0].at)));
    }
}

TEST(Landing, OnASingleHostInTheMiddleBothCopiesMeet) {
    Job job = emptyJob();
    job.cage.members = {bar("spine", {at(0, 0, 900), at(1000, 0, 900)}),
                        pair("rib", {onBy("spine", Landing::By::distance, 300), at(300, 500, 700)})};
    const CageGeometry cage = resolve(job);
    EXPECT_EQ(allTexts(cage), "");
    EXPECT_TRUE(near(memberOf(cage, "rib.right").ends[0].at, {300, 0, 900}));
    EXPECT_TRUE(near(memberOf(cage, "rib.left").ends[0].at, {300, 0, 900}));
}

TEST(Landing, NamesWithASideTurnOverForTheRightHandCopy) {
    Job job = postJob();
    // From this side's post to the other side's: a cross of two bars.
    job.cage.members.push_back(pair("x", {onHeight("post.left", 200), onHeight("post.right", 800)}));
    job.cage.members.back().passes = {"x"};
    const CageGeometry cage = resolve(job);
    EXPECT_EQ(allTexts(cage), "");
    EXPECT_TRUE(near(memberOf(cage, "x.left").ends[1].at, {0, -420, 800}));
    EXPECT_TRUE(near(memberOf(cage, "x.right").ends[0].at, {0, -480, 200}));
    EXPECT_TRUE(near(memberOf(cage, "x.right").ends[1].at, {0, 420, 800}));
}

TEST(Landing, AcrossYTurnsOverForTheRightHandCopy) {
    Job job = emptyJob();
    job.cage.members = {bar("dash", {at(0, 600, 300), at(0, -600, 300)}),
                        pair("strut", {onBy("dash", Landing::By::across_y, 350), at(400, 350, 300)})};
    const CageGeometry cage = resolve(job);
    EXPECT_EQ(allTexts(cage), "");
    EXPECT_TRUE(near(memberOf(cage, "strut.right").ends[0].at, {0, -350, 300}));
}

TEST(Landing, AnOffsetIsMirroredAndPastTheWallsTouchesNothing) {
    Job job = postJob();
    MemberPoint beside = onHeight("post", 500);
    std::get<Landing>(beside.place).offset = {0, 0, 300};
    std::get<Landing>(beside.place).offset.y() = 30;
    job.cage.members.push_back(pair("arm", {beside, at(600, 450, 800)}));
    const CageGeometry cage = resolve(job);
    EXPECT_TRUE(near(memberOf(cage, "arm.right").ends[0].at, {0, -480, 800}));
    std::get<Landing>(beside.place).offset = {0, 200, 0};
    job.cage.members[1] = pair("arm", {beside, at(600, 650, 500)});
    const CageGeometry clear = resolve(job);
    EXPECT_EQ(memberOf(clear, "arm.left").ends[0].on, ResolvedEnd::On::nothing);
    EXPECT_TRUE(near(memberOf(clear, "arm.left").ends[0].at, {0, 650, 500}));
    EXPECT_EQ(clear.joints.size(), 0u);
}

TEST(Landing, AHeightTheHostNeverReachesSaysWhatItDoesReach) {
    Job job = postJob();
    job.cage.members.push_back(pair("door_bar", {onHeight("post", 2100), at(900, 500, 300)}));
    const CageGeometry cage = resolve(job);
    ASSERT_EQ(cage.problems.size(), 2u) << allTexts(cage);
    EXPECT_EQ(cage.problems[0].text,
              "Door bar, left: lands on post.left at height 2100.0 mm, which it never reaches.");
    EXPECT_EQ(cage.problems[0].remedy, "it runs from 0.0 mm to 1000.0 mm; choose a value between them");
    EXPECT_EQ(cage.problems[0].member, "door_bar");
    EXPECT_TRUE(near(memberOf(cage, "door_bar.left").ends[0].at, {0, 400, 1000}))
        << "drawn at the nearest place";
}

TEST(Landing, AHeightPassedTwiceAsksForTheSide) {
    Job job = hoopJob();
    job.cage.members.push_back(bar("prop", {onHeight("main_hoop", 400), at(-500, 500, 400)}, "38x2.5"));
    const CageGeometry cage = resolve(job);
    EXPECT_TRUE(has(cage, GeometryProblem::Kind::landing_ambiguous,
                    "Prop: lands on main_hoop at height 400.0 mm, where it passes 2 times."))
        << allTexts(cage);
    EXPECT_EQ(cage.problems[0].remedy, "say which side, or give a distance along it");
}

TEST(Landing, ASideTheHostDoesNotPassIsAMiss) {
    Job job = postJob();
    job.cage.members.push_back(bar("prop", {onHeight("post.left", 400, Side::right), at(-500, 500, 400)}));
    const CageGeometry cage = resolve(job);
    EXPECT_TRUE(has(cage, GeometryProblem::Kind::landing_misses, "on the right, where it does not pass"))
        << allTexts(cage);
}

TEST(Landing, ADistanceOffTheEndSaysHowLongTheHostIs) {
    Job job = emptyJob();
    job.cage.members = {bar("rail", {at(0, 0, 0), at(1000, 0, 0)}),
                        bar("a", {onBy("rail", Landing::By::distance, 1200), at(200, 0, 500)}, "38x2.5")};
    const CageGeometry cage = resolve(job);
    ASSERT_EQ(cage.problems.size(), 1u) << allTexts(cage);
    EXPECT_EQ(cage.problems[0].text, "A: lands on rail at 1200.0 mm along it, which is off its end.");
    EXPECT_EQ(cage.problems[0].remedy, "it is 1000.0 mm long");
    EXPECT_TRUE(near(memberOf(cage, "a").ends[0].at, {1000, 0, 0}));
}

TEST(Landing, ALoopIsNamedAndItsMembersAreLeftOut) {
    Job job = postJob();
    job.cage.members.push_back(bar("a", {onBy("b", Landing::By::end, 0), at(0, 0, 500)}));
    job.cage.members.push_back(bar("b", {onBy("c", Landing::By::end, 0), at(0, 100, 500)}));
    job.cage.members.push_back(bar("c", {onBy("a", Landing::By::end, 0), at(0, 200, 500)}));
    job.cage.members.push_back(bar("d", {onBy("c", Landing::By::end, 0), at(0, 0, 900)}));
    const CageGeometry cage = resolve(job);
    EXPECT_TRUE(has(cage, GeometryProblem::Kind::landing_loop,
                    "Landings go round in a loop: a lands on b lands on c lands on a."))
        << allTexts(cage);
    EXPECT_EQ(cage.members.size(), 2u) << "the posts resolve, the loop and what hangs on it do not";
    EXPECT_TRUE(
        has(cage, GeometryProblem::Kind::no_such_member, "D: lands on c, which has no shape of its own."));
}

TEST(Landing, OnItselfIsNotALoopOfOne) {
    Job job = emptyJob();
    job.cage.members = {bar("a", {onBy("a", Landing::By::end, 0), at(0, 0, 500), at(0, 400, 500)})};
    const CageGeometry cage = resolve(job);
    EXPECT_TRUE(has(cage, GeometryProblem::Kind::on_itself, "A: lands on itself.")) << allTexts(cage);
    EXPECT_EQ(cage.members.size(), 1u);
}

TEST(Landing, APairThatLandsOnItsOtherHalfIsALoop) {
    Job job = emptyJob();
    job.cage.members = {pair("a", {onBy("a.right", Landing::By::end, 0), at(0, 300, 500)})};
    const CageGeometry cage = resolve(job);
    EXPECT_TRUE(has(cage, GeometryProblem::Kind::landing_loop, "a.left lands on a.right lands on a.left"))
        << allTexts(cage);
    EXPECT_TRUE(cage.members.empty());
}

TEST(Landing, AnUnknownHostSuggestsTheOneMeant) {
    Job job = hoopJob();
    std::get<Landing>(job.cage.members[1].path[0].place).host = "main_hop";
    const CageGeometry cage = resolve(job);
    ASSERT_FALSE(cage.problems.empty());
    EXPECT_EQ(cage.problems[0].text, "Rear brace, left: lands on main_hop, which is not in this cage.");
    EXPECT_EQ(cage.problems[0].remedy, "did you mean main_hoop?");
}

TEST(Landing, AChainOfThousandsResolves) {
    Job job = emptyJob();
    for (int i = 0; i < 3000; ++i) {
        const std::string next = "m" + std::to_string(i + 1);
        job.cage.members.push_back(
            bar("m" + std::to_string(i),
                {onBy(next, Landing::By::end, 0, true), at(10.0 * i, 100.0 * (i % 7), 500.0 * (i % 2))}));
    }
    job.cage.members.push_back(bar("m3000", {at(0, 0, 0), at(0, 50, 900)}));
    const CageGeometry cage = resolve(job);
    EXPECT_EQ(cage.members.size(), 3001u);
}

}  // namespace
}  // namespace hoopwright
