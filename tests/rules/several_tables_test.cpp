#include "rules/several_tables.h"

#include <gmock/gmock.h>

#include "tests/rules/test_cage.h"

namespace hoopwright::test {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;

RuleTableRef table(const std::string& id, const std::string& rules, const std::string& sections = "") {
    std::string text = tableText(rules, sections);
    text.replace(text.find("id: test"), 8, "id: " + id);
    text.replace(text.find("title: A test"), 13, "title: Table " + id);
    return mustRead(text);
}

std::vector<SharedLimit> shared(const std::vector<RuleTableRef>& tables, const Job& job = smallJob()) {
    return sharedLimits(tables, job, resolve(job));
}

std::string plate(const std::string& limit) {
    return ruleText("clause: '7'\nmeasure: plate_thickness\n" + limit);
}

TEST(SeveralTables, BothEndsOfARangeServeBoth) {
    const auto all = shared({table("a", plate("at_least: 3 mm")), table("b", plate("at_most: 0.25 in"))});
    ASSERT_EQ(all.size(), 1u);
    EXPECT_EQ(all[0].kind, SharedLimit::Kind::both);
    EXPECT_EQ(all[0].subjects.size(), 6u);
    EXPECT_DOUBLE_EQ(*all[0].low, 3);
    EXPECT_DOUBLE_EQ(*all[0].high, 6.35);
    EXPECT_EQ(all[0].serves, "3 to 6.35 mm");
    EXPECT_THAT(all[0].says,
                HasSubstr("Table a 7 asks for at least 3 mm and Table b 7 asks for at most 0.25 in: "
                          "3 to 6.35 mm serves both."));
}

TEST(SeveralTables, TheStrictestIsNamed) {
    const auto all = shared({table("a", plate("at_least: 2 mm")), table("b", plate("at_least: 3 mm"))});
    ASSERT_EQ(all.size(), 1u);
    EXPECT_EQ(all[0].kind, SharedLimit::Kind::strictest);
    EXPECT_EQ(all[0].serves, "at least 3 mm");
    EXPECT_FALSE(all[0].low_open);
    const auto open = shared({table("a", plate("more_than: 3 mm")), table("b", plate("at_least: 3 mm"))});
    EXPECT_TRUE(open[0].low_open);
    EXPECT_EQ(open[0].serves, "more than 3 mm");
    EXPECT_EQ(shared({table("a", plate("at_least: 3 mm")), table("b", plate("at_least: 3 mm"))})[0].kind,
              SharedLimit::Kind::alike);
}

TEST(SeveralTables, WhatCannotBeMetAtOnceComesFirst) {
    const std::string od = ruleText("measure: wall\nof: {role: main_hoop}\nat_least: 2", "w");
    const auto all =
        shared({table("a", od + plate("at_least: 8 mm")), table("b", od + plate("at_most: 6.35 mm"))});
    ASSERT_GE(all.size(), 2u);
    EXPECT_EQ(all[0].kind, SharedLimit::Kind::never);
    EXPECT_THAT(all[0].says, HasSubstr("These cannot both be met."));
    // On the limit: open ends do not touch, closed ones do, and a tolerance reaches over.
    const auto kind = [](const std::string& a, const std::string& b) {
        return shared({table("a", plate(a)), table("b", plate(b))})[0].kind;
    };
    EXPECT_EQ(kind("at_least: 6 mm", "at_most: 6 mm"), SharedLimit::Kind::both);
    EXPECT_EQ(kind("more_than: 6 mm", "at_most: 6 mm"), SharedLimit::Kind::never);
    EXPECT_EQ(kind("at_least: 6.1 mm\ntolerance: 0.1 mm", "at_most: 6 mm"), SharedLimit::Kind::both);
    EXPECT_EQ(kind("one_of: [3, 5]", "at_most: 4 mm"), SharedLimit::Kind::both);
    EXPECT_EQ(kind("one_of: [5, 8]", "at_most: 4 mm"), SharedLimit::Kind::never);
}

TEST(SeveralTables, APlaceEachNamesItsOwnWayIsOnePlace) {
    const auto rule = [](const std::string& place, const std::string& limit) {
        return ruleText("measure: height\nof: {role: belt_bar}\nwith: {above: " + place + "}\n" + limit);
    };
    const auto top = "places:\n  roof: {top_of: {role: main_hoop}}";
    const auto same =
        "groups:\n  hoops: {role: [main_hoop, front_hoop]}\nplaces:\n  crown: {top_of: {group: hoops}}";
    const auto foot = "places:\n  crown: {foot_of: {role: main_hoop}}";
    EXPECT_EQ(shared({table("a", rule("roof", "at_least: -600"), top),
                      table("b", rule("crown", "at_most: 0"), same)})
                  .size(),
              1u);
    EXPECT_TRUE(shared({table("a", rule("roof", "at_least: -600"), top),
                        table("b", rule("crown", "at_most: 900"), foot)})
                    .empty());
}

TEST(SeveralTables, WordsAndYesAndNo) {
    const auto form = [](const std::string& limit) { return ruleText("measure: fixing\n" + limit); };
    const auto words = shared({table("a", form("one_of: [welded, bolted]")), table("b", form("is: welded"))});
    ASSERT_EQ(words.size(), 1u);
    EXPECT_THAT(words[0].words, ElementsAre("welded"));
    EXPECT_EQ(shared({table("a", form("is_not: welded")), table("b", form("is: welded"))})[0].kind,
              SharedLimit::Kind::never);
    const auto tied = [](const std::string& yes) { return ruleText("measure: tied_to_rail\nis: " + yes); };
    EXPECT_EQ(shared({table("a", tied("yes")), table("b", tied("no"))})[0].kind, SharedLimit::Kind::never);
}

TEST(SeveralTables, TubeOfTheListThatServesAll) {
    const auto fits = [](const std::string& least_od) {
        return ruleText("measure: od\nof: {role: main_hoop}\n" + least_od);
    };
    const auto all = shared({table("a", fits("at_least: 40")), table("b", fits("at_most: 46"))});
    const auto tube = std::ranges::find(all, "tube", &SharedLimit::quantity);
    ASSERT_NE(tube, all.end());
    EXPECT_THAT(tube->words, ElementsAre("45x2.5"));
    EXPECT_EQ(tube->kind, SharedLimit::Kind::both);
    EXPECT_THAT(tube->says, HasSubstr("45x2.5 serves both"));
    const auto none = shared({table("a", fits("at_least: 50")), table("b", fits("at_most: 46"))});
    EXPECT_EQ(none[0].kind, SharedLimit::Kind::never);
}

TEST(SeveralTables, CountsOfTheSameAndWhatDoesNotApply) {
    const auto count = [](const std::string& limit) {
        return ruleText("measure: member_count\nof: {role: hoop_diagonal}\n" + limit);
    };
    const auto all = shared({table("a", count("at_least: 2")), table("b", count("less_than: 2"))});
    ASSERT_EQ(all.size(), 1u);
    EXPECT_EQ(all[0].kind, SharedLimit::Kind::never);
    // Advice and what does not apply have no say.
    EXPECT_TRUE(
        shared({table("a", count("at_least: 2")), table("b", count("severity: recommended\nless_than: 2"))})
            .empty());
    EXPECT_TRUE(shared({table("a", count("at_least: 2")),
                        table("b", count("when: {roof: open}\nless_than: 2"),
                              "facts:\n  roof: {kind: word, words: [open, closed], meaning: M}")})
                    .empty());
    EXPECT_TRUE(shared({table("a", count("at_least: 2"))}).empty());
}

}  // namespace
}  // namespace hoopwright::test
