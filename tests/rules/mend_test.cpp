#include "rules/mend.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <numbers>

#include "core/edit/cage_edits.h"
#include "tests/core/edit/demo_job.h"
#include "tests/rules/test_cage.h"

namespace hoopwright::test {
namespace {

using ::testing::HasSubstr;

const Finding& failingOf(const Mender& mender, const std::string& rule) {
    for (const Finding& f : mender.report().findings)
        if (f.rule == rule && f.answer == Answer::fails) return f;
    throw std::logic_error("nothing fails: " + rule);
}

Mends waysFor(const Job& job, const std::vector<RuleTableRef>& tables, const std::string& rule = "r") {
    Mender mender(tables, job);
    return mender.waysOut(failingOf(mender, rule));
}

/// By other means than the search: the job with that cage, all of it anew. How many required findings fail or
/// can't be told, how many problems the geometry has.
std::pair<int, std::size_t> wrongWith(Job job, const CageLayout& cage,
                                      const std::vector<RuleTableRef>& tables) {
    job.cage = cage;
    const CageGeometry made = resolve(job);
    int wrong = 0;
    for (const Finding& f : check(tables, job, made).findings)
        wrong += f.severity == Severity::required &&
                 (f.answer == Answer::fails || f.answer == Answer::cannot_tell);
    return {wrong, made.problems.size()};
}

void expectBetter(const Job& job, const std::vector<RuleTableRef>& tables, const Mend& way) {
    const auto before = wrongWith(job, job.cage, tables), after = wrongWith(job, way.cage, tables);
    EXPECT_LT(after.first, before.first) << way.says;
    EXPECT_LE(after.second, before.second) << way.says;
}

/// The small job with prices: the lightest tube that will do is not the cheapest.
Job pricedJob() {
    Job job = smallJob();
    const auto price = [&](const std::string& id, double of_stick) {
        for (TubeStock& tube : job.stock.tubes)
            if (tube.id == id) tube.sticks = {{6000, of_stick}, {3000, of_stick}};
    };
    price("45x2.5", 60);
    price("38x2.5", 48);
    price("moly", 120);
    price("seamed", 90);
    job.stock.currency = "EUR";
    return job;
}

TEST(Mend, TubeIsTheLightestAndTheCheapestThatWillDo) {
    const Job job = pricedJob();
    const std::vector<RuleTableRef> tables{
        mustRead(tableText(ruleText("measure: od\nof: {role: rear_brace}\nat_least: 40")))};
    const Mends mends = waysFor(job, tables);
    ASSERT_EQ(mends.ways.size(), 2u) << mends.none;
    EXPECT_EQ(mends.ways[0].name, "Lightest tube");
    EXPECT_EQ(mends.ways[0].cage.member("rear_brace")->stock, "seamed");
    EXPECT_EQ(mends.ways[1].name, "Cheapest tube");
    EXPECT_EQ(mends.ways[1].cage.member("rear_brace")->stock, "45x2.5");
    EXPECT_EQ(mends.ways[1].says, "rear_brace, both: 45x2.5 in place of 38x2.5");
    for (const Mend& way : mends.ways) expectBetter(job, tables, way);
    // Mass by the formula of a ring, but for what the copes take off; price by hand: 48 a stick of 6 m is 8 a
    // metre, 60 is 10.
    const double length_m = std::hypot(950.0, 850.0) / 1000;
    const auto kg = [&](double od, double wall) {
        return 2 * length_m * std::numbers::pi * (od - wall) * wall * 7850e-6;
    };
    EXPECT_NEAR(mends.ways[0].adds_kg, kg(50, 2) - kg(38, 2.5), 0.05);
    EXPECT_NEAR(mends.ways[1].adds_kg, kg(45, 2.5) - kg(38, 2.5), 0.05);
    for (const Mend& way : mends.ways) {
        Job mended = job;
        mended.cage = way.cage;
        EXPECT_NEAR(way.adds_kg, resolve(mended).totals.tube_mass_kg - resolve(job).totals.tube_mass_kg,
                    1e-9);
    }
    ASSERT_TRUE(mends.ways[1].adds_price);
    EXPECT_NEAR(*mends.ways[1].adds_price, 2 * length_m * (10 - 8), 1e-6);
}

TEST(Mend, TubeMustPleaseEveryTable) {
    const Job job = pricedJob();
    std::string other = tableText(ruleText("measure: form\nof: {role: rear_brace}\nis_not: welded", "seam"));
    other.replace(other.find("id: test"), 8, "id: other");
    const std::vector<RuleTableRef> tables{
        mustRead(tableText(ruleText("measure: od\nof: {role: rear_brace}\nat_least: 40"))), mustRead(other)};
    const Mends mends = waysFor(job, tables);
    ASSERT_EQ(mends.ways.size(), 1u);
    EXPECT_EQ(mends.ways[0].name, "Lightest and cheapest tube");
    EXPECT_EQ(mends.ways[0].cage.member("rear_brace")->stock, "45x2.5");
}

TEST(Mend, WhereNoTubeWillDoItSaysSo) {
    const std::vector<RuleTableRef> tables{
        mustRead(tableText(ruleText("measure: od\nof: {role: rear_brace}\nat_least: 60")))};
    const Mends mends = waysFor(pricedJob(), tables);
    EXPECT_TRUE(mends.ways.empty());
    EXPECT_EQ(mends.none, "No tube of the shop's list is taken by every table here.");
}

TEST(Mend, ABentBarTakesTheRadiusOfItsNewDie) {
    Job job = smallJob();
    memberOf(job, "main_hoop").bend_radius_mm = 135;
    const std::vector<RuleTableRef> tables{
        mustRead(tableText(ruleText("measure: od\nof: {role: main_hoop}\nat_least: 48")))};
    const Mends mends = waysFor(job, tables);
    ASSERT_FALSE(mends.ways.empty()) << mends.none;
    EXPECT_EQ(mends.ways[0].cage.member("main_hoop")->stock, "seamed");
    EXPECT_EQ(mends.ways[0].cage.member("main_hoop")->bend_radius_mm, 150);  // the die for 50 mm
    EXPECT_THAT(mends.ways[0].says, HasSubstr("bent to 150.0 mm"));
    expectBetter(job, tables, mends.ways[0]);
}

TEST(Mend, APlaceIsReachedByTheLeastMove) {
    const Job job = smallJob();
    // The belt bar's underside is at 560 - 22.5: the whole bar has to go up by 7.5.
    const std::vector<RuleTableRef> tables{
        mustRead(tableText(ruleText("measure: height\nof: {role: belt_bar}\nat_least: 545")))};
    const Mends mends = waysFor(job, tables);
    ASSERT_FALSE(mends.ways.empty()) << mends.none;
    const Mend& way = mends.ways.front();
    EXPECT_EQ(way.kind, Mend::Kind::move);
    EXPECT_EQ(way.name, "Least move");
    EXPECT_GE(way.moved_mm, 7.5);
    EXPECT_LE(way.moved_mm, 8.5);
    expectBetter(job, tables, way);
    Job next = job;
    next.cage = way.cage;
    const CageGeometry made = resolve(next);
    const Centreline& bar = made.members[std::size_t(made.member("belt_bar"))].line;
    EXPECT_GE(std::min(bar.start().z(), bar.end().z()) - 22.5, 545);
}

TEST(Mend, AMoveThatBreaksAnotherRuleIsNotOfferedAndTheRuleIsNamed) {
    const Job job = smallJob();
    const std::vector<RuleTableRef> tables{mustRead(tableText(
        ruleText("measure: height\nof: {role: belt_bar}\nat_least: 545") +
        "  - {id: top, title: Not too high, sentence: S., measure: top_height, of: {role: belt_bar}, "
        "at_most: 585}\n"))};
    const Mends mends = waysFor(job, tables);  // 545 to 585 is 40 mm, and the tube is 45
    EXPECT_TRUE(mends.ways.empty());
    EXPECT_THAT(mends.none, HasSubstr("No move of the bars and plates concerned"));
    EXPECT_THAT(mends.none, HasSubstr("then fails: Not too high"));
}

TEST(Mend, AFootPlateMovesWithWhatStandsOnIt) {
    const Job job = smallJob();
    // atan(950 / 850) = 48.2 degrees; 50 degrees is 1013 mm back at that height.
    const std::vector<RuleTableRef> tables{mustRead(tableText(ruleText(
        "measure: angle_to_vertical\nof: {role: rear_brace}\nwith: {view: side}\nat_least: 50 deg")))};
    const Mends mends = waysFor(job, tables);
    ASSERT_FALSE(mends.ways.empty()) << mends.none;
    for (const Mend& way : mends.ways) expectBetter(job, tables, way);
    const double back = 850 * std::tan(50 * std::numbers::pi / 180) - 950;  // foot alone
    const double down = 850 - 950 / std::tan(50 * std::numbers::pi / 180);  // landing alone
    EXPECT_NEAR(mends.ways.front().moved_mm, std::min(back, down), 1.1);
}

TEST(Mend, PlateGrowsNoMoreThanItMust) {
    const Job job = smallJob();
    const std::vector<RuleTableRef> tables{mustRead(
        tableText(ruleText("measure: plate_area\nof: {under: {role: rear_brace}}\nat_least: 120 cm2")))};
    const Mends mends = waysFor(job, tables);  // 100 x 60 mm
    ASSERT_FALSE(mends.ways.empty()) << mends.none;
    EXPECT_EQ(mends.ways[0].kind, Mend::Kind::plate);
    const Plate& plate = *mends.ways[0].cage.plate("brace_foot");
    const double area = plate.length_mm * plate.width_mm;
    EXPECT_GE(area, 12000);
    EXPECT_LE(area, 12000 + 5 * 200);  // one step of 5 mm
    expectBetter(job, tables, mends.ways[0]);
    const std::vector<RuleTableRef> thick{mustRead(
        tableText(ruleText("measure: plate_thickness\nof: {under: {role: rear_brace}}\nmore_than: 3 mm")))};
    const Mends thicker = waysFor(job, thick);
    ASSERT_EQ(thicker.ways.size(), 1u);
    EXPECT_EQ(thicker.ways[0].cage.plate("brace_foot")->thickness_mm, 3.5);
}

TEST(Mend, AMissingBarIsTheStarters) {
    Job job = demoJobValue();
    std::erase_if(job.cage.members, [](const Member& m) { return m.role == "dash_bar"; });
    const std::vector<RuleTableRef> tables{
        mustRead(tableText(ruleText("measure: member_count\nof: {role: dash_bar}\nat_least: 1")))};
    const Mends mends = waysFor(job, tables);
    ASSERT_EQ(mends.ways.size(), 1u) << mends.none;
    EXPECT_EQ(mends.ways[0].kind, Mend::Kind::new_bar);
    EXPECT_EQ(mends.ways[0].cage.members.size(), job.cage.members.size() + 1);
    EXPECT_EQ(mends.ways[0].cage.members.back().role, "dash_bar");
    EXPECT_GT(mends.ways[0].adds_kg, 0.5);
    expectBetter(job, tables, mends.ways[0]);
    const std::vector<RuleTableRef> odd{
        mustRead(tableText(ruleText("measure: member_count\nof: {role: nose_bar}\nat_least: 1"),
                           "roles: {nose_bar: Nose bar}"))};
    EXPECT_THAT(waysFor(job, odd).none, HasSubstr("No starter has a bar of that kind"));
}

// The second bar of a cross is in two pieces: half of it would be counted, and hold nothing.
TEST(Mend, AMissingCrossIsBroughtWholeNeverHalfOfIt) {
    Job job = demoJobValue();
    std::erase_if(job.cage.members, [](const Member& m) { return m.role == "roof_diagonal"; });
    for (const char* wanted : {"at_least: 2", "at_least: 3"}) {
        const std::vector<RuleTableRef> tables{mustRead(
            tableText(ruleText("measure: member_count\nof: {role: roof_diagonal}\n" + std::string(wanted))))};
        const Mends mends = waysFor(job, tables);
        ASSERT_EQ(mends.ways.size(), 1u) << wanted << ": " << mends.none;
        expectBetter(job, tables, mends.ways[0]);
        Job next = job;
        next.cage = mends.ways[0].cage;
        int firsts = 0, seconds = 0;
        for (const Member& member : next.cage.members) {
            if (member.role != "roof_diagonal") continue;
            firsts += member.id.ends_with("_first");
            seconds += member.id.ends_with("_second");
        }
        EXPECT_EQ(firsts, seconds) << mends.ways[0].says;
    }
    // With one there, what is brought is the whole of the other.
    std::vector<RuleTableRef> three{
        mustRead(tableText(ruleText("measure: member_count\nof: {role: roof_diagonal}\nat_least: 3")))};
    const Mends all = waysFor(job, three);
    ASSERT_EQ(all.ways.size(), 1u) << all.none;
    Job one = job;
    one.cage = all.ways[0].cage;
    std::erase_if(one.cage.members,
                  [](const Member& m) { return m.id.ends_with("_first") || m.id.ends_with("_second"); });
    const Mends other = waysFor(one, three);
    ASSERT_EQ(other.ways.size(), 1u) << other.none;
    EXPECT_EQ(other.ways[0].parts.size(), 2u) << other.ways[0].says;
    EXPECT_THAT(other.ways[0].says, HasSubstr("2 new bars"));
    expectBetter(one, three, other.ways[0]);
}

TEST(Mend, AnsweredNotGoodIsForThePersonToMend) {
    Job job = smallJob();
    job.cage.answers = {{"test", "r", "", false, "A. Fitter", "2026-03-02", ""}};
    const std::vector<RuleTableRef> tables{mustRead(tableText(ruleText("ask: Is it?")))};
    EXPECT_THAT(waysFor(job, tables).none, HasSubstr("A person said"));
}

TEST(MendAll, TakesWaysOutUntilNothingFailsAndAddsThemUp) {
    const Job job = pricedJob();
    const std::vector<RuleTableRef> tables{mustRead(
        tableText(ruleText("measure: od\nof: {role: rear_brace}\nat_least: 40", "tube") +
                  ruleText("measure: height\nof: {role: belt_bar}\nat_least: 545", "low") +
                  ruleText("measure: plate_area\nof: {under: {role: rear_brace}}\nat_least: 80 cm2", "foot") +
                  ruleText("measure: od\nof: {role: belt_bar}\nat_least: 70", "never")))};
    const MendAll all = mendAll(tables, job);
    ASSERT_EQ(all.steps.size(), 3u);
    EXPECT_EQ(all.steps[0].of.rule, "tube");
    ASSERT_EQ(all.left.size(), 1u);
    EXPECT_EQ(all.left[0].finding.rule, "never");
    EXPECT_EQ(all.report.count(Answer::fails), 1);
    const auto mass = [](const Job& of) {
        const CageGeometry made = resolve(of);
        return made.totals.tube_mass_kg + made.totals.plate_mass_kg;
    };
    EXPECT_NEAR(all.adds_kg, mass(all.job) - mass(job), 1e-9);
    ASSERT_TRUE(all.adds_price);
    EXPECT_GT(*all.adds_price, 0);
}

}  // namespace
}  // namespace hoopwright::test
