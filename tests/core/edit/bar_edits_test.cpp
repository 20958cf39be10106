#include "core/edit/bar_edits.h"

#include <gtest/gtest.h>

#include "core/edit/cage_edits.h"
#include "core/model/resolve.h"
#include "tests/core/edit/plain_job.h"

namespace hoopwright {
namespace {

using By = Landing::By;

Job withDiagonal() {
    Job job = plainHoop();
    addBar(job, "diagonal", "hoop_diagonal",
           {landingOn("hoop", By::height, 800, Side::left), landingOn("hoop", By::height, 100, Side::right)});
    return job;
}

const ResolvedMember& barOf(const CageGeometry& cage, const std::string& id) {
    return cage.members.at(static_cast<std::size_t>(cage.member(id)));
}

TEST(CrossingABar, MakesAnXOfADiagonalCutToIt) {
    Job job = withDiagonal();
    const auto made = crossBar(job, resolve(job), "diagonal");
    ASSERT_TRUE(made) << made.reason();
    ASSERT_EQ(made->size(), 2u);
    const CageGeometry cage = resolve(job);
    EXPECT_TRUE(cage.problems.empty()) << cage.problems.front().text;
    const Vec3 middle(0, 0, 450);  // of a cross between (600, 800) and (-600, 100)
    const ResolvedMember &first = barOf(cage, (*made)[0]), &last = barOf(cage, (*made)[1]);
    EXPECT_NEAR((first.ends[0].at - Vec3(0, -600, 800)).norm(), 0, 0.2);
    EXPECT_NEAR((last.ends[0].at - Vec3(0, 600, 100)).norm(), 0, 0.2);
    for (const ResolvedMember* half : {&first, &last}) {
        EXPECT_NEAR((half->ends[1].at - middle).norm(), 0, 0.3);
        EXPECT_EQ(half->ends[1].host, cage.member("diagonal"));
    }
    EXPECT_EQ(first.name, "Hoop diagonal, other way, first half");
}

TEST(CrossingABar, OfAPairChangesHeightsOnItsOwnSide) {
    Job job = demoJobValue();
    // The demo's doors are crossed already: with the halves gone it is a single bar a side.
    deleteParts(job, resolve(job), {"door_bar_rear", "door_bar_front"}, Orphans::remove_too);
    const Member* door = job.cage.member("door_bar");
    ASSERT_NE(door, nullptr);
    const CageGeometry before = resolve(job);
    const auto made = crossBar(job, before, "door_bar");
    ASSERT_TRUE(made) << made.reason();
    const CageGeometry cage = resolve(job);
    EXPECT_EQ(cage.problems.size(), before.problems.size());
    const Centreline& line = barOf(cage, "door_bar.left").line;
    for (const std::string side : {".left", ".right"}) {
        EXPECT_NEAR(barOf(cage, (*made)[0] + side).ends[0].at.z(), line.end().z(), 0.3);
        EXPECT_NEAR(barOf(cage, (*made)[1] + side).ends[0].at.z(), line.start().z(), 0.3);
    }
}

TEST(CrossingABar, RefusesWhatDoesNotStandBetweenTwo) {
    Job job = withDiagonal();
    const CageGeometry now = resolve(job);
    EXPECT_FALSE(crossBar(job, now, "hoop"));
    EXPECT_FALSE(crossBar(job, now, "nothing"));
    addBar(job, "level", "belt_bar",
           {landingOn("hoop", By::height, 500, Side::left), landingOn("hoop", By::height, 500, Side::right)});
    const auto level = crossBar(job, resolve(job), "level");
    EXPECT_FALSE(level) << "the other way across is the same bar";
}

TEST(SplittingABar, CutsItWhereItCrossesAndKeepsWhatLandsOnIt) {
    Job job = withDiagonal();
    addBar(job, "across", "belt_bar",
           {landingOn("hoop", By::height, 500, Side::left), landingOn("hoop", By::height, 500, Side::right)});
    addBar(job, "left_post", "floor_bar", {landingOn("across", By::distance, 150), FixedPoint{{0, 450, 0}}});
    Landing far = landingOn("across", By::distance, 200);
    far.from_last_end = true;
    addBar(job, "right_post", "floor_bar", {far, FixedPoint{{0, -400, 0}}});
    const CageGeometry before = resolve(job);
    const auto second = splitBar(job, before, "across", "diagonal");
    ASSERT_TRUE(second) << second.reason();
    const CageGeometry cage = resolve(job);
    const ResolvedMember &first = barOf(cage, "across"), &last = barOf(cage, *second);
    EXPECT_EQ(first.ends[1].host, cage.member("diagonal"));
    EXPECT_EQ(last.ends[0].host, cage.member("diagonal"));
    EXPECT_NEAR((first.line.end() - last.line.start()).norm(), 0, 0.2);
    EXPECT_NEAR(first.line.length_mm() + last.line.length_mm(), 1200, 0.3);
    for (const char* post : {"left_post", "right_post"})
        EXPECT_NEAR((barOf(cage, post).ends[0].at - barOf(before, post).ends[0].at).norm(), 0, 0.3) << post;
    EXPECT_EQ(barOf(cage, "left_post").ends[0].host, cage.member("across"));
    EXPECT_EQ(barOf(cage, "right_post").ends[0].host, cage.member(*second));
}

TEST(SplittingABar, RefusesBarsThatDoNotCross) {
    Job job = withDiagonal();
    addBar(job, "apart", "floor_bar", {FixedPoint{{300, 400, 0}}, FixedPoint{{300, -400, 0}}});
    const CageLayout before = job.cage;
    const CageGeometry now = resolve(job);
    EXPECT_FALSE(splitBar(job, now, "apart", "diagonal"));
    EXPECT_FALSE(splitBar(job, now, "diagonal", "hoop")) << "it ends there";
    EXPECT_FALSE(splitBar(job, now, "diagonal", "diagonal"));
    EXPECT_FALSE(splitBar(job, now, "none", "hoop"));
    EXPECT_EQ(job.cage, before);
}

TEST(JoiningBars, PutsTogetherWhatWasCutApart) {
    Job job = withDiagonal();
    addBar(job, "across", "belt_bar",
           {landingOn("hoop", By::height, 500, Side::left), landingOn("hoop", By::height, 500, Side::right)});
    addBar(job, "left_post", "floor_bar", {landingOn("across", By::distance, 150), FixedPoint{{0, 450, 0}}});
    Landing far = landingOn("across", By::distance, 200);
    far.from_last_end = true;
    addBar(job, "right_post", "floor_bar", {far, FixedPoint{{0, -400, 0}}});
    const CageGeometry before = resolve(job);
    const Job whole = job;
    const auto second = splitBar(job, before, "across", "diagonal");
    ASSERT_TRUE(second) << second.reason();
    for (const bool other_way : {false, true}) {
        Job joined = job;
        const auto id = other_way ? joinBars(joined, resolve(job), *second, "across")
                                  : joinBars(joined, resolve(job), "across", *second);
        ASSERT_TRUE(id) << id.reason();
        EXPECT_EQ(joined.cage.members.size(), whole.cage.members.size());
        const CageGeometry cage = resolve(joined);
        EXPECT_NEAR(barOf(cage, *id).line.length_mm(), barOf(before, "across").line.length_mm(), 1e-6);
        EXPECT_EQ(barOf(cage, *id).line.pieces().size(), 1u) << "in line: no bend";
        for (const char* post : {"left_post", "right_post"}) {
            EXPECT_NEAR((barOf(cage, post).ends[0].at - barOf(before, post).ends[0].at).norm(), 0, 0.3)
                << post;
            EXPECT_EQ(barOf(cage, post).ends[0].host, cage.member(*id));
        }
    }
}

TEST(JoiningBars, AWholeBarIsCalledHalfOfNothing) {
    Job job = demoJobValue();
    const auto id = joinBars(job, resolve(job), "door_bar_rear", "door_bar_front");
    ASSERT_TRUE(id) << id.reason();
    EXPECT_EQ(job.cage.member(*id)->name, "Door bar") << "it was Door bar, rear half";
}

TEST(JoiningBars, MakesABendOfACorner) {
    Job job = plainHoop();
    addBar(job, "leg", "floor_bar", {FixedPoint{{500, 0, 0}}, FixedPoint{{500, 0, 600}}});
    addBar(job, "top", "floor_bar", {FixedPoint{{500, -500, 600}}, FixedPoint{{500, 0, 600}}});
    const auto id = joinBars(job, resolve(job), "leg", "top");
    ASSERT_TRUE(id) << id.reason();
    const CageGeometry cage = resolve(job);
    EXPECT_TRUE(cage.problems.empty()) << cage.problems.front().text;
    // Two straights of 600 and 500 less 135 x tan 45 deg each, and a quarter turn of radius 135.
    EXPECT_NEAR(barOf(cage, *id).line.length_mm(), 1100 - 2 * 135 + 135 * M_PI / 2, 1e-6);
    EXPECT_EQ(job.cage.member("top"), nullptr);
}

TEST(JoiningBars, RefusesWhatIsNotOneTube) {
    Job job = withDiagonal();
    addBar(job, "apart", "floor_bar", {FixedPoint{{300, 400, 0}}, FixedPoint{{300, -400, 0}}});
    addBar(job, "thick", "floor_bar", {FixedPoint{{300, -400, 0}}, FixedPoint{{300, -400, 400}}});
    job.stock.tubes.push_back(job.stock.tubes.front());
    job.stock.tubes.back().id = "other";
    job.cage.members.back().stock = "other";
    const CageLayout before = job.cage;
    const CageGeometry now = resolve(job);
    EXPECT_FALSE(joinBars(job, now, "apart", "apart"));
    EXPECT_FALSE(joinBars(job, now, "apart", "thick")) << "of two tubes";
    EXPECT_FALSE(joinBars(job, now, "apart", "hoop")) << "they do not meet";
    EXPECT_FALSE(joinBars(job, now, "none", "hoop"));
    EXPECT_EQ(job.cage, before);
}

TEST(ExtendingABar, GoesOnToTheNextBarAhead) {
    Job job = plainHoop();
    addBar(job, "short", "belt_bar",
           {landingOn("hoop", By::height, 500, Side::left), FixedPoint{{0, 100, 500}}});
    const auto host = extendBar(job, resolve(job), "short", 1);
    ASSERT_TRUE(host) << host.reason();
    EXPECT_EQ(*host, "hoop");
    const CageGeometry cage = resolve(job);
    EXPECT_NEAR((barOf(cage, "short").ends[1].at - Vec3(0, -600, 500)).norm(), 0, 0.2);
    addBar(job, "stray", "floor_bar", {FixedPoint{{500, 0, 0}}, FixedPoint{{900, 0, 0}}});
    const CageLayout before = job.cage;
    EXPECT_FALSE(extendBar(job, resolve(job), "stray", 1));
    EXPECT_FALSE(extendBar(job, resolve(job), "none", 1));
    EXPECT_EQ(job.cage, before);
}

}  // namespace
}  // namespace hoopwright
