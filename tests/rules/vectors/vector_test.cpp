// The shipped tables against cages on each limit, a step inside it and a step outside.
#include <gmock/gmock.h>

#include <fstream>
#include <set>

#include "tests/rules/vectors/vectors.h"

namespace hoopwright::test {
namespace {

class ShippedTable : public testing::TestWithParam<TableText> {};
INSTANTIATE_TEST_SUITE_P(Tables, ShippedTable, testing::ValuesIn(shippedTables()),
                         [](const auto& it) { return it.param.id; });

TEST_P(ShippedTable, AnswersEachVectorAsWritten) {
    const TableText& table = GetParam();
    for (const auto& [id, text] : table.rules) {
        const RuleTableRef one = readOne(table.head, text);
        ASSERT_TRUE(one) << id;
        for (const Held& held : heldCases(table.id, id)) {
            const Answer said = answerOf(one, held);
            if (said == held.wanted) continue;
            ADD_FAILURE() << held.vector->where << ": " << id << ", " << held.vector->knob << " at "
                          << held.value << ": " << answerKey(said) << ", not " << answerKey(held.wanted);
            const RuleTableRef tables[] = {one};
            for (const Finding& f : check(tables, held.job, held.cage).findings)
                std::printf("    %s %s value %.10g limit %s %s\n", std::string(answerKey(f.answer)).c_str(),
                            f.subject.c_str(), f.value.value_or(NAN), f.limit_text.c_str(),
                            f.missing.c_str());
        }
    }
}

bool isQuestion(const std::string& rule) {
    return rule.find("\n    ask: ") != std::string::npos;
}

TEST_P(ShippedTable, HasAVectorForEveryRuleThatIsMeasured) {
    const TableText& table = GetParam();
    std::vector<std::string> without;
    for (const auto& [id, text] : table.rules)
        if (!isQuestion(text) && heldCases(table.id, id).empty()) without.push_back(id);
    EXPECT_THAT(without, testing::IsEmpty());
}

TEST_P(ShippedTable, SaysOfEveryRuleWhereItStandsAndHowItIsKnown) {
    for (const auto& [id, text] : GetParam().rules) {
        for (const char* key : {"\n    clause: ", "\n    known: ", "\n    source: "})
            EXPECT_NE(text.find(key), std::string::npos) << id << " lacks" << key + 4;
    }
    const RuleTableRef whole =
        readRuleTable(std::filesystem::path(HOOPWRIGHT_SOURCE_DIR) / "data/rules" / (GetParam().id + ".yaml"))
            .table;
    ASSERT_TRUE(whole);
    EXPECT_EQ(info(*whole).id, GetParam().id);
    EXPECT_EQ(static_cast<std::size_t>(info(*whole).rules), GetParam().rules.size());
    EXPECT_FALSE(info(*whole).edition.empty());
    const std::string& advice = info(*whole).advice;
    EXPECT_TRUE(advice.starts_with("CHECK EVERY LINE AGAINST THE BOOK IN FORCE") ||
                advice.starts_with("INVENTED FOR THE DEMO"))
        << advice;
}

// A number known second hand or from memory is no measure of the program.
TEST(Vectors, OnlyWhatWasReadIsAnOracle) {
    for (const Vector& vector : allVectors()) {
        const auto& tables = shippedTables();
        const auto table = std::find_if(tables.begin(), tables.end(),
                                        [&](const TableText& t) { return t.id == vector.table; });
        ASSERT_NE(table, tables.end()) << vector.where;
        ASSERT_TRUE(table->has(vector.rule)) << vector.where << ": no rule " << vector.rule;
        const std::string& text = table->rule(vector.rule);
        const bool was_read = text.find("\n    known: read\n") != std::string::npos;
        EXPECT_TRUE(was_read || vector.from == kOwn) << vector.where;
        EXPECT_FALSE(vector.from.empty()) << vector.where;
    }
}

TEST(Vectors, ReachBothAnswersOfEveryRule) {
    std::map<std::string, std::set<std::string>> answers;
    for (const Vector& vector : allVectors())
        for (const auto& [value, answer] : vector.cases)
            answers[vector.table + " " + vector.rule].insert(answer);
    for (const auto& [rule, seen] : answers) {
        if (seen.count("ask_person")) continue;
        EXPECT_TRUE(seen.count("meets")) << rule << " never meets";
        EXPECT_TRUE(seen.count("fails")) << rule << " never fails";
    }
}

}  // namespace
}  // namespace hoopwright::test
