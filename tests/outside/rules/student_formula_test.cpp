// The shipped student formula table on a small frame, each limit on it, one step inside, one step outside.
// Source of every limit: Formula SAE Rules 2024, version 1.0 (1 September 2023), sections F and T, the clause
// named beside it; read in the stored text of the document.
#include <cmath>
#include <filesystem>

#include "tests/rules/test_cage.h"
#include "tests/rules/vectors/formula_frame.h"

namespace hoopwright::test {
namespace {

using Frame = FormulaFrame;

const RuleTableRef& table() {
    static const RuleTableRef kTable =
        readRuleTable(std::filesystem::path(HOOPWRIGHT_SOURCE_DIR) / "data/rules/student_formula_2024.yaml")
            .table;
    return kTable;
}

/// The worst answer of one rule.
Answer answerOf(const std::string& rule, const Frame& frame) {
    const RuleTableRef tables[] = {table()};
    const Job job = jobOf(frame);
    Answer worst = Answer::does_not_apply;
    for (const Finding& f : check(tables, job, resolve(job)).findings)
        if (f.rule == rule) worst = std::min(worst, f.answer);
    return worst;
}

TEST(StudentFormula, ThePlainFrameMeetsAllThatIsMeasured) {
    const RuleTableRef tables[] = {table()};
    const Job job = jobOf({});
    const CheckReport report = check(tables, job, resolve(job));
    EXPECT_TRUE(report.allMeet());
    for (const Finding& f : report.findings) {
        EXPECT_NE(f.answer, Answer::fails)
            << f.rule << " " << f.subject << " " << f.value.value_or(-1) << " " << f.limit_text;
        EXPECT_NE(f.answer, Answer::cannot_tell) << f.rule << " " << f.missing;
        EXPECT_FALSE(f.clause.empty()) << f.rule;
    }
}

struct Limit {
    std::string rule, clause;
    double Frame::*what;
    double on, inside, outside;
    Answer at_limit = Answer::meets;  ///< strict limits fail on it
};
void PrintTo(const Limit& limit, std::ostream* out) {
    *out << limit.clause;
}
class StudentFormulaLimit : public testing::TestWithParam<Limit> {};

TEST_P(StudentFormulaLimit, OnItInsideAndOutside) {
    const Limit& limit = GetParam();
    const auto with = [&](double value) {
        Frame frame;
        frame.*limit.what = value;
        return answerOf(limit.rule, frame);
    };
    EXPECT_EQ(with(limit.on), limit.at_limit) << limit.clause;
    EXPECT_EQ(with(limit.inside), Answer::meets) << limit.clause;
    EXPECT_EQ(with(limit.outside), Answer::fails) << limit.clause;
}

const double kSideLow = 40 + 12.7 + 240 + 12.7, kSideHigh = 40 + 12.7 + 320 - 12.7;
INSTANTIATE_TEST_SUITE_P(
    Clauses, StudentFormulaLimit,
    testing::Values(
        Limit{"bend_radius", "F.5.2.1: 3 x OD", &Frame::radius, 76.2, 76.3, 76.1},
        Limit{"main_hoop_lean", "F.5.8.3a: less than 10 degrees", &Frame::lean_deg, 10, 9.99, 10.01,
              Answer::fails},
        Limit{"main_hoop_lean", "F.5.8.3a: either way", &Frame::lean_deg, -10, -9.99, -10.01, Answer::fails},
        Limit{"main_hoop_lean_below", "F.5.8.3c: 10 degrees to the rear", &Frame::lean_deg, 10, 9.99, 10.01},
        Limit{"main_hoop_lean_below", "F.5.8.3c: any angle forward", &Frame::lean_deg, -25, -10.01, 10.01},
        Limit{"main_hoop_width", "F.5.8.4: 380 mm", &Frame::half_width, 190 + 12.7, 190 + 12.75, 190 + 12.65},
        Limit{"front_hoop_lean", "F.5.7.6: less than 20 degrees", &Frame::front_lean_deg, 20, 19.99, 20.01,
              Answer::fails},
        Limit{"brace_top", "F.5.9.4: 160 mm", &Frame::brace_height, 1012.7 - 160, 1012.7 - 159.9,
              1012.7 - 160.1},
        Limit{"brace_angle", "F.5.9.5: 30 degrees", &Frame::brace_off_deg, 30, 30.01, 29.99},
        Limit{"front_brace_top", "F.6.3: 50 mm", &Frame::front_brace_height, 612.7 - 50, 612.7 - 49.9,
              612.7 - 50.1},
        Limit{"upper_side_height", "F.6.4.4: 240 mm", &Frame::upper_side_height, kSideLow, kSideLow + 0.1,
              kSideLow - 0.1},
        Limit{"upper_side_height", "F.6.4.4: 320 mm", &Frame::upper_side_height, kSideHigh, kSideHigh - 0.1,
              kSideHigh + 0.1},
        Limit{"helmet_to_front_line", "F.5.6.3a: 50 mm", &Frame::helmet_under_line, 200, 200.1, 199.9},
        Limit{"belt_angle", "T.2.6.1: 20 degrees below", &Frame::belt_fall_deg, 20, 19.99, 20.01},
        Limit{"belt_angle", "T.2.6.1: 10 degrees above", &Frame::belt_fall_deg, -10, -9.99, -10.01},
        Limit{"belt_spacing", "T.2.6.2: 175 mm", &Frame::belt_spacing, 175, 175.1, 174.9},
        Limit{"belt_spacing", "T.2.6.2: 235 mm", &Frame::belt_spacing, 235, 234.9, 235.1},
        Limit{"lap_upright", "T.2.5.4: 45 degrees", &Frame::lap_deg, 45, 45.01, 44.99},
        Limit{"lap_upright", "T.2.5.4: 65 degrees", &Frame::lap_deg, 65, 64.99, 65.01}));

struct Size {
    std::string rule;
    TubeSection Frame::*what;
    double od, wall;
    Answer answer;
};
void PrintTo(const Size& size, std::ostream* out) {
    *out << size.rule << " of " << size.od << " x " << size.wall << " mm";
}
class StudentFormulaTube : public testing::TestWithParam<Size> {};

TEST_P(StudentFormulaTube, HoldsAllFourMinima) {
    Frame frame;
    frame.*GetParam().what = {GetParam().od, GetParam().wall};
    EXPECT_EQ(answerOf(GetParam().rule, frame), GetParam().answer)
        << GetParam().rule << " " << GetParam().od << " x " << GetParam().wall;
}

// F.3.4.1: sizes A to D with the book's own example rounds, and rounds that miss by one of the four minima.
INSTANTIATE_TEST_SUITE_P(
    Sizes, StudentFormulaTube,
    testing::Values(
        Size{"main_hoop_tube", &Frame::main, 25.4, 0.095 * 25.4, Answer::meets},  // A: 1.0 x 0.095 in
        Size{"main_hoop_tube", &Frame::main, 25, 2.5, Answer::meets},             // A: 25 x 2.5
        Size{"main_hoop_tube", &Frame::main, 25, 2.0, Answer::fails},    // OD and wall, not inertia and area
        Size{"main_hoop_tube", &Frame::main, 24.9, 3.0, Answer::fails},  // OD
        Size{"main_hoop_tube", &Frame::main, 38, 1.9, Answer::fails},    // wall alone
        Size{"brace_tube", &Frame::brace, 25.4, 0.065 * 25.4, Answer::meets},  // B: 1.0 x 0.065 in
        Size{"brace_tube", &Frame::brace, 25.4, 1.6,
             Answer::meets},  // B: the book's example, 0.3 mm4 under 8509
        Size{"brace_tube", &Frame::brace, 25.4, 1.59, Answer::fails},             // just under it
        Size{"size_c_tube", &Frame::support, 25.4, 0.049 * 25.4, Answer::meets},  // C: 1.0 x 0.049 in
        Size{"size_c_tube", &Frame::support, 25.4, 1.2, Answer::meets},  // C: on its inertia, 6695 mm4
        Size{"size_c_tube", &Frame::support, 25.4, 1.19, Answer::fails},
        Size{"upper_side_straight", &Frame::side, 25.4, 1.6, Answer::meets}));

// F.3.2.1, F.3.4.1: a bent upper side bar is of size D (35 x 1.2 and 1.375 x 0.049 in); size B does not do.
TEST(StudentFormula, ABentUpperSideBarIsOfSizeD) {
    const auto with = [](double od, double wall) {
        Frame frame;
        frame.side = {od, wall};
        Job job = jobOf(frame);
        job.cage.members[2].path.insert(job.cage.members[2].path.begin() + 1,
                                        {FixedPoint{{350, 330, 330}}, {}});
        job.cage.members[2].bend_radius_mm = 150;
        const RuleTableRef tables[] = {table()};
        Answer worst = Answer::does_not_apply;
        for (const Finding& f : check(tables, job, resolve(job)).findings)
            if (f.rule == "upper_side_bent") worst = std::min(worst, f.answer);
        return worst;
    };
    EXPECT_EQ(with(35, 1.2), Answer::meets);
    EXPECT_EQ(with(1.375 * 25.4, 0.049 * 25.4),
              Answer::meets);  // the book's own example, 0.075 mm under its own 35.0
    EXPECT_EQ(with(34.9, 1.2446), Answer::fails);
    EXPECT_EQ(with(25.4, 1.651), Answer::fails);
    EXPECT_EQ(answerOf("upper_side_bent", {}), Answer::does_not_apply);
}

// F.5.9.1-2: one straight brace on each side.
TEST(StudentFormula, BracesAreStraight) {
    Frame bent;
    bent.brace_bends = 1;
    EXPECT_EQ(answerOf("brace_straight", bent), Answer::fails);
    EXPECT_EQ(answerOf("brace_straight", {}), Answer::meets);
}

// F.6.3.5: braces to the rear only for a front hoop that leans back more than 10 degrees.
TEST(StudentFormula, AFrontHoopThatLeansBackNeedsMoreBraces) {
    Frame frame;
    frame.front_lean_deg = 10;
    EXPECT_EQ(answerOf("front_hoop_rear_braces", frame), Answer::does_not_apply);
    frame.front_lean_deg = 10.01;
    EXPECT_EQ(answerOf("front_hoop_rear_braces", frame), Answer::fails);
}

// T.2.1, T.2.5.4-5: upright up to 30 degrees from vertical; reclined lap belts run at 60 to 80 degrees.
TEST(StudentFormula, PostureDecidesTheLapBelt) {
    Frame frame;
    frame.back_deg = 30;
    EXPECT_EQ(answerOf("lap_upright", frame), Answer::meets);
    EXPECT_EQ(answerOf("lap_reclined", frame), Answer::does_not_apply);
    frame.back_deg = 30.01;
    EXPECT_EQ(answerOf("lap_upright", frame), Answer::does_not_apply);
    EXPECT_EQ(answerOf("lap_reclined", frame), Answer::fails);
    for (const auto& [angle, wanted] : {std::pair{60.0, Answer::meets},
                                        {59.99, Answer::fails},
                                        {80.0, Answer::meets},
                                        {80.01, Answer::fails}}) {
        frame.lap_deg = angle;
        EXPECT_EQ(answerOf("lap_reclined", frame), wanted) << angle;
    }
}

// F.5.6.3b-c: which line counts depends on where the braces run.
TEST(StudentFormula, BraceDirectionDecidesTheHelmetRule) {
    EXPECT_EQ(answerOf("helmet_to_brace_line", {}), Answer::meets);
    EXPECT_EQ(answerOf("helmet_ahead", {}), Answer::does_not_apply);
}

// F.5.6.1, F.6.2.3, F.6.4.3-6, F.6.6.2: what must be there, and what it joins.
TEST(StudentFormula, WhatIsMissingFails) {
    const std::pair<const char*, const char*> missing[] = {
        {"front_hoop", "one_front_hoop"}, {"brace", "brace_count"},
        {"upper", "upper_side_count"},    {"lower", "lower_side_count"},
        {"cross", "side_diagonal_count"}, {"support_2", "bulkhead_supports"},
        {"carry_1", "brace_supports"},    {"front_brace", "front_brace_count"}};
    const RuleTableRef tables[] = {table()};
    for (const auto& [member, rule] : missing) {
        Job job = jobOf({});
        std::erase_if(job.cage.members, [id = member](const Member& m) { return m.id == id; });
        Answer worst = Answer::does_not_apply;
        for (const Finding& f : check(tables, job, resolve(job)).findings)
            if (f.rule == rule) worst = std::min(worst, f.answer);
        EXPECT_EQ(worst, Answer::fails) << rule << " without " << member;
    }
}

}  // namespace
}  // namespace hoopwright::test
