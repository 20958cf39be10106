// Tables typed wrongly: each a sentence with line and column, and what to do.
#include <gmock/gmock.h>

#include <filesystem>
#include <fstream>
#include <regex>

#include "tests/rules/test_cage.h"

namespace hoopwright::test {
namespace {

using testing::HasSubstr;

struct Wrong {
    std::string name, says, sections, sentence;
};
void PrintTo(const Wrong& wrong, std::ostream* out) {
    *out << wrong.name;
}
class BadRule : public testing::TestWithParam<Wrong> {};

TEST_P(BadRule, IsASentenceWithItsPlace) {
    const std::string problems = problemsOf(tableText(ruleText(GetParam().says), GetParam().sections));
    EXPECT_THAT(problems, HasSubstr(GetParam().sentence));
    EXPECT_TRUE(std::regex_search(problems, std::regex("t\\.yaml:[0-9]+:[0-9]+: "))) << problems;
}

const std::string kOk = "measure: od\nat_least: 30";

INSTANTIATE_TEST_SUITE_P(
    Tables, BadRule,
    testing::Values(
        Wrong{"two_comparisons", "measure: od\nat_least: 30\nat_most: 40", "",
              "these keys exclude each other: at_least, at_most"},
        Wrong{"takes_itself_in", kOk, "include: t.yaml\n", "unknown key 'include'"},
        Wrong{"limit_of_no_fact", "measure: od\nat_least: {fact: gap}", "", "there is no fact 'gap'"},
        Wrong{"limit_of_a_mass", "measure: od\nat_least: {fact: m}",
              "facts:\n  m: {kind: mass, meaning: M}\n", "the fact 'm' is not a length"},
        Wrong{"smaller_of_one", "measure: od\nat_least: {smaller_of: [3]}", "", "needs two limits or more"},
        Wrong{"count_of_a_fact", "measure: member_count\nat_least: {fact: n}",
              "facts:\n  n: {kind: count, meaning: N}\n", "a count is held against a plain number"},
        Wrong{"unknown_evidence", "ask: Is it?\nevidence: [photo, hearsay]", "",
              "there is no evidence 'hearsay' (known here: photo, paper, reading, sample)"},
        Wrong{"load_of_no_mass", "ask: Is it?\nload: {times: 3, of: v}",
              "facts:\n  v: {kind: speed, meaning: V}\n", "the fact 'v' is no mass"},
        Wrong{"load_of_both", "ask: Is it?\nload: {newton: 3, of: m}",
              "facts:\n  m: {kind: mass, meaning: M}\n", "these keys exclude each other"},
        Wrong{"wider_than_nothing", kOk,
              "tubes:\n  t: {any_of: [{od: 40}], or_wider: {od_more: 6, wall: 2}}\n",
              "a row has no tube with od and wall to be wider than"},
        Wrong{"wall_of_no_kind", "measure: wall\nwith: {judged_wall: thick}\nat_least: 2", "",
              "judged_wall: "},
        Wrong{"no_comparison", "measure: od", "", "one of these keys is missing: at_least"},
        Wrong{"upside_down", "measure: od\nbetween: [40, 30]", "",
              "the range is upside down (write the smaller first)"},
        Wrong{"nothing_between", "measure: od\nbetween: [40, 40]\nopen: low", "",
              "nothing lies between them"},
        Wrong{"one_end", "measure: od\nbetween: [40]", "", "needs two numbers, least and greatest"},
        Wrong{"open_what", "measure: od\nat_least: 40\nopen: low", "", "only `between` has open ends"},
        Wrong{"wrong_unit", "measure: od\nat_least: 30 deg", "", "t.yaml:16:15: at_least: "},
        Wrong{"unknown_quantity", "measure: odd\nat_least: 30", "",
              "there is no quantity 'odd' (did you mean 'od'?)"},
        Wrong{"quantity_like_none", "measure: colour_of_the_seat\nat_least: 30", "",
              "there is no quantity 'colour_of_the_seat' ('hoopwright quantities' lists the "},
        Wrong{"word_for_number", "measure: od\nis: yes", "",
              "'od' is a length and is not compared so (use at_least"},
        Wrong{"number_for_word", "measure: form\nat_least: 3", "",
              "'form' is a word and is not compared so (use is, is_not, one_of)"},
        Wrong{"tube_is_fitted", "measure: tube\nis: yes", "",
              "'tube' is a tube and is not compared so (use fits)"},
        Wrong{"tolerance_of_word", "measure: form\nis: welded\ntolerance: 1", "", "only a number has this"},
        Wrong{"unknown_role", "measure: od\nof: {role: main_hop}\nat_least: 30", "",
              "there is no role 'main_hop' (did you mean 'main_hoop'?)"},
        Wrong{"no_role", "measure: od\nof: {role: []}\nat_least: 30", "", "is an empty list"},
        Wrong{"unknown_group", "measure: od\nof: {group: hops}\nat_least: 30",
              "groups:\n  hoops: {role: main_hoop}\n", "there is no group 'hops' (did you mean 'hoops'?)"},
        Wrong{"group_before_it_is", kOk, "groups:\n  a: {group: b}\n  b: {role: main_hoop}\n",
              "there is no group 'b'"},
        Wrong{"unknown_place", "measure: end_to_place\nwith: {place: top}\nat_most: 30", "",
              "there is no place 'top' (the table has none)"},
        Wrong{"unknown_tubes", "measure: tube\nfits: t", "", "there is no tube table 't'"},
        Wrong{"missing_with", "measure: end_to_place\nat_most: 30", "",
              "'end_to_place' needs `with` (give place)"},
        Wrong{"missing_argument", "measure: connects\nwith: {from: {role: main_hoop}}\nis: yes", "",
              "'connects' needs to"},
        Wrong{"foreign_argument", "measure: od\nwith: {view: side}\nat_least: 30", "", "unknown key 'view'"},
        Wrong{"vertical_in_plan", "measure: angle_to_vertical\nwith: {view: plan}\nat_least: 30", "",
              "view: "},
        Wrong{"unknown_part", "measure: clearance\nwith: {part: helmut}\nat_least: 30", "",
              "did you mean 'helmet'?"},
        Wrong{"same_side_of_what", "measure: od\nof: {side: same}\nat_least: 30", "", "'same' side of what?"},
        Wrong{"unknown_side", "measure: od\nof: {side: port}\nat_least: 30", "", "there is no side 'port'"},
        Wrong{"unknown_key", "measure: od\natleast: 30\nat_least: 30", "",
              "unknown key 'atleast' (did you mean 'at_least'?)"},
        Wrong{"unknown_fact", "when: {roof: closed}\n" + kOk, "", "the table asks for no fact 'roof'"},
        Wrong{"unknown_word", "when: {f: shut}\n" + kOk,
              "facts:\n  f: {kind: word, words: [open, closed], meaning: M}\n",
              "'shut' is no word of 'f' (known here: open, closed)"},
        Wrong{"bracket_of_nothing", "when: {f: {}}\n" + kOk, "facts:\n  f: {kind: mass, meaning: M}\n",
              "names no end"},
        Wrong{"two_low_ends", "when: {f: {from: 1 kg, over: 2 kg}}\n" + kOk,
              "facts:\n  f: {kind: mass, meaning: M}\n", "that end of the bracket is given twice"},
        Wrong{"bracket_upside_down", "when: {f: {from: 3 kg, up_to: 2 kg}}\n" + kOk,
              "facts:\n  f: {kind: mass, meaning: M}\n", "the bracket starts after it ends"},
        Wrong{"fact_kind", kOk, "facts:\n  f: {kind: weight, meaning: M}\n",
              "there is no kind of fact 'weight'"},
        Wrong{"fact_unit", "when: {f: {from: 3 mm}}\n" + kOk, "facts:\n  f: {kind: mass, meaning: M}\n",
              "from: "},
        Wrong{"how_many", kOk + "\nhow_many: some", "", "'some' is no number of things"},
        Wrong{"half_of_them", kOk + "\nhow_many: at_least 1.5", "", "'at_least 1.5' is no number of things"},
        Wrong{"count_and_how_many", "measure: member_count\nat_least: 1\nhow_many: any", "",
              "a count is one number"},
        Wrong{"side_of_driver", "measure: back_angle\nat_most: 30\nper_side: yes", "",
              "a driver is on neither side"},
        Wrong{"of_the_cage", "measure: tube_mass\nof: {role: main_hoop}\nat_most: 30 kg", "",
              "this measures the whole cage"},
        Wrong{"having_of_another_kind",
              "measure: od\nof: {having: [{measure: plate_area, at_least: 1}]}\nat_least: 30", "",
              "'plate_area' is measured on a plate (here a quantity of a member is wanted)"},
        Wrong{"one_alternative", "either:\n  - {name: a, all: [{measure: od, at_least: 1}]}", "",
              "needs two alternatives or more"},
        Wrong{"empty_alternative",
              "either:\n  - {name: a, all: []}\n  - {name: b, all: [{measure: od, at_least: 1}]}", "",
              "has no checks"},
        Wrong{"ask_and_measure", kOk + "\nask: Is it?", "", "these keys exclude each other: measure, ask"},
        Wrong{"pair_needs_two", "measure: gap\nof: {first: {}}\nat_least: 1", "",
              "the key 'second' is missing"},
        Wrong{"gusset_between", "measure: gusset_count\nof: {between: [{}]}\nat_least: 1", "",
              "needs two selectors of bars"},
        Wrong{"tubes_overlap", kOk,
              "facts:\n  m: {kind: mass, meaning: M}\ntubes:\n  t:\n    by: m\n    rows:\n      - {up_to: 9 "
              "kg, any_of: [{od: 1}]}\n      - {from: 9 kg, any_of: [{od: 2}]}\n",
              "its bracket overlaps that of row 1"},
        Wrong{"row_without_bracket", kOk,
              "facts:\n  m: {kind: mass, meaning: M}\ntubes:\n  t: {by: m, rows: [{any_of: [{od: 1}]}]}\n",
              "has no bracket of 'm'"},
        Wrong{"bracket_without_by", kOk, "tubes:\n  t: {rows: [{up_to: 3, any_of: [{od: 1}]}]}\n",
              "a bracket of what?"},
        Wrong{"by_a_word", kOk,
              "facts:\n  m: {kind: word, meaning: M}\ntubes:\n  t: {by: m, rows: [{up_to: 3, any_of: [{od: "
              "1}]}]}\n",
              "a word has no brackets"},
        Wrong{"alternative_of_nothing", kOk, "tubes:\n  t: {any_of: [{}]}\n", "asks for nothing"},
        Wrong{"alternative_unknown", kOk, "tubes:\n  t: {any_of: [{wal: 2}]}\n",
              "there is no quantity 'wal' of a bar (did you mean 'wall'?)"},
        Wrong{"alternative_needs_with", kOk, "tubes:\n  t: {any_of: [{stiffness_over: 1}]}\n",
              "'stiffness_over' needs `with`"},
        Wrong{"tolerance_of_nothing", kOk, "tubes:\n  t: {any_of: [{od: 2}], tolerance: {form: 1}}\n",
              "there is no number 'form' of a tube"},
        Wrong{"thick_reference", kOk,
              "reference_tubes:\n  r: {od: 20, wall: 10, modulus: 200000 MPa, yield: 300 MPa}\n",
              "the wall is half the diameter or more"},
        Wrong{"unknown_form", kOk, "materials:\n  - {family: mild_steel, form: rolled, yield: 3 MPa}\n",
              "there is no form 'rolled'"},
        Wrong{"place_of_two_kinds", kOk, "places:\n  p: {top_of: {role: main_hoop}, car: nose}\n",
              "these keys exclude each other"},
        Wrong{"meeting_of_one", kOk, "places:\n  p: {meeting: [{role: main_hoop}]}\n",
              "needs two or more kinds of bars that meet"},
        Wrong{"severity", "severity: must\n" + kOk, "", "severity: "},
        Wrong{"known", "known: hearsay\n" + kOk, "", "known: "},
        Wrong{"not_a_map", "measure: od\nof: main_hoop\nat_least: 30", "", "of: "}),
    [](const auto& one) { return one.param.name; });

TEST(BadTable, TwoRulesOfOneName) {
    EXPECT_THAT(problemsOf(tableText(ruleText(kOk) + ruleText(kOk))),
                HasSubstr("the id 'r' is another rule's too"));
}

// A list that holds itself by name, and names that would unfold to millions: said, and at once.
TEST(BadTable, TakesItselfIn) {
    EXPECT_FALSE(readRuleTableText(
                     tableText("").substr(0, tableText("").find("rules:")) + "rules: &all [*all]\n", "t.yaml")
                     .problems.empty());
    std::string unfolding = "a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n";
    for (int i = 1; i < 9; ++i) {
        const std::string before = "*a" + std::to_string(i - 1);
        unfolding += "a" + std::to_string(i) + ": &a" + std::to_string(i) + " [";
        for (int k = 0; k < 10; ++k) unfolding += (k ? ", " : "") + before;
        unfolding += "]\n";
    }
    EXPECT_FALSE(readRuleTableText(tableText(ruleText("ask: Is it?"), unfolding), "t.yaml").problems.empty());
}

TEST(BadTable, NoRules) {
    EXPECT_THAT(problemsOf(tableText("")), HasSubstr("rules: "));
    EXPECT_THAT(problemsOf("hoopwright: rules\nversion: 1\nunits: mm\n"),
                HasSubstr("the key 'rules' is missing"));
}

TEST(BadTable, FarTooManyRules) {
    std::string rules;
    for (int i = 0; i < 20000; ++i) rules += ruleText("ask: Is it?", "r" + std::to_string(i));
    EXPECT_TRUE(
        std::regex_search(problemsOf(tableText(rules)),
                          std::regex("[0-9]+:[0-9]+: the table has 20000 rules, and 2000 are read at most")));
    for (int i = 20000; i < 100000; ++i) rules += ruleText("ask: Is it?", "r" + std::to_string(i));
    const RuleTableResult read = readRuleTableText(tableText(rules), "t.yaml");  // over the size of any file
    EXPECT_FALSE(read.table);
    ASSERT_EQ(read.problems.size(), 1u);
    EXPECT_GT(read.problems[0].at.line, 2000);
    // On one line they must be taken apart to be counted.
    std::string flow;
    for (int i = 0; i < 2001; ++i) flow += "{id: r" + std::to_string(i) + ", ask: 'Is it?'}, ";
    const std::string head = tableText("");
    EXPECT_THAT(problemsOf(head.substr(0, head.rfind("rules:")) + "rules: [" + flow + "]\n"),
                HasSubstr("the table has 2001 rules, and 2000 are read at most"));
}

TEST(BadTable, FarTooManyRulesInAFileOfAnySizeHaveAPlace) {
    const std::filesystem::path file = std::filesystem::path(testing::TempDir()) / "far_too_many_rules.yaml";
    {
        std::ofstream out(file);
        out << "hoopwright: rules\nrules:\n";
        for (int i = 0; i < 100000; ++i) out << "  - {id: r" << i << ", title: A rule of a usual length}\n";
    }
    const RuleTableResult read = readRuleTable(file);
    std::filesystem::remove(file);
    EXPECT_FALSE(read.table);
    ASSERT_EQ(read.problems.size(), 1u);
    EXPECT_GT(read.problems[0].at.line, 2000);
    EXPECT_GT(read.problems[0].at.column, 0);
}

TEST(BadTable, AllProblemsInOnePass) {
    const std::string problems = problemsOf(tableText(ruleText("measure: odd\nat_least: 30", "a") +
                                                      ruleText("measure: wall\nat_least: 3 kg", "b")));
    EXPECT_THAT(problems, HasSubstr("there is no quantity 'odd'"));
    EXPECT_THAT(problems, HasSubstr("at_least: "));
    EXPECT_FALSE(readRuleTableText(tableText(ruleText("measure: odd\nat_least: 30")), "t.yaml").table);
}

TEST(BadTable, IsNotARuleTable) {
    EXPECT_FALSE(readRuleTableText("", "t.yaml").problems.empty());
    EXPECT_FALSE(readRuleTableText("hoopwright: cage\nversion: 1\n", "t.yaml").problems.empty());
    EXPECT_FALSE(readRuleTable("/nowhere/table.yaml").problems.empty());
}

}  // namespace
}  // namespace hoopwright::test
