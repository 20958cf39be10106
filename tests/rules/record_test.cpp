// What is kept with a job: ticks, editions, answers; and one report against another.
#include <gmock/gmock.h>

#include "rules/editions.h"
#include "rules/report_changes.h"
#include "tests/rules/test_cage.h"

namespace hoopwright::test {
namespace {

using ::testing::HasSubstr;

const std::string kRemembered = "known: memory\nmeasure: wall\nof: {role: main_hoop}\nat_least: 2";

TEST(Tick, WithoutOneWhatMeetsIsNoPass) {
    Job job = smallJob();
    const CheckReport before = checkWith(job, tableText(ruleText(kRemembered)));
    EXPECT_EQ(before.findings[0].answer, Answer::meets);
    EXPECT_EQ(answerPhrase(before.findings[0]), "meets, not confirmed");
    EXPECT_EQ(before.unconfirmed(), 1);
    EXPECT_FALSE(before.allMeet());
    job.cage.ticks = {{"test", "r", "1", "A. Fitter", "2026-03-02"}};
    const CheckReport after = checkWith(job, tableText(ruleText(kRemembered)));
    EXPECT_TRUE(after.allMeet());
    EXPECT_EQ(answerPhrase(after.findings[0]), "meets");
    ASSERT_TRUE(after.findings[0].ticked);
    EXPECT_EQ(after.findings[0].ticked->who, "A. Fitter");
    EXPECT_EQ(after.findings[0].known, Known::memory);
}

TEST(Tick, IsForOneEditionOneTableAndOneRule) {
    for (const RuleTick& tick :
         {RuleTick{"test", "r", "2", "A", "2026-03-02"}, RuleTick{"other", "r", "1", "A", "2026-03-02"},
          RuleTick{"test", "s", "1", "A", "2026-03-02"}}) {
        Job job = smallJob();
        job.cage.ticks = {tick};
        EXPECT_FALSE(checkWith(job, tableText(ruleText(kRemembered))).allMeet());
    }
}

TEST(Tick, AdviceByMemoryStopsNoCageAndWhatFailsStillFails) {
    EXPECT_TRUE(
        checkWith(smallJob(), tableText(ruleText("severity: recommended\n" + kRemembered))).allMeet());
    const CheckReport fails =
        checkWith(smallJob(), tableText(ruleText("known: second_hand\nmeasure: wall\nof: {role: "
                                                 "main_hoop}\nat_least: 4")));
    EXPECT_EQ(answerPhrase(fails.findings[0]), "fails");
    EXPECT_EQ(fails.unconfirmed(), 0);
}

TEST(Answer, CarriesWhoWhenNoteAndPhoto) {
    Job job = smallJob();
    job.cage.answers = {{"test", "r", "", true, "A. Fitter", "2026-03-02", "seen", "photos/weld.jpg"}};
    const Finding f = finding(job, "ask: Is it?");
    ASSERT_TRUE(f.answered);
    EXPECT_EQ(f.answered->photo, "photos/weld.jpg");
    EXPECT_EQ(f.answered->when, "2026-03-02");
    EXPECT_EQ(f.answered->note, "seen");
    EXPECT_TRUE(f.answered->good);
}

const std::string kBraces =
    ruleText("clause: '4'\nmeasure: angle_to_vertical\nof: {group: braces}\nat_least: 30 deg");
const std::string kGroup = "groups:\n  braces: {role: rear_brace}";

std::vector<EditionNews> newsOf(const std::string& was, const std::string& is) {
    CageLayout cage;
    cage.frozen = {frozenFrom(*mustRead(was), "2026-03-02")};
    const RuleTableRef tables[] = {mustRead(is)};
    return editionNews(tables, cage);
}

TEST(Editions, SameTableIsNoNewsHoweverItIsTyped) {
    const std::string was = tableText(kBraces, kGroup);
    EXPECT_FALSE(newsOf(was, was)[0].isNews());
    std::string typed = was;
    typed.replace(typed.find("{group: braces}"), 15, "{ group:   braces }  # as before");
    EXPECT_FALSE(newsOf(was, typed)[0].isNews());
    const auto none = editionNews({}, {});
    EXPECT_TRUE(none.empty());
}

TEST(Editions, EveryLimitNameAndMeaningCounts) {
    const std::string was = tableText(kBraces, kGroup);
    const auto change = [&](const std::string& from, const std::string& to) {
        std::string is = was;
        is.replace(is.find(from), from.size(), to);
        return newsOf(was, is)[0];
    };
    for (const auto& [from, to] : std::vector<std::pair<std::string, std::string>>{
             {"at_least: 30 deg", "at_least: 31 deg"},
             {"at_least: 30 deg", "more_than: 30 deg"},
             {"{role: rear_brace}", "{role: [rear_brace, side_bar]}"},  // what the group means
             {"sentence: S.", "sentence: S, otherwise."}}) {
        const EditionNews news = change(from, to);
        ASSERT_EQ(news.changes.size(), 1u) << to;
        EXPECT_EQ(news.changes[0].kind, EditionChange::Kind::changed);
        EXPECT_THAT(news.changes[0].was_says, HasSubstr(from.substr(from.find(' ') + 1))) << from;
        EXPECT_NE(news.changes[0].says, news.changes[0].was_says);
    }
    const EditionNews newer = change("edition: '1'", "edition: '2'");
    EXPECT_TRUE(newer.isNews());
    EXPECT_TRUE(newer.changes.empty());
    EXPECT_EQ(newer.was_edition, "1");
}

TEST(Editions, AFigureUnderMaterialsChangesTheRulesThatReckonWithIt) {
    const auto table = [](const std::string& modulus, const std::string& yield) {
        return tableText(
            ruleText("measure: stiffness_over\nof: {role: main_hoop}\nwith: {tube: plain}\nat_least: 1",
                     "stiff") +
                ruleText("measure: tube\nfits: hoop", "fits") +
                ruleText("measure: od\nof: {having: {measure: yield, at_least: 300 MPa}}\nat_least: 30",
                         "having") +
                ruleText("measure: wall\nat_least: 2", "wall"),
            "materials:\n  - {family: [mild_steel, chrome_moly], modulus: " + modulus + ", yield: " + yield +
                "}\nreference_tubes:\n  plain: {od: 25.4, wall: 3.05, modulus: 205000 MPa, yield: 365 MPa}\n"
                "tubes:\n  hoop: {any_of: [{strength_over: {with: {tube: plain}, at_least: 1}}]}\n");
    };
    const auto changed = [&](const std::string& modulus, const std::string& yield) {
        std::vector<std::string> out;
        const auto news = newsOf(table("200000 MPa", "350 MPa"), table(modulus, yield));
        for (const EditionChange& change : news[0].changes) out.push_back(change.rule);
        return out;
    };
    using Rules = std::vector<std::string>;
    EXPECT_EQ(changed("200000 MPa", "350 MPa"), Rules{});
    EXPECT_EQ(changed("205000 MPa", "350 MPa"), Rules{"stiff"});
    EXPECT_EQ(changed("200000 MPa", "355 MPa"), (Rules{"fits", "having"}));
    const auto news = newsOf(table("200000 MPa", "350 MPa"), table("205000 MPa", "350 MPa"));
    EXPECT_THAT(news[0].changes.at(0).was_says, HasSubstr("modulus of mild_steel, chrome_moly: 200000 MPa"));
}

TEST(Editions, NewAndGoneRulesAndKeepingAnew) {
    const std::string one = ruleText("ask: Is it?", "one"), two = ruleText("ask: Is it?", "two"),
                      three = ruleText("ask: Is it?", "three");
    const EditionNews news = newsOf(tableText(one + two), tableText(three + one))[0];
    ASSERT_EQ(news.changes.size(), 2u);
    EXPECT_EQ(news.changes[0].kind, EditionChange::Kind::added);
    EXPECT_EQ(news.changes[0].rule, "three");
    EXPECT_EQ(news.changes[1].kind, EditionChange::Kind::gone);
    EXPECT_EQ(news.changes[1].rule, "two");
    CageLayout cage;
    cage.frozen = {frozenFrom(*mustRead(tableText(one + two)), "2026-03-02")};
    const RuleTableRef tables[] = {mustRead(tableText(three + one))};
    keepEditions(cage, tables, "2026-11-26");
    ASSERT_EQ(cage.frozen.size(), 1u);
    EXPECT_EQ(cage.frozen[0].when, "2026-11-26");
    EXPECT_FALSE(editionNews(tables, cage)[0].isNews());
    keepEditions(cage, tables, "2027-01-01");  // nothing to keep anew: agreed when it was
    EXPECT_EQ(cage.frozen[0].when, "2026-11-26");
}

TEST(ReportChanges, TellWhatAnswersOtherwise) {
    const std::string rules = ruleText("measure: height\nof: {role: belt_bar}\nat_least: 545", "low") +
                              ruleText("measure: wall\nat_least: 2.2", "wall") +
                              ruleText("ask: Is it?", "ask");
    Job job = smallJob();
    const ReportSummary before = summaryOf(checkWith(job, tableText(rules)));
    EXPECT_TRUE(changesSince(before, before).empty());
    for (MemberPoint& end : memberOf(job, "belt_bar").path) std::get<Landing>(end.place).value = 570;
    memberOf(job, "diagonal").stock = "moly";  // 2 mm
    job.cage.answers = {{"test", "ask", "", true, "A. Fitter", "2026-03-02", ""}};
    const auto changes = changesSince(before, summaryOf(checkWith(job, tableText(rules))));
    ASSERT_EQ(changes.size(), 3u);
    EXPECT_EQ(changes[0].rule, "low");
    EXPECT_EQ(changes[0].was, "fails");
    EXPECT_EQ(changes[0].is, "meets");
    EXPECT_EQ(changes[1].subject, "diagonal");
    EXPECT_EQ(changes[1].was, "meets");
    EXPECT_EQ(changes[1].is, "fails");
    EXPECT_EQ(changes[2].was, "ask a person");
    EXPECT_EQ(changes[2].is, "meets");
}

TEST(ReportChanges, FallingShortByMoreIsToldApart) {
    const std::string rules = ruleText("measure: height\nof: {role: belt_bar}\nat_least: 545", "low");
    Job job = smallJob();
    const ReportSummary before = summaryOf(checkWith(job, tableText(rules)));
    for (MemberPoint& end : memberOf(job, "belt_bar").path) std::get<Landing>(end.place).value = 550;
    const auto changes = changesSince(before, summaryOf(checkWith(job, tableText(rules))));
    ASSERT_EQ(changes.size(), 1u);
    EXPECT_EQ(changes[0].kind, FindingChange::Kind::by_how_much);
    EXPECT_NEAR(*changes[0].was_margin, -7.5, 1e-9);
    EXPECT_NEAR(*changes[0].margin, -17.5, 1e-9);
}

TEST(ReportChanges, RulesComeAndGoAndTicksCount) {
    Job job = smallJob();
    const ReportSummary before = summaryOf(checkWith(job, tableText(ruleText(kRemembered))));
    const auto changes =
        changesSince(before, summaryOf(checkWith(job, tableText(ruleText("ask: Is it?", "new")))));
    ASSERT_EQ(changes.size(), 2u);
    EXPECT_EQ(changes[0].kind, FindingChange::Kind::added);
    EXPECT_EQ(changes[1].kind, FindingChange::Kind::gone);
    job.cage.ticks = {{"test", "r", "1", "A. Fitter", "2026-03-02"}};
    const auto ticked = changesSince(before, summaryOf(checkWith(job, tableText(ruleText(kRemembered)))));
    ASSERT_EQ(ticked.size(), 1u);
    EXPECT_EQ(ticked[0].was, "meets, not confirmed");
    EXPECT_EQ(ticked[0].is, "meets");
}

}  // namespace
}  // namespace hoopwright::test
