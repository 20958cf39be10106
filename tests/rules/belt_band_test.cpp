// Where the belt bar may be: rules that draw simple shapes, worked out by hand.
#include "rules/belt_band.h"

#include <cmath>

#include "tests/degrees.h"
#include "tests/rules/test_cage.h"

namespace hoopwright::test {
namespace {

/// The small cage's shoulders are at x 200, z 640; its belt bar of 45 has its middle at x 0, z 560.
Expected<BeltBand> bandOf(const std::string& rules, const Job& job = smallJob()) {
    const RuleTableRef tables[] = {mustRead(tableText(rules))};
    return beltBand(tables, job, resolve(job), "tall");
}

const BandColumn& columnAt(const BeltBand& band, double x) {
    for (const BandColumn& column : band.columns)
        if (std::abs(column.x_mm - x) < 1e-6) return column;
    throw std::logic_error("no such column");
}

TEST(BeltBand, OfAHeightRuleIsABandOfHeights) {
    const auto band = bandOf(ruleText("measure: belt_bar_below_shoulder\nbetween: [0, 100]", "height"));
    ASSERT_TRUE(band) << band.reason();
    EXPECT_NEAR(band->bar_at.x(), 0, 1e-9);
    EXPECT_NEAR(band->bar_at.y(), 560, 1e-9);
    EXPECT_NEAR(band->bar_radius_mm, 22.5, 1e-9);
    EXPECT_TRUE(band->allowed_now);  // its top is 57.5 below the shoulder
    ASSERT_EQ(band->rules.size(), 1u);
    EXPECT_EQ(band->rules[0].rule, "height");
    for (const BandColumn& column : band->columns) {
        if (column.x_mm > 130) continue;  // so near that a high bar would hold the shoulder itself
        ASSERT_EQ(column.heights.size(), 1u);
        EXPECT_NEAR(column.heights[0].low_mm, 640 - 100 - 22.5, 0.01);
        EXPECT_NEAR(column.heights[0].high_mm, 640 - 22.5, 0.01);
        EXPECT_EQ(column.heights[0].low_rule, 0);
        EXPECT_EQ(column.heights[0].high_rule, 0);
    }
    ASSERT_EQ(band->outlines.size(), 1u);
    EXPECT_EQ(band->outlines[0].size(), 2 * band->columns.size());
}

TEST(BeltBand, OfAnAngleRuleIsASectorOfTangents) {
    const auto band = bandOf(ruleText("measure: belt_angle\nbetween: [-10, 20]", "angle"));
    ASSERT_TRUE(band);
    for (const double x : {-300.0, -200.0, 0.0, 100.0}) {
        // The strap touches the bar on top: its middle lies r below the line at the limit, square to it.
        const BandColumn& column = columnAt(*band, x);
        ASSERT_EQ(column.heights.size(), 1u);
        const double back = 200 - x;
        const auto middle = [&](double fall_deg) {
            return 640 - back * std::tan(fall_deg * kDegree) - 22.5 / std::cos(fall_deg * kDegree);
        };
        EXPECT_NEAR(column.heights[0].low_mm, middle(20), 0.01);
        EXPECT_NEAR(column.heights[0].high_mm, middle(-10), 0.01);
    }
}

TEST(BeltBand, IsWhatAllRulesAllowAndNamesWhoBounds) {
    const auto band = bandOf(ruleText("measure: belt_angle\nbetween: [0, 30]", "angle") +
                             ruleText("measure: belt_bar_below_shoulder\nat_most: 60", "height"));
    ASSERT_TRUE(band);
    const BandColumn& near = columnAt(*band, 120);  // 80 behind: 30 degrees is the nearer limit
    EXPECT_EQ(band->rules[static_cast<std::size_t>(near.heights[0].low_rule)].rule, "angle");
    const BandColumn& far = columnAt(*band, -300);
    EXPECT_EQ(band->rules[static_cast<std::size_t>(far.heights[0].low_rule)].rule, "height");
    EXPECT_NEAR(far.heights[0].low_mm, 640 - 60 - 22.5, 0.01);
    EXPECT_EQ(band->rules[static_cast<std::size_t>(far.heights[0].high_rule)].rule, "angle");
}

TEST(BeltBand, EveryCornerOfItIsAllowedAndJustBeyondIsNot) {
    const std::string rules = ruleText("measure: belt_angle\nbetween: [-5, 25]", "angle") +
                              ruleText("measure: belt_run\nat_most: 350", "run");
    const auto band = bandOf(rules);
    ASSERT_TRUE(band);
    const RuleTableRef tables[] = {mustRead(tableText(rules))};
    Job job = smallJob();
    const auto allowed = [&](double x, double z) {
        CageGeometry cage = resolve(job);
        ResolvedMember& bar = cage.members[static_cast<std::size_t>(cage.member("belt_bar"))];
        bar.line = bar.line.moved({x - band->bar_at.x(), 0, z - band->bar_at.y()});
        return check(tables, job, cage).allMeet();
    };
    for (const BandColumn& column : band->columns)
        for (const BandStretch& stretch : column.heights) {
            EXPECT_TRUE(allowed(column.x_mm, stretch.low_mm));
            EXPECT_TRUE(allowed(column.x_mm, stretch.high_mm));
            EXPECT_FALSE(allowed(column.x_mm, stretch.low_mm - 2 * kBandExact_mm));
            EXPECT_FALSE(allowed(column.x_mm, stretch.high_mm + 2 * kBandExact_mm));
        }
    EXPECT_GT(band->columns.size(), 20u);
    EXPECT_LT(band->columns.size(), 45u);  // the run ends it behind
}

TEST(BeltBand, SaysWhoForbidsWhereItIs) {
    Job job = smallJob();
    for (MemberPoint& p : memberOf(job, "belt_bar").path) std::get<Landing>(p.place).value = 400;
    const auto band = bandOf(ruleText("measure: belt_bar_below_shoulder\nbetween: [0, 100]", "height"), job);
    ASSERT_TRUE(band);
    EXPECT_FALSE(band->allowed_now);
    ASSERT_EQ(band->failing_now.size(), 1u);
    EXPECT_EQ(band->failing_now[0].rule, "height");
    const auto nearest = nearestInBand(*band, band->bar_at);
    ASSERT_TRUE(nearest);
    EXPECT_NEAR(nearest->x(), 0, 1e-6);
    EXPECT_NEAR(nearest->y(), 640 - 100 - 22.5, 0.01);
    EXPECT_EQ(*nearestInBand(*band, Vec2(3, 570)), Vec2(3, 570)) << "what is inside stays";
}

TEST(BeltBand, LeavesOutAdviceAndWhatCannotBeTold) {
    const auto band =
        bandOf(ruleText("severity: recommended\nmeasure: belt_angle\nbetween: [5, 6]", "advice") +
               ruleText("measure: belt_behind_seat\nat_most: 250", "seat") +
               ruleText("measure: belt_bar_below_shoulder\nbetween: [0, 100]", "height"));
    ASSERT_TRUE(band);
    EXPECT_TRUE(band->allowed_now) << "no seat is measured, which has nothing to do with where the bar is";
    ASSERT_EQ(band->silent.size(), 1u);
    EXPECT_EQ(band->silent[0].rule, "seat");
    for (const BandRule& rule : band->rules) EXPECT_NE(rule.rule, "advice");
}

TEST(BeltBand, SaysWhatIsMissing) {
    const std::string height = ruleText("measure: belt_bar_below_shoulder\nbetween: [0, 100]");
    Job job = smallJob();
    job.drivers[0].belts.bar = "gone";
    EXPECT_EQ(bandOf(height, job).reason(), "the cage has no member 'gone' for this driver's straps");
    job.drivers[0].belts.bar.clear();
    EXPECT_EQ(bandOf(height, job).reason(), "no belt bar is named for this driver");
    job.drivers.clear();
    EXPECT_EQ(bandOf(height, job).reason(), "there is no such driver");
    EXPECT_EQ(bandOf(ruleText("measure: tube_mass\nat_most: 300 kg")).reason(),
              "none of the class tables in force says where the belt bar has to be");
}

TEST(BeltSnap, RaisesTheBarAlongTheHoopAsLittleAsItMust) {
    const RuleTableRef tables[] = {
        mustRead(tableText(ruleText("measure: belt_bar_below_shoulder\nbetween: [0, 100]")))};
    Job job = smallJob();
    for (MemberPoint& p : memberOf(job, "belt_bar").path) std::get<Landing>(p.place).value = 400;
    const auto snap = snapBeltBar(tables, job, "tall", 0.5);
    ASSERT_TRUE(snap) << snap.reason();
    EXPECT_NEAR(snap->by_mm, 117.5 + 0.5, 0.01);
    EXPECT_NEAR(snap->bar_at.y(), 518, 0.01);
    Job moved = job;
    moved.cage = snap->layout;
    EXPECT_TRUE(check(tables, moved, resolve(moved)).allMeet());
    EXPECT_EQ(snapBeltBar(tables, moved, "tall")->by_mm, 0);
}

TEST(BeltSnap, SaysWhenNoHeightWillDo) {
    const RuleTableRef tables[] = {mustRead(tableText(ruleText("measure: belt_run\nat_most: 50")))};
    EXPECT_EQ(
        snapBeltBar(tables, smallJob(), "tall").reason(),
        "no height of the belt bar within 500.0 mm meets every rule: move the seat, or the bars it lands on");
    Job job = smallJob();
    std::get<Landing>(memberOf(job, "belt_bar").path[0].place).by = Landing::By::distance;
    EXPECT_EQ(snapBeltBar(tables, job, "tall").reason(),
              "the ends of the belt bar are not given by height; give each as a height on what it lands on");
}

}  // namespace
}  // namespace hoopwright::test
