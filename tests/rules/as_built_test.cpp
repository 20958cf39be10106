// The built cage against the plan: what is measured is judged, and how far it drifts.
#include "rules/as_built.h"

#include <gmock/gmock.h>

#include <numbers>

#include "rules/judged_section.h"
#include "tests/degrees.h"
#include "tests/rules/test_cage.h"

namespace hoopwright::test {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

const std::string kLean = "measure: angle_to_vertical\nof: {role: rear_brace}\nat_least: 30 deg";
const std::string kHeight = "measure: top_height\nof: {role: rear_brace}\nat_least: 500";

BuiltReading reading(const std::string& of, const std::string& quantity, double value, Dimension dimension,
                     const std::string& spot = "") {
    return {of, quantity, spot, value, dimension, "A. Fitter", "2026-03-02", ""};
}

struct Judged1 {
    Finding finding;
    RestsOn rests;
};
std::vector<Judged1> judged(const Job& job, const std::string& rule) {
    const RuleTableRef table = mustRead(tableText(ruleText(rule)));
    const CageGeometry cage = resolve(job);
    const CheckReport report = check(std::vector{table}, job, cage);
    const std::vector<RestsOn> rests = restsOn(std::vector{table}, job, cage, report);
    std::vector<Judged1> out;
    for (std::size_t i = 0; i < report.findings.size(); ++i) out.push_back({report.findings[i], rests[i]});
    return out;
}

TEST(AsBuilt, AReadingIsJudgedInPlaceOfThePlan) {
    Job job = smallJob();
    const std::vector<Judged1> planned = judged(job, kLean);
    ASSERT_EQ(planned.size(), 1u);
    EXPECT_EQ(planned[0].finding.answer, Answer::meets);
    EXPECT_EQ(planned[0].rests, RestsOn::plan);
    // One step inside, on the limit, one step outside.
    for (const double degrees : {30.1, 30.0, 29.9}) {
        job.cage.readings = {
            reading("rear_brace.left", "angle_to_vertical", degrees * kDegree, Dimension::angle)};
        const std::vector<Judged1> now = judged(job, kLean);
        const Judged1& left = now.front();
        EXPECT_EQ(left.finding.answer, degrees >= 30 ? Answer::meets : Answer::fails) << degrees;
        ASSERT_TRUE(left.finding.value);
        EXPECT_NEAR(*left.finding.value, degrees * kDegree, 1e-12);
        EXPECT_EQ(left.rests, RestsOn::measured) << degrees;
        EXPECT_FALSE(left.finding.evidence.shapes.empty());  // shown where the plan has it
    }
}

TEST(AsBuilt, TheOtherOfAPairRestsOnThePlan) {
    Job job = smallJob();
    job.cage.readings = {reading("rear_brace.left", "angle_to_vertical", 20 * kDegree, Dimension::angle)};
    const std::vector<Judged1> now = judged(job, kLean);
    ASSERT_EQ(now.size(), 2u);  // the one that fails, and the rest
    EXPECT_EQ(now[0].finding.subject, "rear_brace.left");
    EXPECT_EQ(now[0].rests, RestsOn::measured);
    EXPECT_EQ(now[1].finding.subject, "rear_brace.right");
    EXPECT_EQ(now[1].rests, RestsOn::plan);
}

TEST(AsBuilt, AReadingTakenAnotherWayIsNotUsed) {
    Job job = smallJob();
    const std::string in_side_view =
        "measure: angle_to_vertical\nof: {role: rear_brace}\nwith: {view: side}\n"
        "at_least: 30 deg";
    job.cage.readings = {reading("rear_brace.left", "angle_to_vertical", 20 * kDegree, Dimension::angle)};
    EXPECT_EQ(judged(job, in_side_view).front().finding.answer, Answer::meets);
    job.cage.readings[0].spot = "side view";
    EXPECT_EQ(judged(job, in_side_view).front().finding.answer, Answer::fails);
    // A plain rule takes any spot.
    EXPECT_EQ(judged(job, kLean).front().finding.answer, Answer::fails);
}

TEST(AsBuilt, AReadingOfAnotherDimensionIsNotUsed) {
    Job job = smallJob();
    job.cage.readings = {reading("rear_brace.left", "angle_to_vertical", 20, Dimension::length)};
    EXPECT_EQ(judged(job, kLean).front().finding.answer, Answer::meets);
}

TEST(AsBuilt, OfSeveralReadingsTheWorstDecides) {
    Job job = smallJob();
    job.cage.readings = {
        reading("rear_brace.left", "angle_to_vertical", 31 * kDegree, Dimension::angle, "a"),
        reading("rear_brace.left", "angle_to_vertical", 29 * kDegree, Dimension::angle, "b")};
    const Finding f = judged(job, kLean).front().finding;
    EXPECT_EQ(f.answer, Answer::fails);
    EXPECT_NEAR(*f.value, 29 * kDegree, 1e-12);
}

TEST(AsBuilt, TheListHasPlanMeasuredAndDrift) {
    Job job = smallJob();
    const RuleTableRef table = mustRead(tableText(ruleText(kHeight)));
    const CageGeometry cage = resolve(job);
    const auto find = [&](bool read_only) -> std::optional<AsBuilt> {
        for (const AsBuilt& one : asBuiltList(std::vector{table}, job, cage, read_only))
            if (one.of == "rear_brace.left" && one.quantity == "top_height") return one;
        return std::nullopt;
    };
    const std::optional<AsBuilt> before = find(false);
    ASSERT_TRUE(before && before->planned);
    EXPECT_THAT(before->readings, IsEmpty());
    EXPECT_FALSE(find(true));
    EXPECT_THAT(before->limits, ElementsAre("at least 500 mm"));
    job.cage.readings = {
        reading("rear_brace.left", "top_height", *before->planned - 12.5, Dimension::length)};
    const std::optional<AsBuilt> after = find(true);
    ASSERT_TRUE(after && after->drift);
    EXPECT_NEAR(*after->drift, -12.5, 1e-9);
    EXPECT_NEAR(*after->planned, *before->planned, 1e-9);  // the plan stays the plan
    EXPECT_THAT(after->readings, ElementsAre(0));
    EXPECT_FALSE(before->answer) << "of the plan the list judges nothing";
    for (const double height : {500.5, 500.0, 499.5}) {
        job.cage.readings[0].value = height;
        const std::optional<AsBuilt> now = find(true);
        ASSERT_TRUE(now && now->answer && now->margin) << height;
        EXPECT_EQ(*now->answer, height >= 500 ? Answer::meets : Answer::fails) << height;
        EXPECT_NEAR(*now->margin, height - 500, 1e-9);
    }
}

TEST(AsBuilt, OfAlternativesOneThingAloneIsNotJudged) {
    Job job = smallJob();
    job.cage.readings = {reading("rear_brace.left", "top_height", 100, Dimension::length)};
    const RuleTableRef table = mustRead(tableText(
        ruleText("measure: top_height\nof: {role: rear_brace}\nat_least: 500\nhow_many: at_least 1")));
    for (const AsBuilt& one : asBuiltList(std::vector{table}, job, resolve(job), true))
        EXPECT_FALSE(one.answer) << one.of << ": the other brace is enough";
}

TEST(AsBuilt, WhatNoRuleAsksForIsListedToo) {
    Job job = smallJob();
    job.cage.readings = {reading("main_hoop", "length", 2900, Dimension::length),
                         reading("main_hoop", "measured_wall", 2.44, Dimension::length, "1.0")};
    const CageGeometry cage = resolve(job);
    const std::vector<AsBuilt> all = asBuiltList({}, job, cage, true);
    std::vector<std::string> names;
    for (const AsBuilt& one : all) names.push_back(one.quantity);
    EXPECT_THAT(names, ElementsAre("measured_wall", "length"));
    EXPECT_NEAR(*all[0].drift, 2.44 - 2.5, 1e-9);
    const int hoop = cage.member("main_hoop");
    EXPECT_NEAR(*all[1].drift, 2900 - cage.members[static_cast<std::size_t>(hoop)].line.length_mm(), 1e-6);
}

TEST(AsBuilt, GaugedOdIsJudgedWithTheGaugedWall) {
    Job job = smallJob();
    const std::string area =
        "measure: area\nof: {role: main_hoop}\nwith: {judged_wall: measured}\nat_least: 1 cm2";
    job.cage.readings = {reading("main_hoop", "measured_wall", 2.4, Dimension::length)};
    EXPECT_NEAR(*judged(job, area).front().finding.value, std::numbers::pi * (45 - 2.4) * 2.4, 1e-6);
    job.cage.readings.push_back(reading("main_hoop", "od", 44.8, Dimension::length));
    const Judged1 now = judged(job, area).front();
    EXPECT_NEAR(*now.finding.value, std::numbers::pi * (44.8 - 2.4) * 2.4, 1e-6);
    EXPECT_EQ(now.rests, RestsOn::measured);
}

TEST(AsBuilt, AnAnswerRestsOnAPersonAndAQuestionOnNothing) {
    Job job = smallJob();
    EXPECT_EQ(judged(job, "ask: Is it?").front().rests, RestsOn::nothing);
    job.cage.answers = {{"test", "r", "", true, "A. Fitter", "2026-03-02", "", ""}};
    EXPECT_EQ(judged(job, "ask: Is it?").front().rests, RestsOn::person);
}

TEST(WallsAsked, TakesTheThickestARuleNamesForABar) {
    const Job job = smallJob();
    const CageGeometry cage = resolve(job);
    const RuleTableRef table =
        mustRead(tableText(ruleText("measure: wall\nof: {role: main_hoop}\nat_least: 2", "a") +
                           ruleText("measure: measured_wall\nof: {role: main_hoop}\nat_least: 2.4", "b") +
                           ruleText("measure: wall\nof: {role: rear_brace}\nat_least: 1.5", "c")));
    const auto walls = wallsAsked(std::vector{table}, job, cage);
    const auto at = [&](const char* id) { return walls[static_cast<std::size_t>(cage.member(id))]; };
    ASSERT_TRUE(at("main_hoop"));
    EXPECT_EQ(at("main_hoop")->wall_mm, 2.4);
    EXPECT_EQ(at("main_hoop")->rule, "b");
    EXPECT_EQ(at("main_hoop")->judged, "wall as gauged");
    ASSERT_TRUE(at("rear_brace.left"));
    EXPECT_EQ(at("rear_brace.left")->wall_mm, 1.5);
    EXPECT_FALSE(at("belt_bar"));
}

}  // namespace
}  // namespace hoopwright::test
