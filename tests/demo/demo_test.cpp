// The two demo jobs are whole and sound, and the copies with planted faults show those faults and no other.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "core/shop/order.h"
#include "demo_job.h"

namespace hoopwright {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;
using testing::UnorderedElementsAre;

/// "belt_bar_height fails short": what a finding says, short enough to list.
std::vector<std::string> findings(const CheckReport& report, std::set<Answer> wanted) {
    std::vector<std::string> lines;
    for (const Finding& finding : report.findings) {
        if (!wanted.count(finding.answer)) continue;
        std::string line = finding.rule + " " + std::string(answerKey(finding.answer));
        if (!finding.subject.empty()) line += " " + finding.subject;
        lines.push_back(line);
    }
    return lines;
}

std::vector<std::string> geometryProblems(const CageGeometry& cage) {
    std::vector<std::string> lines;
    for (const GeometryProblem& problem : cage.problems) lines.push_back(problem.text);
    return lines;
}

class GoodDemo : public testing::TestWithParam<std::string> {
protected:
    DemoJob demo = demoJob(GetParam());
};
INSTANTIATE_TEST_SUITE_P(Jobs, GoodDemo, testing::Values("hillclimb_saloon.yaml", "mile_pickup.yaml"),
                         [](const auto& it) { return it.param.substr(0, it.param.find('.')); });

TEST_P(GoodDemo, ReadsWithEveryFileItNames) {
    EXPECT_THAT(demo.troubles, IsEmpty());
    EXPECT_EQ(demo.job.drivers.size(), 2u);
    EXPECT_EQ(demo.tables.size(), 1u);
}

TEST_P(GoodDemo, ResolvesWithoutAProblem) {
    EXPECT_THAT(geometryProblems(demo.cage), IsEmpty());
    EXPECT_GE(demo.cage.members.size(), 25u);
    EXPECT_LE(demo.cage.members.size(), 35u);
}

TEST_P(GoodDemo, EveryEndLandsOnABarOrAPlate) {
    for (const ResolvedMember& member : demo.cage.members) {
        for (const ResolvedEnd& end : member.ends) {
            EXPECT_NE(end.on, ResolvedEnd::On::nothing) << member.id;
        }
    }
}

TEST_P(GoodDemo, NothingFailsAndNothingIsLeftUntold) {
    EXPECT_THAT(findings(demo.report, {Answer::fails, Answer::cannot_tell}), IsEmpty());
    EXPECT_TRUE(demo.report.allMeet());
    EXPECT_GE(demo.report.count(Answer::meets), 25);
}

TEST_P(GoodDemo, WhatOnlyAPersonCanSayIsAsked) {
    const auto asked = findings(demo.report, {Answer::ask_person});
    EXPECT_THAT(asked, testing::Contains(HasSubstr("welds_all_round")));
    EXPECT_THAT(asked, testing::Contains(HasSubstr("certificates")));
}

TEST_P(GoodDemo, ItsTableSaysThatItIsInvented) {
    ASSERT_EQ(demo.tables.size(), 1u);
    const RuleTableInfo& table = info(*demo.tables[0]);
    EXPECT_FALSE(table.published);
    EXPECT_THAT(table.advice, HasSubstr("INVENTED"));
    EXPECT_THAT(table.title, HasSubstr("invented"));
    EXPECT_GE(table.rules, 35);
}

TEST_P(GoodDemo, TheTubeCanBeBoughtAndCut) {
    const Order bought = order(demo.job, demo.cage);
    EXPECT_THAT(bought.left_out, IsEmpty());
    EXPECT_GT(bought.price, 0);
    std::size_t pieces = 0;
    for (const OrderTube& tube : bought.tubes) {
        EXPECT_EQ(tube.trouble, "") << tube.stock;
        EXPECT_TRUE(tube.nest.proved) << tube.stock;
        pieces += tube.pieces.size();
    }
    std::size_t spares = 0;
    for (const SparePiece& spare : demo.job.cage.spares) spares += static_cast<std::size_t>(spare.count);
    EXPECT_EQ(pieces, demo.cage.members.size() + spares);
}

/// The job with its hoop and the hoop's feet moved along the car.
Job withHoopMoved(Job job, double by_mm) {
    for (Member& member : job.cage.members) {
        if (member.id != "main_hoop") continue;
        for (MemberPoint& point : member.path)
            if (auto* fixed = std::get_if<FixedPoint>(&point.place)) fixed->at.x() += by_mm;
    }
    for (Plate& plate : job.cage.plates) {
        if (plate.id == "hoop_foot") std::get<AtCarPoint>(plate.at).offset.x() += by_mm;
    }
    return job;
}

TEST_P(GoodDemo, MovingTheHoopCarriesAllThatLandsOnIt) {
    const CageGeometry moved = resolve(withHoopMoved(demo.job, -25));
    EXPECT_THAT(geometryProblems(moved), IsEmpty());
    const int hoop = moved.member("main_hoop");
    int carried = 0;
    for (std::size_t i = 0; i < moved.members.size(); ++i) {
        for (std::size_t e = 0; e < 2; ++e) {
            if (moved.members[i].ends[e].host != hoop) continue;
            EXPECT_NEAR(moved.members[i].ends[e].at.x(), demo.cage.members[i].ends[e].at.x() - 25, 1e-6)
                << moved.members[i].id;
            ++carried;
        }
    }
    EXPECT_GE(carried, 12);
}

// A welded saloon cage of this make weighs some 45 to 60 kg, a full truck cage up to a third more: common
// practice, no source.
TEST(DemoMass, IsThatOfARealCage) {
    const DemoJob saloon = demoJob("hillclimb_saloon.yaml");
    const DemoJob pickup = demoJob("mile_pickup.yaml");
    EXPECT_GT(saloon.cage.totals.tube_mass_kg, 45);
    EXPECT_LT(saloon.cage.totals.tube_mass_kg, 60);
    EXPECT_GT(pickup.cage.totals.tube_mass_kg, 50);
    EXPECT_LT(pickup.cage.totals.tube_mass_kg, 75);
    EXPECT_NEAR(order(saloon.job, saloon.cage).mass_kg, saloon.cage.totals.tube_mass_kg, 1e-9);
    EXPECT_NEAR(order(pickup.job, pickup.cage).mass_kg, pickup.cage.totals.tube_mass_kg, 1e-9);
}

// By hand, in side view at the driver's y: the straightedge lies on the hoop's top, (-130, 972 + 22.5), and
// on the windshield bar's, x = 350 on the side bar from (-130, 940) to (420, 918), plus 19. The helmet is an
// ellipse 340 by 275 about (128, 764).
TEST(DemoCheck, TheHelmetUnderTheHoopLineIsWhatTheTapeSays) {
    const DemoJob saloon = demoJob("hillclimb_saloon.yaml");
    const double rise = (940 - 22.0 * 480 / 550 + 19) - 994.5, run = 480, length = std::hypot(rise, run);
    const double up_x = -rise / length, up_z = run / length;
    const double centre_below = up_x * (-130 - 128) + up_z * (994.5 - 764);
    const double reach = std::hypot(up_x * 170, up_z * 137.5);
    for (const Finding& finding : saloon.report.findings) {
        if (finding.rule != "helmet_line") continue;
        EXPECT_EQ(finding.subject, "tall");
        EXPECT_NEAR(finding.value.value_or(0), centre_below - reach, 0.1);
        return;
    }
    FAIL() << "no finding of helmet_line";
}

TEST(PlantedFaults, OfTheSaloonAreFoundAndNoOther) {
    const DemoJob faulty = demoJob("faults/hillclimb_saloon.yaml");
    EXPECT_THAT(faulty.troubles, IsEmpty());
    EXPECT_THAT(geometryProblems(faulty.cage), IsEmpty());
    EXPECT_THAT(findings(faulty.report, {Answer::fails, Answer::cannot_tell}),
                UnorderedElementsAre("other_tube fails dash_bar", "helmet_clearance fails tall",
                                     "brace_angle fails rear_brace.left",
                                     "brace_angle fails rear_brace.right", "roof fails",
                                     "belt_bar_height fails short", "frame_plate_area fails hoop_foot.left",
                                     "frame_plate_area fails hoop_foot.right"));
}

TEST(PlantedFaults, OfThePickupAreFoundAndNoOther) {
    const DemoJob faulty = demoJob("faults/mile_pickup.yaml");
    EXPECT_THAT(faulty.troubles, IsEmpty());
    EXPECT_THAT(geometryProblems(faulty.cage), IsEmpty());
    EXPECT_THAT(
        findings(faulty.report, {Answer::fails, Answer::cannot_tell}),
        UnorderedElementsAre("brace_tube fails door_bar_lower.left", "brace_tube fails door_bar_lower.right",
                             "helmet_clearance fails tall", "brace_angle fails rear_brace.left",
                             "brace_angle fails rear_brace.right", "hoop_diagonal fails",
                             "belt_bar_height fails short", "foot_size fails hoop_foot.left",
                             "foot_size fails hoop_foot.right"));
}

}  // namespace
}  // namespace hoopwright
