#include "core/edit/new_bar.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "core/edit/cage_edits.h"
#include "core/model/resolve.h"
#include "tests/core/edit/demo_job.h"

namespace hoopwright {
namespace {

// A picked place is rounded to a tenth along the bar, and its words to a tenth once more.
constexpr double kRounded_mm = 0.3;

TEST(NewBar, ALandingPickedAnywhereOnAnyBarResolvesThere) {
    const Job job = demoJobValue();
    const CageGeometry cage = resolve(job);
    std::mt19937 rng(20261125);
    std::uniform_real_distribution<double> part(0.02, 0.98);
    for (const ResolvedMember& host : cage.members) {
        for (int n = 0; n < 8; ++n) {
            const Vec3 place = host.line.point(host.line.length_mm() * part(rng));
            Job next = job;
            Member bar;
            bar.id = "probe";
            bar.role = "floor_bar";
            bar.stock = job.stock.tubes.front().id;
            bar.path = {{landingNear(cage, host.id, place, false), {}},
                        {FixedPoint{place + Vec3(17, 23, 311)}, {}}};
            next.cage.members.push_back(bar);
            const CageGeometry after = resolve(next);
            const int at = after.member("probe");
            ASSERT_GE(at, 0) << host.id;
            EXPECT_LT((after.members[std::size_t(at)].ends[0].at - place).norm(), kRounded_mm) << host.id;
        }
    }
}

TEST(NewBar, InAnInchJobAPickedPlaceIsSaidInSixtyFourths) {
    Job job = demoJobValue("mile_pickup.yaml");
    ASSERT_EQ(job.cage.unit, LengthUnit::in);
    const CageGeometry cage = resolve(job);
    std::mt19937 rng(20261127);
    std::uniform_real_distribution<double> part(0.1, 0.9);
    for (const ResolvedMember& host : cage.members) {
        const Vec3 place = host.line.point(host.line.length_mm() * part(rng));
        const Member bar = newBar(job, cage, "floor_bar", {{host.id, place}, {host.id, place}});
        const auto& said = std::get<Landing>(bar.path[0].place);
        const double parts = said.value / 25.4 * 64;
        EXPECT_NEAR(parts, std::round(parts), 1e-6) << host.id << ": " << said.value;
        const auto back = landingPoint(cage, host.id, said);
        ASSERT_TRUE(back) << host.id;
        EXPECT_LT((*back - place).norm(), 25.4 / 64 * 2.6) << host.id;
    }
}

TEST(NewBar, AnUprightIsSaidByHeightAndACrossBarByY) {
    const Job job = demoJobValue();
    const CageGeometry cage = resolve(job);
    const Centreline& hoop = cage.members.at(std::size_t(cage.member("main_hoop"))).line;
    const Vec3 place = hoop.point(400);  // on its left leg
    const Landing on_leg = landingNear(cage, "main_hoop", place, false);
    EXPECT_EQ(on_leg.by, Landing::By::height);
    EXPECT_EQ(on_leg.side, Side::left);
    EXPECT_NEAR(on_leg.value, place.z(), 0.2);
    EXPECT_EQ(landingNear(cage, "main_hoop", {-130, 100, 972}, false).by, Landing::By::across_y);
}

TEST(NewBar, APairNamesItsOwnSideWithoutTheSide) {
    const Job job = demoJobValue();
    const CageGeometry cage = resolve(job);
    for (const ResolvedMember& member : cage.members) {
        if (member.side != Side::left) continue;
        EXPECT_EQ(landingNear(cage, member.id, member.line.point(50), true).host, layoutId(member.id));
        EXPECT_EQ(landingNear(cage, member.id, member.line.point(50), false).host, member.id);
        return;
    }
    FAIL() << "the demo has no pair";
}

TEST(NewBar, BetweenTwoPlacesOnOneSideItIsAPair) {
    const Job job = demoJobValue();
    const CageGeometry cage = resolve(job);
    const Member pair =
        newBar(job, cage, "door_bar", {{"main_hoop", {-130, 680, 100}}, {"main_hoop", {-130, 680, 500}}});
    EXPECT_TRUE(pair.mirrored);
    const Member across =
        newBar(job, cage, "seat_bar", {{"main_hoop", {-130, 680, 200}}, {"main_hoop", {-130, -680, 200}}});
    EXPECT_FALSE(across.mirrored);
    EXPECT_EQ(across.stock, usualStock(job, "seat_bar"));
}

TEST(NewBar, FromOnePlaceOnAHoopItGoesStraightAcross) {
    Job job = demoJobValue();
    const CageGeometry cage = resolve(job);
    job.cage.members.push_back(newBar(job, cage, "seat_bar", {{"main_hoop", {-130, 680, 205}}}));
    const std::string id = job.cage.members.back().id;
    const CageGeometry after = resolve(job);
    const ResolvedMember& made = after.members.at(std::size_t(after.member(id)));
    EXPECT_NEAR(made.ends[0].at.y(), -made.ends[1].at.y(), kRounded_mm);
    EXPECT_NEAR(made.ends[0].at.z(), made.ends[1].at.z(), kRounded_mm);
}

TEST(NewBar, InAnEmptyCageItStillHasAShape) {
    Job job = demoJobValue();
    job.cage.members.clear();
    job.cage.answers.clear();
    const Member bar = newBar(job, resolve(job), "main_hoop", {});
    job.cage.members = {bar};
    const CageGeometry after = resolve(job);
    EXPECT_GE(after.member(bar.id), 0);
    EXPECT_FALSE(bar.stock.empty());
}

TEST(NewBar, SayingAPlaceAnotherWayMovesNothing) {
    const Job job = demoJobValue();
    const CageGeometry cage = resolve(job);
    for (const Member& member : job.cage.members) {
        const std::string id = resolvedIds(member.id, member.mirrored).front();
        const Vec3 at = pathPointAt(job, cage, id, 0);
        for (const PlaceKind kind : {PlaceKind::fixed, PlaceKind::car_point}) {
            const auto said = saidAs(job, cage, id, at, kind);
            ASSERT_TRUE(said) << said.reason();
            EXPECT_EQ(kindOf(*said), kind);
            Job next = job;
            findMember(next.cage, member.id)->path.front().place = *said;
            const CageGeometry after = resolve(next);
            const int there = after.member(id);
            ASSERT_GE(there, 0) << id;
            EXPECT_LT((after.members[std::size_t(there)].ends[0].at - at).norm(), 0.2) << id;
        }
    }
}

TEST(NewBar, WithoutAPointABarOrAPlateItSaysWhatIsMissing) {
    Job job;
    job.cage.members.push_back(called<Member>("alone"));
    const CageGeometry cage = resolve(job);
    EXPECT_EQ(saidAs(job, cage, "alone", Vec3::Zero(), PlaceKind::car_point).reason(),
              "The car has no measured points yet: add one in the Car step.");
    EXPECT_EQ(saidAs(job, cage, "alone", Vec3::Zero(), PlaceKind::landing).reason(),
              "There is no other bar to land on.");
    EXPECT_EQ(saidAs(job, cage, "alone", Vec3::Zero(), PlaceKind::plate).reason(),
              "There is no plate to stand on: add one first.");
}

}  // namespace
}  // namespace hoopwright
