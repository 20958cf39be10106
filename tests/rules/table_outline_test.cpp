// The outline of a table's text, and changes that leave every other byte alone.
#include "rules/table_outline.h"

#include <gmock/gmock.h>

#include <filesystem>
#include <fstream>
#include <random>
#include <sstream>

#include "rules/check.h"
#include "rules/table_copy.h"

namespace hoopwright {
namespace {

using testing::HasSubstr;

const std::string kTable =
    "hoopwright: rules\nversion: 1\nid: mine\ntitle: \"Mine, all mine\"  # so far\nedition: '1'\n"
    "written_by: Nobody\npublished: no\nunits: mm\nadvice: None.\n"
    "groups:\n  hoops: {role: main_hoop}  # one for now\n\n"
    "# ---- rules\nrules:\n"
    "  # the first\n"
    "  - id: one\n"
    "    title: One\n"
    "    sentence: S.\n"
    "    measure: od  # as bought\n"
    "    of: {group: hoops}\n"
    "    at_least: 40   # mm\n"
    "\n"
    "  # ---- the second\n"
    "  - {id: two, title: Two, sentence: S., measure: wall, at_least: 2}\n";

std::string fileText(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::ostringstream all;
    all << in.rdbuf();
    return all.str();
}

std::string shipped(const std::string& name) {
    return fileText(std::filesystem::path(HOOPWRIGHT_SOURCE_DIR) / "data/rules" / name);
}

TEST(TableOutline, SaysWhereEverythingStands) {
    const auto outline = outlineTable(kTable);
    ASSERT_TRUE(outline);
    EXPECT_EQ(outline->id, "mine");
    EXPECT_EQ(outline->title, "Mine, all mine");
    ASSERT_EQ(outline->names.size(), 1u);
    EXPECT_EQ(outline->names[0].name, "hoops");
    EXPECT_EQ(outline->names[0].line, 11);
    ASSERT_EQ(outline->rules.size(), 2u);
    EXPECT_EQ(outline->rules[0].id, "one");
    EXPECT_EQ(outline->rules[0].line, 16);
    EXPECT_EQ(outline->rules[0].column, 5);
    EXPECT_EQ(kTable.substr(outline->rules[0].begin, 7), "id: one");
    EXPECT_EQ(kTable.substr(outline->rules[1].begin, 8), "{id: two");
    EXPECT_EQ(outline->rules[1].end, kTable.size() - 1);
    EXPECT_EQ(outline->ruleAt(0), -1);
    EXPECT_EQ(outline->ruleAt(kTable.find("as bought")), 0);
    EXPECT_EQ(outline->ruleAt(kTable.find("measure: wall")), 1);
    EXPECT_FALSE(outlineTable("rules: [")) << "no YAML";
    EXPECT_TRUE(outlineTable("rules:\n  - {id: x, measure: odd}\n")) << "problems of a table do not matter";
}

TEST(TableEdits, ChangeOneValueAndNothingElse) {
    const std::string now = withRuleKeys(kTable, 0, {{"at_least", "38"}});
    std::string wanted = kTable;
    wanted.replace(wanted.find("40   # mm"), 2, "38");
    EXPECT_EQ(now, wanted);
    EXPECT_EQ(withRuleKeys(kTable, 1, {{"at_least", "2.5"}}).find("at_least: 2.5}") != std::string::npos,
              true);
    EXPECT_EQ(withRuleKeys(kTable, 7, {{"at_least", "38"}}), kTable);
}

TEST(TableEdits, TakeKeysOutAndAddOthers) {
    const std::string now = withRuleKeys(kTable, 0, {{"at_least", std::nullopt}, {"at_most", "50"}});
    EXPECT_THAT(now, HasSubstr("    of: {group: hoops}\n    at_most: 50\n\n  # ---- the second\n"));
    EXPECT_THAT(now, HasSubstr("measure: od  # as bought\n"));
    const std::string flow = withRuleKeys(kTable, 1, {{"at_least", std::nullopt}, {"exactly", "2"}});
    EXPECT_THAT(flow, HasSubstr("measure: wall, exactly: 2}\n"));
    const std::string more = withRuleKeys(kTable, 1, {{"title", std::nullopt}, {"clause", "\"3.1\""}});
    EXPECT_THAT(more, HasSubstr("{id: two, sentence: S., measure: wall, at_least: 2, clause: \"3.1\"}"));
    for (const std::string& text : {now, flow, more}) EXPECT_TRUE(outlineTable(text)) << text;
}

TEST(TableEdits, GiveBackWhatWasTaken) {
    const std::string away = withRuleKeys(kTable, 0, {{"at_least", "30"}});
    EXPECT_EQ(withRuleKeys(away, 0, {{"at_least", "40"}}), kTable);
}

TEST(TableEdits, PutARuleBehindAnother) {
    const RuleKeys keys = {
        {"id", "new"}, {"title", "New"}, {"sentence", "S."}, {"measure", "od"}, {"at_most", "60"}};
    const std::string between = withNewRule(kTable, 0, keys);
    EXPECT_THAT(between, HasSubstr("    at_least: 40   # mm\n  - id: new\n    title: New\n    sentence: S.\n"
                                   "    measure: od\n    at_most: 60\n\n  # ---- the second\n"));
    const std::string last = withNewRule(kTable, -1, keys);
    EXPECT_THAT(last, HasSubstr("at_least: 2}\n  - id: new\n"));
    EXPECT_TRUE(readRuleTableText(between, "t").table);
    EXPECT_TRUE(readRuleTableText(last, "t").table);
}

TEST(TableEdits, MakeAListOfRulesWhereThereIsNone) {
    const RuleKeys keys = {{"id", "new"}, {"title", "New"}};
    EXPECT_EQ(withNewRule("id: a\n", -1, keys), "id: a\nrules:\n  - id: new\n    title: New\n");
    EXPECT_EQ(withNewRule("id: a\nrules:\n", -1, keys), "id: a\nrules:\n  - id: new\n    title: New\n");
    EXPECT_EQ(withNewRule("rules: []  # none yet\n", -1, keys),
              "rules:\n  - id: new\n    title: New  # none yet\n");
    EXPECT_EQ(withNewRule("rules: [{id: a}]\n", -1, keys), "rules: [{id: a}, {id: new, title: New}]\n");
}

TEST(TableEdits, PutANameInASection) {
    EXPECT_THAT(withNewName(kTable, TableSection::groups, "braces", "{role: rear_brace}"),
                HasSubstr("  hoops: {role: main_hoop}  # one for now\n  braces: {role: rear_brace}\n"));
    EXPECT_THAT(withNewName(kTable, TableSection::tubes, "t", "{any_of: [{od: 40, wall: 2}]}"),
                HasSubstr("\ntubes:\n  t: {any_of: [{od: 40, wall: 2}]}\n\n# ---- rules\nrules:\n"));
    EXPECT_EQ(withNewName("groups: {a: {role: x}}\n", TableSection::groups, "b", "{role: y}"),
              "groups: {a: {role: x}, b: {role: y}}\n");
}

TEST(TableEdits, KeepForeignLineEndsAndAByteOrderMark) {
    std::string text = "\xEF\xBB\xBF";
    for (const char c : kTable) text += c == '\n' ? std::string("\r\n") : std::string(1, c);
    const std::string now = withNewRule(text, 0, {{"id", "new"}, {"title", "N"}});
    EXPECT_TRUE(now.starts_with("\xEF\xBB\xBFhoopwright"));
    EXPECT_THAT(now, HasSubstr("# mm\r\n  - id: new\r\n    title: N\r\n\r\n"));
    EXPECT_EQ(withRuleKeys(withRuleKeys(text, 0, {{"at_least", "9"}}), 0, {{"at_least", "40"}}), text);
}

TEST(TableEdits, KeysAreGivenAsTheyAreWritten) {
    const RuleKeys keys = ruleKeys(kTable, 0);
    ASSERT_EQ(keys.size(), 6u);
    EXPECT_EQ(keys[4], (std::pair<std::string, std::string>("of", "{group: hoops}")));
    EXPECT_EQ(keys[5].second, "40");
    EXPECT_TRUE(ruleKeys(kTable, 2).empty());
}

/// Every value of every rule of a shipped table written over itself leaves the table as it was.
TEST(TableEdits, AValueWrittenOverItselfIsTheSameText) {
    for (const char* name : {"club_hillclimb.yaml", "student_formula_2024.yaml", "standing_mile.yaml"}) {
        const std::string text = shipped(name);
        const auto outline = outlineTable(text);
        ASSERT_TRUE(outline);
        for (int i = 0; i < int(outline->rules.size()); ++i) {
            std::vector<KeyChange> same;
            for (const auto& [key, value] : ruleKeys(text, i)) same.emplace_back(key, value);
            EXPECT_EQ(withRuleKeys(text, i, same), text) << name << " rule " << i;
        }
    }
}

/// A rule put in anywhere is read there, and every line there was is still there in its order.
TEST(TableEdits, ARulePutInAnywhereIsReadAndTheRestStays) {
    std::mt19937 rng(20261126);
    for (const char* name : {"club_hillclimb.yaml", "student_formula_2024.yaml", "standing_mile.yaml"}) {
        const std::string text = shipped(name);
        const int rules = int(outlineTable(text)->rules.size());
        for (int n = 0; n < 12; ++n) {
            const int after = std::uniform_int_distribution<int>(-1, rules - 1)(rng);
            const std::string now = withNewRule(text, after,
                                                {{"id", "put_in"},
                                                 {"title", "T"},
                                                 {"sentence", "S."},
                                                 {"measure", "od"},
                                                 {"at_least", "30"}});
            const RuleTableResult read = readRuleTableText(now, name);
            ASSERT_TRUE(read.table) << name << after << read.problems[0].text();
            EXPECT_EQ(info(*read.table).rules, rules + 1);
            const auto outline = outlineTable(now);
            EXPECT_EQ(outline->rules[std::size_t(after < 0 ? rules : after + 1)].id, "put_in");
            std::istringstream before(text), afterwards(now);
            std::string old_line, line;
            while (std::getline(before, old_line)) {
                bool found = false;
                while (!found && std::getline(afterwards, line)) found = line == old_line;
                EXPECT_TRUE(found) << name << ": " << old_line;
            }
        }
    }
}

TEST(TableCopies, AreTheSameUnderAnotherName) {
    const std::filesystem::path folder = std::filesystem::temp_directory_path() / "hoopwright_table_copy";
    std::filesystem::remove_all(folder);
    std::filesystem::create_directories(folder);
    const TableCopy copy{folder / "mine.yaml", "mine", "Ours: the hill", "A club"};
    const std::string text = shipped("club_hillclimb.yaml");
    EXPECT_TRUE(copyTable(text, copy).empty());
    const std::string now = fileText(copy.file);
    const RuleTableResult read = readRuleTable(copy.file);
    ASSERT_TRUE(read.table) << read.problems[0].text();
    EXPECT_EQ(info(*read.table).id, "mine");
    EXPECT_EQ(info(*read.table).title, "Ours: the hill");
    EXPECT_EQ(info(*read.table).written_by, "A club");
    std::istringstream before(text), after(now);
    int changed = 0;
    for (std::string old_line, line; std::getline(before, old_line) && std::getline(after, line);)
        changed += old_line == line ? 0 : 1;
    EXPECT_EQ(changed, 3) << "id, title and who wrote it";
    EXPECT_EQ(std::count(text.begin(), text.end(), '\n'), std::count(now.begin(), now.end(), '\n'));
    const Problems again = copyTable(text, copy);
    ASSERT_EQ(again.size(), 1u);
    EXPECT_EQ(again[0].what, "there is such a file already");
    const Problems wrong = copyTable(text, {folder / "other.yaml", "Mine!", "", " "});
    EXPECT_EQ(wrong.size(), 3u);
    EXPECT_FALSE(std::filesystem::exists(folder / "other.yaml"));
    std::filesystem::remove_all(folder);
}

}  // namespace
}  // namespace hoopwright
