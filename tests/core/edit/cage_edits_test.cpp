#include "core/edit/cage_edits.h"

#include <gmock/gmock.h>

#include <random>

#include "core/edit/pair_edits.h"
#include "core/model/resolve.h"
#include "tests/core/edit/demo_job.h"

namespace hoopwright {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::IsEmpty;

constexpr double kSamePlace_mm = 1e-6;

const ResolvedMember& bar(const CageGeometry& cage, const std::string& id) {
    const int at = cage.member(id);
    EXPECT_GE(at, 0) << id;
    return cage.members.at(std::size_t(at));
}

/// Largest distance between two centrelines at the same parts of their length.
double apart_mm(const Centreline& a, const Centreline& b) {
    double worst = std::abs(a.length_mm() - b.length_mm());
    for (int i = 0; i <= 20; ++i)
        worst = std::max(worst, (a.point(a.length_mm() * i / 20) - b.point(b.length_mm() * i / 20)).norm());
    return worst;
}

TEST(CageEdits, IdsSplitIntoLayoutAndSide) {
    EXPECT_EQ(layoutId("door_bar.left"), "door_bar");
    EXPECT_EQ(layoutId("main_hoop"), "main_hoop");
    EXPECT_EQ(sideOf("door_bar.right"), Side::right);
    EXPECT_EQ(sideOf("door_bar"), Side::centre);
    EXPECT_THAT(resolvedIds("x", true), ElementsAre("x.left", "x.right"));
}

TEST(CageEdits, AFreeIdIsAnIdAndIsFree) {
    CageLayout cage;
    EXPECT_EQ(freeId(cage, "Door bar, upper"), "door_bar_upper");
    EXPECT_EQ(freeId(cage, "2nd bar"), "bar2nd_bar");
    cage.members.push_back(called<Member>("door_bar_upper"));
    cage.plates.push_back(called<Plate>("door_bar_upper_2"));
    EXPECT_EQ(freeId(cage, "Door bar, upper"), "door_bar_upper_3");
}

TEST(CageEdits, RenamingChangesEveryMentionAndNoShape) {
    Job job = demoJobValue();
    const CageGeometry before = resolve(job);
    for (const char* id : {"main_hoop", "hoop_foot", "hoop_diagonal"})
        renamePart(job, id, std::string(id) + "_new");
    const CageGeometry after = resolve(job);
    EXPECT_EQ(after.problems.size(), before.problems.size());
    ASSERT_EQ(after.members.size(), before.members.size());
    for (std::size_t i = 0; i < after.members.size(); ++i) {
        EXPECT_LT(apart_mm(before.members[i].line, after.members[i].line), kSamePlace_mm)
            << after.members[i].id;
    }
}

TEST(CageEdits, DeletingAHostAndKeepingTheRestMovesNothing) {
    Job job = demoJobValue();
    const CageGeometry before = resolve(job);
    ASSERT_FALSE(dependents(job, {"main_hoop"}).empty());
    deleteParts(job, before, {"main_hoop"}, Orphans::keep_in_place);
    EXPECT_TRUE(dependents(job, {"main_hoop"}).empty());
    const CageGeometry after = resolve(job);
    EXPECT_EQ(after.member("main_hoop"), -1);
    for (const ResolvedMember& member : after.members) {
        EXPECT_LT(apart_mm(member.line, bar(before, member.id).line), kSamePlace_mm) << member.id;
    }
}

TEST(CageEdits, DeletingAHostWithAllThatLandsOnItLeavesNoLooseEnds) {
    Job job = demoJobValue();
    deleteParts(job, resolve(job), {"main_hoop"}, Orphans::remove_too);
    for (const GeometryProblem& problem : resolve(job).problems) {
        EXPECT_NE(problem.kind, GeometryProblem::Kind::no_such_member) << problem.text;
    }
    EXPECT_EQ(job.cage.member("main_hoop"), nullptr);
}

TEST(CageEdits, ADuplicateHasItsOwnIdAndStandsAfterTheOriginal) {
    Job job = demoJobValue();
    const std::string copy = duplicateMember(job, "belt_bar");
    EXPECT_EQ(copy, "belt_bar_2");
    const auto& members = job.cage.members;
    for (std::size_t i = 0; i + 1 < members.size(); ++i) {
        if (members[i].id == "belt_bar") {
            EXPECT_EQ(members[i + 1].id, copy);
        }
    }
    EXPECT_NE(job.cage.member(copy)->path, job.cage.member("belt_bar")->path);
    EXPECT_EQ(duplicateMember(job, "no_such_bar"), "");
}

TEST(CageEdits, BreakingAnyPairMovesNoTube) {
    for (const char* file : {"hillclimb_saloon.yaml", "mile_pickup.yaml"}) {
        const Job whole = demoJobValue(file);
        const CageGeometry before = resolve(whole);
        for (const Member& member : whole.cage.members) {
            if (!member.mirrored) continue;
            Job job = whole;
            const std::vector<std::string> made = breakPair(job, member.id);
            ASSERT_FALSE(made.empty());
            const CageGeometry after = resolve(job);
            EXPECT_EQ(after.problems.size(), before.problems.size())
                << file << " " << member.id << (after.problems.empty() ? "" : after.problems.front().text);
            EXPECT_LT(apart_mm(bar(after, member.id).line, bar(before, member.id + ".left").line),
                      kSamePlace_mm)
                << member.id;
            EXPECT_LT(apart_mm(bar(after, made.front()).line, bar(before, member.id + ".right").line),
                      kSamePlace_mm)
                << member.id;
            EXPECT_NEAR(after.totals.tube_mass_kg, before.totals.tube_mass_kg, 1e-5);
        }
    }
}

TEST(CageEdits, BreakingAPlatePairMovesNoPlate) {
    Job job = demoJobValue();
    const CageGeometry before = resolve(job);
    const std::string right = breakPlatePair(job, "hoop_foot");
    const CageGeometry after = resolve(job);
    EXPECT_EQ(after.problems.size(), before.problems.size());
    const auto plate = [](const CageGeometry& cage, const std::string& id) {
        return cage.plates.at(std::size_t(cage.plate(id)));
    };
    EXPECT_LT((plate(after, "hoop_foot").at - plate(before, "hoop_foot.left").at).norm(), kSamePlace_mm);
    EXPECT_LT((plate(after, right).at - plate(before, "hoop_foot.right").at).norm(), kSamePlace_mm);
    EXPECT_LT(apart_mm(bar(after, "main_hoop").line, bar(before, "main_hoop").line), kSamePlace_mm);
}

TEST(CageEdits, MakingAPairKeepsTheLeftBarAndWhatLandsOnIt) {
    Job job = demoJobValue();
    Member post;
    post.id = "post";
    post.role = "floor_bar";
    post.stock = job.stock.tubes.front().id;
    post.path = {{FixedPoint{{600, 300, -100}}, {}}, {FixedPoint{{600, 300, 300}}, {}}};
    Member on_it = post;
    on_it.id = "on_it";
    Landing landing;
    landing.host = "post";
    landing.value = 100;
    on_it.path = {{landing, {}}, {FixedPoint{{900, 0, 100}}, {}}};
    job.cage.members.insert(job.cage.members.end(), {post, on_it});
    const CageGeometry before = resolve(job);
    makePair(job, "post");
    const CageGeometry after = resolve(job);
    EXPECT_LT(apart_mm(bar(after, "post.left").line, bar(before, "post").line), kSamePlace_mm);
    EXPECT_LT(apart_mm(bar(after, "on_it").line, bar(before, "on_it").line), kSamePlace_mm);
    EXPECT_GE(after.member("post.right"), 0);
}

TEST(CageEdits, BuildOrderMovesOneBarAndStopsAtTheEnds) {
    Job job;
    for (const char* id : {"a", "b", "c", "d"}) job.cage.members.push_back(called<Member>(id));
    const auto order = [&] {
        std::string all;
        for (const Member& member : job.cage.members) all += member.id;
        return all;
    };
    moveInOrder(job, "b", 1);
    EXPECT_EQ(order(), "acbd");
    moveInOrder(job, "b", -10);
    EXPECT_EQ(order(), "bacd");
    moveInOrder(job, "a", 10);
    EXPECT_EQ(order(), "bcda");
    moveInOrder(job, "nobody", 1);
    EXPECT_EQ(order(), "bcda");
}

TEST(CageEdits, APathPointIsWhereThePathTurns) {
    const Job job = demoJobValue();
    const CageGeometry cage = resolve(job);
    const Member& hoop = *job.cage.member("main_hoop");
    for (std::size_t i = 0; i < hoop.path.size(); ++i) {
        const auto* fixed = std::get_if<FixedPoint>(&hoop.path[i].place);
        if (fixed) {
            EXPECT_LT((pathPointAt(job, cage, "main_hoop", i) - fixed->at).norm(), 1e-6) << i;
        }
    }
}

}  // namespace
}  // namespace hoopwright
