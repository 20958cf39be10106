// The second look at a table: each kind of remark where it is due, and none where it is not.
#include "rules/review.h"

#include <gmock/gmock.h>

#include <filesystem>

#include "rules/accepted.h"
#include "tests/rules/test_cage.h"

namespace hoopwright::test {
namespace {

using Kind = TableRemark::Kind;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

std::vector<TableRemark> remarksOn(const std::string& text) {
    const TableReview review = reviewTableText(text, "t.yaml");
    EXPECT_TRUE(review.table) << problemsOf(text);
    return review.remarks;
}

/// "kind line:column rule" of each.
std::vector<std::string> inShort(const std::vector<TableRemark>& remarks) {
    std::vector<std::string> out;
    for (const TableRemark& one : remarks)
        out.push_back(std::string(remarkKey(one.kind)) + " " + std::to_string(one.at.line) + ":" +
                      std::to_string(one.at.column) + " " + one.rule);
    return out;
}

std::vector<std::string> shortOf(const std::string& rules, const std::string& sections = "") {
    return inShort(remarksOn(tableText(rules, sections)));
}

std::vector<std::string> ofOne(const std::string& says, const std::string& sections = "") {
    return shortOf(ruleText(says), sections);
}

std::vector<std::string> ofTwo(const std::string& first, const std::string& second,
                               const std::string& sections = "") {
    return shortOf(ruleText(first, "a") + ruleText(second, "b"), sections);
}

TEST(Review, ACleanTableHasNoRemark) {
    EXPECT_THAT(ofOne("measure: od\nof: {role: main_hoop}\nat_least: 38"), IsEmpty());
    EXPECT_THAT(ofTwo("measure: od\nat_least: 38", "measure: od\nat_most: 50"), IsEmpty());
}

TEST(Review, ATableWithProblemsHasNoneAndNoTable) {
    const TableReview review = reviewTableText(tableText(ruleText("measure: odd\nat_least: 3")), "t.yaml");
    EXPECT_FALSE(review.table);
    EXPECT_EQ(review.problems.size(), 1u);
    EXPECT_THAT(review.remarks, IsEmpty());
}

TEST(Review, EveryShippedTableIsClean) {
    int tables = 0;
    for (const auto& entry : std::filesystem::directory_iterator(HOOPWRIGHT_SOURCE_DIR "/data/rules")) {
        if (entry.path().extension() != ".yaml") continue;
        const TableReview review = reviewTableFile(entry.path());
        ASSERT_TRUE(review.table) << entry.path();
        for (const TableRemark& one : review.remarks)
            ADD_FAILURE() << Problem{one.at, one.what, one.remedy}.text();
        ++tables;
    }
    EXPECT_GE(tables, 3);
}

TEST(Review, WhatNobodyUsesIsNamedWhereItStands) {
    const std::string sections =
        "facts:\n  roof: {kind: word, words: [open, closed], meaning: M}\n"
        "roles:\n  nose_bar: Nose bar\n"
        "materials:\n  - {family: mild_steel, yield: 300 MPa}\n"
        "reference_tubes:\n  plain: {od: 25, wall: 2, modulus: 200000 MPa, yield: 300 MPa}\n"
        "groups:\n  hoops: {role: main_hoop}\n"
        "places:\n  top: {top_of: {role: main_hoop}}\n"
        "tubes:\n  thick: {any_of: [{od: 40}]}\n";
    EXPECT_THAT(ofOne("measure: od\nat_least: 30", sections),
                ElementsAre("unused 11:3 ", "unused 13:3 ", "unused 15:5 ", "unused 17:3 ", "unused 19:3 ",
                            "unused 21:3 ", "unused 23:3 "));
    const auto said = remarksOn(tableText(ruleText("measure: od\nat_least: 30"), sections));
    EXPECT_EQ(said.front().what, "no rule comes to the fact 'roof'");
    EXPECT_EQ(said.back().what, "no rule comes to the tube table 'thick'");
}

TEST(Review, WhatIsUsedByWayOfAnotherNameIsUsed) {
    const std::string sections =
        "facts:\n  race_mass: {kind: mass, meaning: M, stated_as: {basis: wet}}\n"
        "  basis: {kind: word, words: [wet, dry], meaning: M}\n"
        "roles:\n  nose_bar: Nose bar\n"
        "materials:\n  - {family: mild_steel, yield: 300 MPa}\n"
        "reference_tubes:\n  plain: {od: 25, wall: 2, modulus: 200000 MPa, yield: 300 MPa}\n"
        "groups:\n  hoops: {role: nose_bar}\n"
        "places:\n  top: {top_of: {group: hoops}}\n"
        "tubes:\n  thick: {by: race_mass, rows: [{up_to: 900 kg, any_of: [{od: 40}]}, {over: 900 kg, "
        "any_of: [{strength_over: {with: {tube: plain}, at_least: 1}}]}]}\n";
    EXPECT_THAT(
        ofTwo("measure: tube\nfits: thick",
              "measure: end_below_place\nof: {role: rear_brace}\nwith: {place: top}\nat_most: 100", sections),
        IsEmpty());
    EXPECT_THAT(ofOne("measure: tube\nfits: thick", sections),
                ElementsAre("unused 14:3 ", "unused 20:3 ", "unused 22:3 "))
        << "a group that only an unused place uses is not used either, nor is its role";
}

TEST(Review, AWordInASentenceIsNoUse) {
    EXPECT_THAT(ofOne("way_out: Look at the hoops\nmeasure: od\nat_least: 30",
                      "groups:\n  hoops: {role: main_hoop}\n"),
                ElementsAre("unused 11:3 "));
}

TEST(Review, TwoLimitsThatCannotBothHoldContradict) {
    const std::string low = "measure: angle_to_vertical\nof: {role: rear_brace}\nwith: {view: side}\n";
    EXPECT_THAT(ofTwo(low + "at_least: 40", low + "at_most: 30"), ElementsAre("contradiction 25:14 b"));
    EXPECT_THAT(ofTwo(low + "at_least: 30", low + "at_most: 30"), IsEmpty()) << "30 serves both";
    EXPECT_THAT(ofTwo(low + "at_least: 30", low + "less_than: 30"), ElementsAre("contradiction 25:16 b"));
    EXPECT_THAT(ofTwo(low + "more_than: 30", low + "exactly: 30"), ElementsAre("contradiction 25:14 b"));
    EXPECT_THAT(ofTwo(low + "between: [10, 20]", low + "between: [20, 30]\nopen: low"),
                ElementsAre("contradiction 25:14 b"));
    const auto said =
        remarksOn(tableText(ruleText(low + "at_least: 40", "a") + ruleText(low + "at_most: 30", "b")));
    ASSERT_EQ(said.size(), 1u);
    EXPECT_EQ(said[0].other_rule, "a");
    EXPECT_EQ(said[0].what,
              "the rule 'a' (line 12) wants at least 40 deg, this one at most 30 deg; what both are about "
              "cannot be both");
}

TEST(Review, AToleratedLimitMayJustReach) {
    EXPECT_THAT(ofTwo("measure: od\nat_least: 40\ntolerance: 1", "measure: od\nat_most: 39"), IsEmpty());
    EXPECT_THAT(ofTwo("measure: od\nat_least: 40\ntolerance: 0.9", "measure: od\nat_most: 39"),
                ElementsAre("contradiction 22:14 b"));
}

TEST(Review, OneSizeInTwoUnitsIsOneSize) {
    EXPECT_THAT(ofTwo("measure: od\nat_least: 2 in", "measure: od\nat_most: 50.8"), IsEmpty());
    EXPECT_THAT(ofTwo("measure: od\nat_least: 2 in", "measure: od\nat_most: 50.7"),
                ElementsAre("contradiction 21:14 b"));
}

TEST(Review, CountsWordsAndYesOrNoContradictToo) {
    const std::string count = "measure: member_count\nof: {role: rear_brace}\n";
    EXPECT_THAT(ofTwo(count + "exactly: 2", count + "at_least: 3"), ElementsAre("contradiction 23:15 b"));
    EXPECT_THAT(ofTwo(count + "more_than: 2", count + "less_than: 3"), ElementsAre("contradiction 23:16 b"))
        << "no whole number lies between";
    EXPECT_THAT(ofTwo(count + "per_side: yes\nexactly: 1", count + "exactly: 2"), IsEmpty());
    EXPECT_THAT(
        ofTwo("measure: member_count\nof: {role: [rear_brace, roof_bar]}\nexactly: 3", count + "exactly: 2"),
        IsEmpty())
        << "not the same things";
    EXPECT_THAT(ofTwo("measure: form\nis: welded", "measure: form\none_of: [seamless, drawn_over_mandrel]"),
                ElementsAre("contradiction 21:13 b"));
    EXPECT_THAT(
        ofTwo("measure: form\nis_not: [welded, seamless]", "measure: form\nis_not: drawn_over_mandrel"),
        ElementsAre("contradiction 21:13 b"))
        << "there is no fourth";
    EXPECT_THAT(ofTwo("measure: family\nis_not: mild_steel", "measure: family\nis: chrome_moly"), IsEmpty());
    EXPECT_THAT(ofTwo("measure: tied_to_rail\nis: yes", "measure: tied_to_rail\nis: no"),
                ElementsAre("contradiction 21:9 b"));
}

TEST(Review, SomeOfTheSameBarsAreEnough) {
    const std::string groups = "groups:\n  hoops: {role: [main_hoop, front_hoop]}\n";
    EXPECT_THAT(ofTwo("measure: od\nof: {group: hoops}\nat_least: 50",
                      "measure: od\nof: {role: main_hoop}\nat_most: 40", groups),
                ElementsAre("contradiction 25:14 b"));
    EXPECT_THAT(
        ofTwo("measure: od\nat_least: 50", "measure: od\nof: {role: main_hoop, bent: yes}\nat_most: 40"),
        ElementsAre("contradiction 22:14 b"));
    EXPECT_THAT(ofTwo("measure: od\nof: {group: hoops}\nat_least: 50",
                      "measure: od\nof: {role: roof_bar}\nat_most: 40", groups),
                IsEmpty());
    EXPECT_THAT(ofTwo("measure: od\nof: {role: main_hoop, bent: no}\nat_least: 50",
                      "measure: od\nof: {role: main_hoop, bent: yes}\nat_most: 40"),
                IsEmpty());
}

TEST(Review, AskingOneBarAndAnotherIsNoContradiction) {
    EXPECT_THAT(ofTwo("measure: od\nhow_many: any\nat_least: 50", "measure: od\nhow_many: any\nat_most: 40"),
                IsEmpty());
    EXPECT_THAT(ofTwo("measure: od\nhow_many: any\nat_least: 50", "measure: od\nat_most: 40"),
                ElementsAre("contradiction 22:14 b"));
}

TEST(Review, AnotherWayOfMeasuringIsAnotherQuantity) {
    EXPECT_THAT(ofTwo("measure: angle_to_vertical\nwith: {view: side}\nat_least: 40",
                      "measure: angle_to_vertical\nwith: {view: front}\nat_most: 30"),
                IsEmpty());
    EXPECT_THAT(ofTwo("measure: angle_to_vertical\nwith: {view: side, part: upper}\nat_least: 40",
                      "measure: angle_to_vertical\nwith: {part: upper, view: side}\nat_most: 30"),
                ElementsAre("contradiction 23:14 b"))
        << "the order of keys says nothing";
}

TEST(Review, RulesThatNeverApplyTogetherDoNotContradict) {
    const std::string facts =
        "facts:\n  roof: {kind: word, words: [open, closed], meaning: M}\n  m: {kind: mass, meaning: M}\n"
        "  papers: {kind: date, meaning: M}\n";
    const auto both = [&](const std::string& one, const std::string& other) {
        return ofTwo("when: " + one + "\nmeasure: od\nat_least: 50",
                     "when: " + other + "\nmeasure: od\nat_most: 40", facts);
    };
    const auto clash = [](const std::vector<std::string>& said) {
        return std::count_if(said.begin(), said.end(),
                             [](const std::string& one) { return one.starts_with("contradiction"); });
    };
    EXPECT_EQ(clash(both("{roof: open}", "{roof: closed}")), 0);
    EXPECT_EQ(clash(both("{roof: open}", "{roof: {not: open}}")), 0);
    EXPECT_EQ(clash(both("{roof: {not: closed}}", "{roof: {not: open}}")), 0);
    EXPECT_EQ(clash(both("{roof: open}", "{roof: [open, closed]}")), 1);
    EXPECT_EQ(clash(both("{roof: open}", "{m: {from: 900 kg}}")), 1);
    EXPECT_EQ(clash(both("{m: {up_to: 900 kg}}", "{m: {over: 900 kg}}")), 0);
    EXPECT_EQ(clash(both("{m: {up_to: 900 kg}}", "{m: {from: 900 kg}}")), 1);
    EXPECT_EQ(clash(both("{papers: {below: 1990-01-01}}", "{papers: {from: 1990-01-01}}")), 0);
    EXPECT_EQ(clash(both("{papers: {up_to: 1990-01-01}}", "{papers: {from: 1990-01-01}}")), 1);
    const std::string wide =
        "only_if: [{measure: length, of: {role: main_hoop}, how_many: any, more_than: 900}]\n";
    const std::string slim =
        "only_if: [{measure: length, of: {role: main_hoop}, how_many: any, at_most: 900}]\n";
    EXPECT_THAT(ofTwo(wide + "measure: od\nat_least: 50", slim + "measure: od\nat_most: 40"), IsEmpty());
    EXPECT_EQ(clash(ofTwo(wide + "measure: od\nat_least: 50", wide + "measure: od\nat_most: 40")), 1);
}

TEST(Review, WhatNoCageCouldMeet) {
    EXPECT_THAT(ofOne("measure: angle_to_vertical\nat_least: 95 deg"), ElementsAre("impossible 16:15 r"));
    EXPECT_THAT(ofOne("measure: angle_to_vertical\nat_least: 90 deg"), IsEmpty());
    EXPECT_THAT(ofOne("measure: angle_to_vertical\nmore_than: 90 deg"), ElementsAre("impossible 16:16 r"));
    EXPECT_THAT(ofOne("measure: joint_angle\nbetween: [100, 120]"), ElementsAre("impossible 16:14 r"));
    EXPECT_THAT(ofOne("measure: wall\nat_most: -1"), ElementsAre("impossible 16:14 r"));
    EXPECT_THAT(ofOne("measure: member_count\nof: {role: roof_bar}\nexactly: 1.5"),
                ElementsAre("impossible 17:14 r"));
    EXPECT_THAT(ofOne("measure: member_count\nof: {role: roof_bar}\none_of: [0.5, 1]"), IsEmpty());
    EXPECT_THAT(ofOne("measure: feet\nat_least: 3"), ElementsAre("impossible 16:15 r"))
        << "a bar has two ends";
    EXPECT_THAT(ofOne("measure: feet\nexactly: 2"), IsEmpty());
    EXPECT_THAT(ofOne("measure: windshield_hidden\nat_least: 1.1"), ElementsAre("impossible 16:15 r"));
    EXPECT_THAT(ofOne("measure: form\nis: welted"), ElementsAre("impossible 16:9 r"));
    EXPECT_THAT(ofOne("measure: height\nof: {role: belt_bar}\nat_least: -50"), IsEmpty())
        << "below the datum";
    const auto said = remarksOn(tableText(ruleText("measure: angle_to_vertical\nat_least: 95 deg")));
    EXPECT_EQ(said[0].what,
              "no cage could meet it: 'angle_to_vertical' is 0 to 90 deg and never at least 95 deg");
}

TEST(Review, WhatEveryCageMeets) {
    EXPECT_THAT(ofOne("measure: angle_to_vertical\nat_most: 90"), ElementsAre("always 16:14 r"));
    EXPECT_THAT(ofOne("measure: member_count\nof: {role: roof_bar}\nat_least: 0"),
                ElementsAre("always 17:15 r"));
    EXPECT_THAT(ofOne("measure: angle_to_vertical\nhow_many: none\nat_least: 95"),
                ElementsAre("always 17:15 r"));
    EXPECT_THAT(ofOne("measure: angle_to_vertical\nless_than: 90"), IsEmpty());
}

TEST(Review, ASelectorThatCanMatchNothing) {
    const std::string groups = "groups:\n  hoops: {role: [main_hoop, front_hoop]}\n";
    const std::string none = "of: {role: roof_bar, group: hoops}\n";
    EXPECT_THAT(ofOne("measure: member_count\n" + none + "at_least: 1", groups),
                ElementsAre("impossible 18:9 r"));
    EXPECT_THAT(ofOne("measure: od\n" + none + "at_least: 40", groups), ElementsAre("never 18:9 r"));
    EXPECT_THAT(ofOne("measure: od\nhow_many: any\n" + none + "at_least: 40", groups),
                ElementsAre("impossible 19:9 r"));
    EXPECT_THAT(ofOne("measure: od\nof: {side: left, not: {}}\nat_least: 40"), ElementsAre("never 16:9 r"));
    EXPECT_THAT(ofOne("measure: od\nof: {role: main_hoop, not: {group: hoops}}\nat_least: 40", groups),
                ElementsAre("never 18:9 r"));
    EXPECT_THAT(
        ofOne("measure: od\nof: {role: main_hoop, not: {group: hoops, bent: yes}}\nat_least: 40", groups),
        IsEmpty());
    EXPECT_THAT(ofOne("measure: od\nof: {having: [{measure: feet, at_least: 3}]}\nat_least: 40"),
                ElementsAre("never 16:9 r"));
    EXPECT_THAT(ofOne("measure: od\nof: {having: [{measure: wall, at_least: 3}, {measure: wall, at_most: "
                      "2}]}\nat_least: 40"),
                ElementsAre("never 16:9 r"));
    EXPECT_THAT(
        ofOne("measure: joint_angle\nof: {branch: {role: roof_bar, group: hoops}}\nat_least: 30", groups),
        ElementsAre("never 18:9 r"));
    EXPECT_THAT(ofOne("ask: Is it?\neach: member\n" + none, groups), ElementsAre("never 19:9 r"));
}

TEST(Review, OneSideIsNotBoth) {
    EXPECT_THAT(ofOne("measure: member_count\nof: {role: door_bar, side: left}\nper_side: yes\nat_least: 1"),
                ElementsAre("impossible 16:9 r"));
    EXPECT_THAT(ofOne("measure: member_count\nof: {role: door_bar, side: left}\nat_least: 1"), IsEmpty());
}

TEST(Review, AConditionThatCannotHold) {
    EXPECT_THAT(
        ofOne("only_if: [{measure: angle_to_vertical, of: {role: rear_brace}, how_many: any, more_than: "
              "100}]\nmeasure: od\nat_least: 40"),
        ElementsAre("never 15:94 r"));
    EXPECT_THAT(ofOne("when: {roof: {not: [open, closed]}}\nmeasure: od\nat_least: 40",
                      "facts:\n  roof: {kind: word, words: [open, closed], meaning: M}\n"),
                ElementsAre("never 17:18 r"));
}

TEST(Review, AlternativesAreLookedAtOneByOne) {
    const std::string dead = "  - {name: x, all: [{measure: feet, at_least: 3}]}\n";
    const std::string fair = "  - {name: y, all: [{measure: feet, at_least: 1}]}\n";
    EXPECT_THAT(ofOne("either:\n" + dead + fair), ElementsAre("impossible 16:51 r"));
    EXPECT_THAT(ofOne("either:\n" + dead + dead),
                ElementsAre("impossible 16:7 r", "impossible 16:51 r", "impossible 17:51 r"));
}

TEST(Review, ATubeThatThereCannotBe) {
    EXPECT_THAT(ofOne("measure: tube\nfits: t", "tubes:\n  t: {any_of: [{form: [welted]}, {od: 40}]}\n"),
                ElementsAre("impossible 11:16 "));
}

TEST(QuantityRanges, NameQuantitiesThereAre) {
    for (const Quantity& quantity : allQuantities()) {
        const QuantityRange range = rangeOf(quantity);
        EXPECT_LT(range.low, range.high) << quantity.info.name;
        EXPECT_EQ(range.whole && range.low == 0, range.whole) << quantity.info.name;
        EXPECT_TRUE(range.whole || !quantity.counts) << quantity.info.name;
    }
    for (const char* name : {"angle_to_vertical", "angle_to_horizontal", "joint_angle", "included_angle"})
        EXPECT_NEAR(rangeOf(allQuantities()[std::size_t(quantityIndex(name))]).high, std::acos(0.0), 1e-15);
}

}  // namespace
}  // namespace hoopwright::test
