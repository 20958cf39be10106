// What rules say of the bends of each bar: as the check answers, but of every bar by itself.
#include "rules/bend_findings.h"

#include <algorithm>

#include "tests/rules/test_cage.h"

namespace hoopwright::test {
namespace {

std::vector<BarFinding> bendsOf(const Job& job, const std::string& rules) {
    const RuleTableRef tables[] = {mustRead(tableText(rules))};
    return bendFindings(tables, job, resolve(job));
}

TEST(BendFindings, AreOfEachBentBarAloneAndAgreeWithTheCheck) {
    const Job job = smallJob();
    const CageGeometry cage = resolve(job);
    const std::string rules = ruleText("measure: bend_radius_over_od\nat_least: 3.2", "radius") +
                              ruleText("measure: bend_count\nat_most: 9", "count") +
                              ruleText("measure: wall\nat_least: 2", "wall");
    const std::vector<BarFinding> found = bendsOf(job, rules);
    const CheckReport report = checkWith(job, tableText(rules));
    int bent = 0;
    for (std::size_t m = 0; m < cage.members.size(); ++m) {
        const bool has_bends = cage.members[m].line.bendCount() > 0;
        bent += has_bends ? 1 : 0;
        const auto of = std::count_if(found.begin(), found.end(), [&](const BarFinding& one) {
            return one.member == static_cast<int>(m);
        });
        EXPECT_EQ(of, has_bends ? 2 : 0) << cage.members[m].id << ": a radius and a count, no wall";
    }
    ASSERT_GE(bent, 1);
    for (const BarFinding& one : found) {
        EXPECT_EQ(one.finding.subject, cage.members[static_cast<std::size_t>(one.member)].id);
        EXPECT_EQ(one.finding.things, 1);
        if (one.finding.answer == Answer::meets) continue;
        // What fails has a finding of its own in the check, and it is the same.
        const auto same = std::find_if(report.findings.begin(), report.findings.end(), [&](const Finding& f) {
            return f.rule == one.finding.rule && f.subject == one.finding.subject;
        });
        ASSERT_NE(same, report.findings.end());
        EXPECT_EQ(same->answer, one.finding.answer);
        EXPECT_EQ(same->value, one.finding.value);
        EXPECT_EQ(same->limit, one.finding.limit);
    }
    EXPECT_TRUE(std::any_of(found.begin(), found.end(), [](const BarFinding& one) {
        return one.finding.rule == "radius" && one.finding.answer == Answer::fails;
    })) << "135 on 45 is 3, under 3.2";
}

TEST(BendFindings, WaitForAGaugeAndAskWhatIsAskedOfBends) {
    const std::vector<BarFinding> found =
        bendsOf(smallJob(), ruleText("measure: gauged_bent_wall\nat_least: 2 mm", "gauge") +
                                ruleText("measure: bend_roundness\nat_least: 0.9", "round") +
                                ruleText("ask: Is every bend made cold?", "cold") +
                                ruleText("ask: Are the feet clean?", "feet"));
    ASSERT_GE(found.size(), 3u);
    for (const BarFinding& one : found) {
        EXPECT_NE(one.finding.rule, "feet");
        EXPECT_EQ(one.finding.answer, one.finding.rule == "cold" ? Answer::ask_person : Answer::cannot_tell);
        EXPECT_NE(one.finding.missing, "");
    }
}

TEST(BendFindings, TakeInAWallJudgedAsTheBendLeavesIt) {
    const std::vector<BarFinding> found =
        bendsOf(smallJob(), ruleText("measure: wall\nwith: {judged_wall: bent}\nat_least: 2", "bent"));
    ASSERT_GE(found.size(), 1u);
    // t R / (R + D/2) of the gauged 2.46, radius 135 (derived; makers of benders have it too).
    EXPECT_NEAR(*found.front().finding.value, 2.46 * 135 / (135 + 22.5), 1e-9);
}

}  // namespace
}  // namespace hoopwright::test
