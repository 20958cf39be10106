// How rules are put together, and the five answers.
#include "rules/quantity.h"
#include "tests/rules/test_cage.h"

namespace hoopwright::test {
namespace {

Finding inFact(const std::string& when, const std::string& facts, std::optional<Fact> value) {
    Job job = smallJob();
    if (value) job.cage.entry["f"] = *value;
    return finding(job, "when: {f: " + when + "}\nmeasure: member_count\nat_least: 1",
                   "facts:\n  f: {meaning: M, " + facts + "}\n");
}
Fact word(const std::string& w) {
    return {w, Dimension::none};
}

TEST(Facts, DecideWhetherARuleApplies) {
    EXPECT_EQ(inFact("closed", "kind: word, words: [open, closed]", word("closed")).answer, Answer::meets);
    EXPECT_EQ(inFact("closed", "kind: word, words: [open, closed]", word("open")).answer,
              Answer::does_not_apply);
    EXPECT_EQ(inFact("[open, closed]", "kind: word, words: [open, closed]", word("open")).answer,
              Answer::meets);
    EXPECT_EQ(inFact("{not: open}", "kind: word", word("open")).answer, Answer::does_not_apply);
    EXPECT_EQ(inFact("yes", "kind: yes_no", Fact{true, Dimension::none}).answer, Answer::meets);
    EXPECT_EQ(inFact("yes", "kind: yes_no", Fact{false, Dimension::none}).answer, Answer::does_not_apply);
    EXPECT_EQ(inFact("{from: 2}", "kind: count", Fact{2.0, Dimension::none}).answer, Answer::meets);
    EXPECT_EQ(inFact("{over: 2}", "kind: count", Fact{2.0, Dimension::none}).answer, Answer::does_not_apply);
    EXPECT_EQ(inFact("{up_to: 1000 kg}", "kind: mass", Fact{1000.0, Dimension::mass}).answer, Answer::meets);
    EXPECT_EQ(inFact("{below: 1000 kg}", "kind: mass", Fact{1000.0, Dimension::mass}).answer,
              Answer::does_not_apply);
}

TEST(Facts, OfADayCompareDays) {
    EXPECT_EQ(inFact("{from: 2007-01-01}", "kind: date", word("2007-01-01")).answer, Answer::meets);
    EXPECT_EQ(inFact("{from: 2007-01-01}", "kind: date", word("2006-12-31")).answer, Answer::does_not_apply);
    EXPECT_EQ(inFact("{over: 2007-01-01}", "kind: date", word("2007-01-01")).answer, Answer::does_not_apply);
    EXPECT_EQ(inFact("{below: 2007-01-01}", "kind: date", word("2006-12-31")).answer, Answer::meets);
    EXPECT_EQ(inFact("{up_to: 2007-01-01}", "kind: date", word("2007-01-02")).answer, Answer::does_not_apply);
    EXPECT_EQ(inFact("{up_to: 2007-01-01}", "kind: date", word("lately")).missing,
              "the fact 'f' is not a date");
}

TEST(Facts, ThatAreMissingOrOfAnotherKindCannotBeTold) {
    const Finding f = inFact("closed", "kind: word", std::nullopt);
    EXPECT_EQ(f.answer, Answer::cannot_tell);
    EXPECT_EQ(f.missing, "the fact 'f' is not given");
    EXPECT_EQ(inFact("{from: 2 kg}", "kind: mass", Fact{2.0, Dimension::speed}).missing,
              "the fact 'f' is of another kind");
    EXPECT_EQ(inFact("yes", "kind: yes_no", word("yes")).missing, "the fact 'f' is not yes or no");
    EXPECT_EQ(inFact("closed", "kind: word", Fact{1.0, Dimension::none}).missing,
              "the fact 'f' is of another kind");
}

TEST(Facts, OfBodyAndFrameAreAlwaysKnown) {
    EXPECT_EQ(finding(smallJob(), "when: {body: saloon, frame: unibody}\nmeasure: member_count\nat_least: 1")
                  .answer,
              Answer::meets);
    const Finding f = finding(smallJob(), "when: {frame: ladder}\nmeasure: member_count\nat_least: 1");
    EXPECT_EQ(f.answer, Answer::does_not_apply);
    EXPECT_EQ(f.missing, "it applies only with frame ladder");
}

TEST(OnlyIf, AMeasurementDecidesWhetherARuleApplies) {
    const std::string rule =
        "only_if:\n  - {measure: length, of: {role: main_hoop}, more_than: LIMIT}\nmeasure: "
        "member_count\nof: {role: roof_bar}\nat_least: 1";
    const auto with = [&](const std::string& limit) {
        return finding(smallJob(), std::string(rule).replace(rule.find("LIMIT"), 5, limit)).answer;
    };
    EXPECT_EQ(with("2000"), Answer::fails);
    EXPECT_EQ(with("4000"), Answer::does_not_apply);
    Job job = smallJob();
    memberOf(job, "main_hoop").stock = "gone";
    EXPECT_EQ(finding(job,
                      "only_if:\n  - {measure: od, of: {role: main_hoop}, more_than: 10}\nmeasure: "
                      "member_count\nat_least: 1")
                  .answer,
              Answer::cannot_tell);
}

TEST(HowMany, AnyNoneAndSoMany) {
    const std::string rule = "measure: od\nat_most: 40\nhow_many: ";  // two braces of eight bars
    EXPECT_EQ(finding(smallJob(), rule + "any").answer, Answer::meets);
    EXPECT_EQ(finding(smallJob(), rule + "none").answer, Answer::fails);
    EXPECT_EQ(finding(smallJob(), rule + "at_least 2").answer, Answer::meets);
    EXPECT_EQ(finding(smallJob(), rule + "at_least 3").answer, Answer::fails);
    EXPECT_EQ(finding(smallJob(), rule + "at_most 2").answer, Answer::meets);
    EXPECT_EQ(finding(smallJob(), rule + "at_most 1").answer, Answer::fails);
    EXPECT_EQ(finding(smallJob(), rule + "exactly 2").answer, Answer::meets);
    EXPECT_EQ(finding(smallJob(), "measure: od\nat_most: 30\nhow_many: any").answer, Answer::fails);
    EXPECT_EQ(finding(smallJob(), "measure: od\nat_most: 30\nhow_many: none").answer, Answer::meets);
}

TEST(HowMany, WhatCannotBeToldMayDecide) {
    Job job = smallJob();
    memberOf(job, "diagonal").stock = "gone";
    EXPECT_EQ(finding(job, "measure: od\nat_most: 40\nhow_many: at_least 3").answer, Answer::cannot_tell);
    EXPECT_EQ(finding(job, "measure: od\nat_most: 40\nhow_many: at_least 2").answer, Answer::meets);
    EXPECT_EQ(finding(job, "measure: od\nat_most: 40\nhow_many: at_least 4").answer, Answer::fails);
    EXPECT_EQ(finding(job, "measure: od\nat_most: 40\nhow_many: at_most 2").answer, Answer::cannot_tell);
}

TEST(HowMany, OfNothingIsNeverASilentPass) {
    const std::string rule = "measure: od\nof: {role: roof_bar}\nat_least: 30";
    EXPECT_EQ(finding(smallJob(), rule).answer, Answer::does_not_apply);
    EXPECT_EQ(finding(smallJob(), rule + "\nhow_many: none").answer, Answer::does_not_apply);
    EXPECT_EQ(finding(smallJob(), rule + "\nhow_many: any").answer, Answer::fails);
    EXPECT_EQ(finding(smallJob(), rule + "\nif_none: fails").answer, Answer::fails);
    EXPECT_EQ(finding(smallJob(), rule + "\nif_none: fails").found,
              "there is no such member of role roof_bar");
    EXPECT_EQ(finding(smallJob(), rule + "\nhow_many: any\nif_none: does_not_apply").answer,
              Answer::does_not_apply);
}

TEST(PerSide, EachSideIsJudgedForItself) {
    Job job = smallJob();
    job.cage.members.push_back(straight("left_bar", "door_bar", {100, 700, 300}, {900, 700, 300}));
    const auto found =
        findings(job, "measure: member_count\nof: {role: door_bar}\nper_side: yes\nat_least: 1");
    ASSERT_EQ(found.size(), 2u);
    EXPECT_EQ(found[0].subject, "left");
    EXPECT_EQ(found[0].answer, Answer::meets);
    EXPECT_EQ(found[1].subject_name, "Right side");
    EXPECT_EQ(found[1].answer, Answer::fails);
    const auto any =
        findings(job, "measure: od\nof: {role: door_bar}\nper_side: yes\nhow_many: any\nat_least: 40");
    EXPECT_EQ(any[0].answer, Answer::meets);
    EXPECT_EQ(any[1].answer, Answer::fails);
}

TEST(Either, OneWholeAlternativeMustMeet) {
    const auto with = [](const std::string& first, const std::string& second) {
        return finding(smallJob(),
                       "either:\n  - name: one\n    all:\n" + first + "  - name: other\n    all:\n" + second);
    };
    const std::string hoop = "      - {measure: member_count, of: {role: main_hoop}, exactly: 1}\n";
    const std::string roof = "      - {measure: member_count, of: {role: roof_bar}, at_least: 1}\n";
    const std::string thick = "      - {measure: od, of: {role: roof_bar}, at_least: 1}\n";
    EXPECT_EQ(with(roof, hoop).answer, Answer::meets);
    EXPECT_EQ(with(roof, hoop).limit_text, "other: exactly 1");
    EXPECT_EQ(with(hoop + roof, roof).answer, Answer::fails);
    EXPECT_EQ(with(hoop + roof, roof).found, "none of: one, or other");
    // What is not there is no part of a layout that is.
    EXPECT_EQ(with(hoop + thick, roof).answer, Answer::fails);
    const std::string gone = "      - {measure: least_wall, of: {role: rear_brace}, at_least: 1}\n";
    EXPECT_EQ(with(gone, roof).answer, Answer::cannot_tell);
    EXPECT_EQ(with(gone, hoop).answer, Answer::meets);
}

TEST(Questions, AreForAPerson) {
    Job job = smallJob();
    const Finding f = finding(job, "ask: Is it so?");
    EXPECT_EQ(f.answer, Answer::ask_person);
    EXPECT_EQ(f.missing, "Is it so?");
    EXPECT_EQ(findings(job, "ask: Is it so?\neach: plate\nof: {under: {role: main_hoop}}").size(), 2u);
    EXPECT_EQ(finding(job, "ask: Is it so?\neach: member\nof: {role: roof_bar}").answer,
              Answer::does_not_apply);
}

TEST(Questions, AnAnswerSaysWhoAndWhen) {
    Job job = smallJob();
    job.cage.answers = {{"test", "r", "", true, "A. Fitter", "2026-03-02", "seen bare"}};
    Finding f = finding(job, "ask: Is it so?");
    EXPECT_EQ(f.answer, Answer::meets);
    EXPECT_EQ(f.found, "good, said A. Fitter on 2026-03-02: seen bare");
    job.cage.answers[0].good = false;
    f = finding(job, "ask: Is it so?\nway_out: Weld it.");
    EXPECT_EQ(f.answer, Answer::fails);
    EXPECT_EQ(f.way_out, "Weld it.");
    job.cage.answers[0].table = "other";
    EXPECT_EQ(finding(job, "ask: Is it so?").answer, Answer::ask_person);
    job.cage.answers = {{"test", "r", "tall", true, "A. Fitter", "2026-03-02", ""}};
    EXPECT_EQ(finding(job, "ask: Is it so?\neach: driver").answer, Answer::meets);
    EXPECT_EQ(finding(job, "measure: member_count\nat_least: 99").answer,
              Answer::fails);  // a measurement is not for answering
}

TEST(Findings, CarryWhatThePersonNeeds) {
    Job job = smallJob();
    const Finding f =
        findings(job,
                 "clause: '4.2'\nknown: memory\nseverity: recommended\nmeasure: angle_to_vertical\n"
                 "of: {role: rear_brace}\nwith: {view: side}\nat_least: 50 deg\nway_out: Land its foot "
                 "farther back.")
            .front();
    EXPECT_EQ(f.table, "test");
    EXPECT_EQ(f.rule, "r");
    EXPECT_EQ(f.clause, "4.2");
    EXPECT_EQ(f.edition, "1");
    EXPECT_EQ(f.subject, "rear_brace.left");
    EXPECT_FALSE(f.confirmed);
    EXPECT_EQ(f.severity, Severity::recommended);
    EXPECT_EQ(f.dimension, Dimension::angle);
    EXPECT_EQ(f.unit.word, "deg");
    EXPECT_EQ(f.limit_text, "at least 50 deg");
    EXPECT_EQ(f.way_out, "1.9 deg more is needed. Land its foot farther back.");  // 48.18 degrees
    EXPECT_EQ(f.evidence.members, std::vector<std::string>{"rear_brace.left"});
    EXPECT_EQ(f.evidence.shapes.size(), 1u);
}

TEST(Findings, DoingWhatTheWayOutSaysIsEnough) {
    Job job = smallJob();
    const Finding f = finding(job, "measure: length\nof: {role: belt_bar}\nat_least: 1234.56");
    EXPECT_EQ(f.way_out, "34.6 mm more is needed.");
    EXPECT_EQ(finding(job, "measure: length\nof: {role: belt_bar}\nmore_than: 1200").way_out,
              "It must be more than the limit itself.");
    EXPECT_EQ(finding(job, "measure: length\nof: {role: belt_bar}\nless_than: 1200").way_out,
              "It must be less than the limit itself.");
    EXPECT_EQ(finding(job, "measure: length\nof: {role: belt_bar}\nat_least: 50 in").way_out,
              "2.756 in more is needed.");
}

TEST(Findings, ToleranceIsPartOfTheLimit) {
    const Job job = smallJob();
    const std::string rule = "measure: length\nof: {role: belt_bar}\nat_least: 1203\ntolerance: ";
    EXPECT_EQ(finding(job, rule + "3").answer, Answer::meets);
    EXPECT_EQ(finding(job, rule + "2.9").answer, Answer::fails);
    EXPECT_EQ(finding(job, rule + "3").limit_text, "at least 1203 mm, give or take 3 mm");
}

TEST(Findings, NumbersCanBeOneOfSeveral) {
    EXPECT_EQ(finding(smallJob(), "measure: od\nof: {role: main_hoop}\none_of: [38, 45]").answer,
              Answer::meets);
    const Finding f = finding(smallJob(), "measure: od\nof: {role: main_hoop}\none_of: [38, 44]");
    EXPECT_EQ(f.answer, Answer::fails);
    EXPECT_NEAR(*f.margin, -1, 1e-9);
}

TEST(Report, WorstComesFirst) {
    const std::string rules =
        ruleText("measure: length\nof: {role: belt_bar}\nat_least: 1100", "spare") +
        ruleText("measure: length\nof: {role: belt_bar}\nat_least: 1300", "short") +
        ruleText("measure: length\nof: {role: belt_bar}\nat_least: 2400", "very_short") +
        ruleText("ask: Is it?", "question") +
        ruleText("measure: least_wall\nof: {role: rear_brace, side: left}\nat_least: 1", "unknown") +
        ruleText("measure: od\nof: {role: roof_bar}\nat_least: 1", "not_there") +
        ruleText("severity: recommended\nmeasure: length\nof: {role: belt_bar}\nat_least: 9000", "advice");
    const CheckReport report = checkWith(smallJob(), tableText(rules));
    std::vector<std::string> order;
    for (int i : worstFirst(report)) order.push_back(report.findings[static_cast<std::size_t>(i)].rule);
    EXPECT_EQ(order, (std::vector<std::string>{"very_short", "short", "advice", "unknown", "question",
                                               "spare", "not_there"}));
    EXPECT_EQ(report.count(Answer::fails), 3);
    EXPECT_FALSE(report.allMeet());
}

TEST(Report, AdviceAndQuestionsDoNotStopACage) {
    const auto all = [](const std::string& says) {
        return checkWith(smallJob(), tableText(ruleText(says))).allMeet();
    };
    EXPECT_TRUE(all("severity: recommended\nmeasure: length\nof: {role: belt_bar}\nat_least: 9000"));
    EXPECT_TRUE(all("ask: Is it?"));
    EXPECT_TRUE(all("measure: od\nof: {role: roof_bar}\nat_least: 1"));
    EXPECT_FALSE(all("measure: least_wall\nof: {role: rear_brace}\nat_least: 1"));
    EXPECT_FALSE(all("measure: od\nat_least: 100"));
}

TEST(Report, SaysWhichTablesWereUsed) {
    const CheckReport report = checkWith(smallJob(), tableText(ruleText("ask: Is it?")));
    ASSERT_EQ(report.tables.size(), 1u);
    EXPECT_EQ(report.tables[0].advice, "None.");
    EXPECT_EQ(report.tables[0].rules, 1);
}

TEST(Report, AnEmptyJobIsJudgedToo) {
    const Job nothing;
    for (const Quantity& one : allQuantities()) {
        const QuantityInfo& quantity = one.info;
        if (quantity.subject != "cage" || one.needs != 0) continue;
        const Finding f =
            finding(nothing, "measure: " + quantity.name + "\nat_least: 1" +
                                 (quantity.dimension == Dimension::mass ? " kg" : "") +
                                 (quantity.name == "pair_count" ? "\nof: {first: {}, second: {}}" : ""));
        EXPECT_EQ(f.answer, Answer::fails) << quantity.name;
    }
    EXPECT_EQ(finding(nothing, "measure: clearance\nwith: {part: helmet}\nat_least: 50").answer,
              Answer::cannot_tell);
    EXPECT_EQ(finding(nothing, "measure: od\nat_least: 50").answer, Answer::does_not_apply);
}

TEST(Answers, HaveWordsAndKeys) {
    EXPECT_EQ(answerWord(Answer::cannot_tell), "can't tell");
    EXPECT_EQ(answerWord(Answer::ask_person), "ask a person");
    EXPECT_EQ(answerKey(Answer::does_not_apply), "does_not_apply");
    EXPECT_EQ(answerKey(Answer::fails), "fails");
}

}  // namespace
}  // namespace hoopwright::test
