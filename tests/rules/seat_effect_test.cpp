// What a seat move does to clearances and rules, before and after.
#include "rules/seat_effect.h"

#include <cmath>

#include "tests/rules/test_cage.h"

namespace hoopwright::test {
namespace {

Expected<SeatEffect> effectOf(const SeatMove& move, const std::string& driver = "tall") {
    const Job job = smallJob();
    const RuleTableRef tables[] = {mustRead(tableText(
        ruleText("measure: bar_above_helmet\nwith: {members: {role: main_hoop}}\nat_least: 100", "above") +
        ruleText("measure: belt_bar_below_shoulder\nbetween: [0, 100]", "belt") +
        ruleText("measure: member_count\nof: {role: main_hoop}\nexactly: 1", "hoop")))};
    return seatEffect(tables, job, resolve(job), driver, move);
}

TEST(SeatEffect, OfNothingChangesNoRule) {
    const auto effect = effectOf({});
    ASSERT_TRUE(effect);
    EXPECT_TRUE(effect->changes.empty());
    EXPECT_EQ(effect->before.clearances.parts.size(), effect->after.clearances.parts.size());
    EXPECT_EQ(effect->before.room.above.bare_mm, effect->after.room.above.bare_mm);
}

TEST(SeatEffect, OfALiftIsSeenInEveryRuleItTouches) {
    const auto effect = effectOf({0, 10, 0});
    ASSERT_TRUE(effect);
    ASSERT_EQ(effect->changes.size(), 2u);
    const RuleChange& first = effect->changes[0];  // the helmet loses 10 of 102.5
    EXPECT_TRUE(first.answer_changed);
    const Finding &before = effect->rules_before.findings[static_cast<std::size_t>(first.before)],
                  &after = effect->rules_after.findings[static_cast<std::size_t>(first.after)];
    EXPECT_EQ(before.rule, "above");
    EXPECT_EQ(before.answer, Answer::meets);
    EXPECT_EQ(after.answer, Answer::fails);
    EXPECT_NEAR(*after.value - *before.value, -10, 1e-9);
    const RuleChange& second = effect->changes[1];
    EXPECT_FALSE(second.answer_changed);
    EXPECT_NEAR(*effect->rules_after.findings[static_cast<std::size_t>(second.after)].value, 67.5, 1e-9);
    EXPECT_NEAR(effect->after.top_lines[0].helmet.gap_mm,
                effect->before.top_lines[0].helmet.gap_mm - 10 * 600 / std::hypot(200, 600), 1e-6);
}

TEST(SeatEffect, RefusesWhatCannotBe) {
    EXPECT_EQ(effectOf({}, "nobody").reason(), "there is no driver 'nobody'");
    EXPECT_NE(effectOf({0, 0, 3}).reason().find("the back would lean"), std::string::npos);
}

}  // namespace
}  // namespace hoopwright::test
