// A tube bought bent is moved as a rigid body: whatever is pulled, its bends are as they were.
#include "core/edit/bought_edits.h"

#include <gmock/gmock.h>

#include <numbers>
#include <random>

#include "core/edit/cage_edits.h"
#include "core/edit/grip.h"
#include "core/model/resolve.h"
#include "tests/core/edit/plain_job.h"
#include "tests/degrees.h"

namespace hoopwright {
namespace {

using testing::HasSubstr;
using Kind = Grip::Kind;

/// The plain hoop, bought with 75 too much at each leg, on two plates or free.
Job boughtHoop(bool on_plates) {
    Job job = plainHoop();
    Member& hoop = job.cage.members[0];
    hoop.bend_radius_mm.reset();
    hoop.bent = BentShape{135, {940, 930, 940}, {{90 * kDegree}, {90 * kDegree}}};
    if (!on_plates) return job;
    Plate plate;
    plate.id = "foot";
    plate.mirrored = true;
    plate.at = FixedPoint{{0, 600, 0}};
    plate.length_mm = plate.width_mm = 400;
    plate.thickness_mm = 3;
    job.cage.plates = {plate};
    hoop.path.front().place = OnPlate{"foot.left"};
    hoop.path.back().place = OnPlate{"foot.right"};
    return job;
}

/// Nothing against it but what legs and plates have.
std::string problemsWith(const CageGeometry& cage) {
    std::string all;
    for (const GeometryProblem& problem : cage.problems)
        if (problem.kind != GeometryProblem::Kind::foot_overhangs) all += problem.text + "\n";
    return all;
}

struct HeldHoop {
    Job job;
    CageGeometry now;
    explicit HeldHoop(Job of) : job(std::move(of)), now(resolve(job)) {}
    std::vector<Grip> grips(Kind kind, const std::string& part = "hoop") const {
        std::vector<Grip> out;
        for (const Grip& grip : gripsOf(job, now, part))
            if (grip.kind == kind) out.push_back(grip);
        return out;
    }
    const ResolvedMember& hoop() const { return now.members[0]; }
    HeldHoop with(const CageLayout& cage) const {
        Job next = job;
        next.cage = cage;
        return HeldHoop(std::move(next));
    }
};

TEST(BoughtGrips, ABendIsRefusedWithTheReason) {
    const HeldHoop held(boughtHoop(false));
    const auto corners = held.grips(Kind::corner);
    ASSERT_EQ(corners.size(), 4u);
    const auto no = pulled(held.job, held.now, corners[1], corners[1].at + Vec3(0, 0, 50));
    ASSERT_FALSE(no);
    EXPECT_THAT(no.reason(), HasSubstr("bought bent: its bends stay where they are"));
    EXPECT_FALSE(typed(held.job, held.now, corners[1], 2, 1050));
}

TEST(BoughtGrips, AFreeEndIsSawnAlongItsLegAndNoFartherThanTheLegGoes) {
    const HeldHoop held(boughtHoop(false));
    const Grip end = held.grips(Kind::corner)[0];
    // Down and aside: only down counts.
    const auto longer = pulled(held.job, held.now, end, end.at + Vec3(30, 20, -40));
    ASSERT_TRUE(longer) << longer.reason();
    const HeldHoop after = held.with(*longer);
    EXPECT_EQ(problemsWith(after.now), "");
    EXPECT_TRUE(after.hoop().line.start().isApprox(Vec3(0, 600, -40), 1e-9));
    EXPECT_NEAR(after.hoop().bought->saw_mm[0], held.hoop().bought->saw_mm[0] - 40, 1e-6);
    EXPECT_THAT(pulled(held.job, held.now, end, end.at + Vec3(0, 0, -76)).reason(),
                HasSubstr("is 940.0 mm long as bought"));
    EXPECT_THAT(pulled(held.job, held.now, end, end.at + Vec3(0, 0, 900)).reason(),
                HasSubstr("A bend is there"));
}

TEST(BoughtGrips, TheWholeOfItMovesAndItsFeetGoOverTheirPlates) {
    const HeldHoop held(boughtHoop(true));
    EXPECT_EQ(problemsWith(held.now), "");
    const auto whole = held.grips(Kind::bar);
    ASSERT_EQ(whole.size(), 2u) << "up and down, and level";
    std::mt19937 random(7);
    std::uniform_real_distribution<double> by(-70, 70);
    for (int round = 0; round < 40; ++round) {
        const Grip& grip = whole[static_cast<std::size_t>(round % 2)];
        Vec3 to = grip.at + Vec3(by(random), by(random), by(random));
        to -= (to - grip.at).dot(grip.normal) * grip.normal;
        const auto cage = pulled(held.job, held.now, grip, to);
        ASSERT_TRUE(cage) << cage.reason();
        const HeldHoop after = held.with(*cage);
        EXPECT_EQ(problemsWith(after.now), "");
        EXPECT_LT(after.hoop().bought->off_mm, 0.01);
        EXPECT_LT(after.hoop().bought->off_rad, 1e-4);
        // As far as the middle went, the legs were let out or sawn.
        EXPECT_NEAR(after.hoop().bought->saw_mm[0], held.hoop().bought->saw_mm[0] - (to - grip.at).z(), 0.01);
        EXPECT_NEAR(after.hoop().line.end().z(), 0, 1e-6);
    }
}

TEST(BoughtGrips, LeaningItKeepsItsShape) {
    const HeldHoop held(boughtHoop(true));
    const auto lean = held.grips(Kind::lean);
    ASSERT_EQ(lean.size(), 1u);
    const auto cage = typed(held.job, held.now, lean[0], 0, 8 * kDegree);
    ASSERT_TRUE(cage) << cage.reason();
    const HeldHoop after = held.with(*cage);
    EXPECT_EQ(problemsWith(after.now), "");
    EXPECT_LT(after.hoop().bought->off_mm, 0.01);
    EXPECT_NEAR(after.hoop().line.tangent(0).x(), -std::sin(8 * kDegree), 1e-5);
    EXPECT_NEAR(after.hoop().bought->saw_mm[0], held.hoop().bought->saw_mm[0] - 20 * std::tan(8 * kDegree),
                0.01);
}

TEST(BoughtGrips, APlatePulledUnderItLeavesItWhereItIs) {
    const HeldHoop held(boughtHoop(true));
    const auto plate = held.grips(Kind::plate, "foot.right");
    ASSERT_EQ(plate.size(), 1u);
    const auto cage = pulled(held.job, held.now, plate[0], plate[0].at + Vec3(25, 40, 0));
    ASSERT_TRUE(cage) << cage.reason();
    const HeldHoop after = held.with(*cage);
    EXPECT_EQ(problemsWith(after.now), "");
    EXPECT_TRUE(after.hoop().line.start().isApprox(held.hoop().line.start(), 1e-6));
    EXPECT_TRUE(after.hoop().line.end().isApprox(held.hoop().line.end(), 1e-6));
    EXPECT_TRUE(after.now.plates[0].at.isApprox(Vec3(25, 560, 0), 1e-6));
}

TEST(BoughtGrips, ALandingIsRefusedAndItsNodeToo) {
    Job job = plainHoop();
    addBar(job, "brace", "rear_brace",
           {landingOn("hoop", Landing::By::height, 700, Side::left), FixedPoint{{-600, 500, 700}},
            FixedPoint{{-900, 500, 0}}});
    addBar(job, "other", "rear_brace",
           {landingOn("hoop", Landing::By::height, 705, Side::left), FixedPoint{{600, 600, 0}}});
    HeldHoop held(job);
    const int brace = held.now.member("brace");
    job.cage.members[1].bent = shapeOf(held.now.members[static_cast<std::size_t>(brace)]);
    job.cage.members[1].bend_radius_mm.reset();
    const HeldHoop bought(job);
    const auto landing = bought.grips(Kind::landing, "brace");
    ASSERT_EQ(landing.size(), 1u);
    EXPECT_THAT(pulled(bought.job, bought.now, landing[0], landing[0].at + Vec3(0, 0, 20)).reason(),
                HasSubstr("Move the whole bar"));
    const auto node = bought.grips(Kind::node, "hoop");
    ASSERT_EQ(node.size(), 1u);
    EXPECT_THAT(pulled(bought.job, bought.now, node[0], node[0].at + Vec3(0, 0, 20)).reason(),
                HasSubstr("is bought bent and would have to be bent anew"));
}

TEST(MovedAsBought, ALandingStaysOnItsBarAndTheLegStaysStraight) {
    Job job = plainHoop();
    addBar(job, "brace", "rear_brace",
           {landingOn("hoop", Landing::By::height, 700, Side::left), FixedPoint{{-600, 500, 700}},
            FixedPoint{{-900, 500, 0}}});
    const HeldHoop held(job);
    job.cage.members[1].bend_radius_mm.reset();
    job.cage.members[1].bent = shapeOf(held.now.members[1]);
    job.cage.members[1].bent->straights_mm[0] += 100;
    const HeldHoop bought(job);
    Eigen::Isometry3d by = Eigen::Isometry3d::Identity();
    by.translation() = Vec3(15, -12, 33);
    by.linear() = Eigen::AngleAxisd(0.01, Vec3::UnitX()).toRotationMatrix();
    const auto moved = movedAsBought(bought.job, bought.now, "brace", by);
    ASSERT_TRUE(moved) << moved.reason();
    Job next = bought.job;
    next.cage.members[1] = *moved;
    const CageGeometry after = resolve(next);
    EXPECT_EQ(problemsWith(after), "");
    const ResolvedMember& brace = after.members[1];
    EXPECT_EQ(brace.ends[0].on, ResolvedEnd::On::member);
    EXPECT_NEAR(brace.bought->off_rad, bought.now.members[1].bought->off_rad, 1e-5);
    EXPECT_GT(std::get<Landing>(moved->path[0].place).offset.norm(), 5) << "its axis passes the host's";
    const Vec3 corner = by * Vec3(-600, 500, 700);
    EXPECT_TRUE(std::get<FixedPoint>(moved->path[1].place).at.isApprox(corner, 1e-4));
    EXPECT_THAT(movedAsBought(held.job, held.now, "brace", by).reason(), HasSubstr("is not bought bent"));
    by.translation() = Vec3(0, -60, 33);
    EXPECT_THAT(movedAsBought(bought.job, bought.now, "brace", by).reason(), HasSubstr("Its leg would pass"));
    EXPECT_THAT(movedAsBought(bought.job, bought.now, "nothing", by).reason(), HasSubstr("no shape"));
}

TEST(TapedAgain, LiesAsNearAsCanBeToWhereItLay) {
    const HeldHoop held(plainHoop());
    BentShape shape = shapeOf(held.hoop());
    EXPECT_NEAR(shape.straights_mm[1], 930, 1e-9);
    shape.straights_mm[0] += 50;
    shape.straights_mm[1] -= 30;  // 15 a side
    const auto taped = tapedAgain(held.job, held.now, "hoop", shape);
    ASSERT_TRUE(taped) << taped.reason();
    EXPECT_EQ(taped->bent, shape);
    Job job = held.job;
    job.cage.members[0] = *taped;
    const CageGeometry after = resolve(job);
    EXPECT_EQ(problemsWith(after), "");
    EXPECT_LT(after.members[0].bought->off_mm, 0.01);
    EXPECT_NEAR(std::get<FixedPoint>(taped->path[2].place).at.y(), -585, 1);
    EXPECT_NEAR(std::get<FixedPoint>(taped->path[1].place).at.y(), 585, 1);
    EXPECT_FALSE(tapedAgain(held.job, held.now, "hoop", BentShape{}));
}

}  // namespace
}  // namespace hoopwright
