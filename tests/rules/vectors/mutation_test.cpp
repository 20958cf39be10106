// Every limit of a shipped table is looked at: moved by a step, or its comparison turned, some vector answers
// otherwise.
#include "tests/rules/vectors/mutation.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <set>

#include "tests/rules/vectors/vectors.h"

namespace hoopwright::test {
namespace {

/// Changes that no cage can show, each with its reason: lines "table; change; why" of a file beside this one.
const std::set<std::pair<std::string, std::string>>& unshown() {
    static const std::set<std::pair<std::string, std::string>> kAll = [] {
        std::set<std::pair<std::string, std::string>> out;
        std::ifstream in(std::filesystem::path(HOOPWRIGHT_SOURCE_DIR) / "tests/rules/vectors/unshown.txt");
        for (std::string line; std::getline(in, line);) {
            if (line.empty() || line[0] == '#') continue;
            const std::size_t first = line.find("; "), last = line.rfind("; ");
            out.insert({line.substr(0, first), line.substr(first + 2, last - first - 2)});
        }
        return out;
    }();
    return kAll;
}

bool shows(const RuleTableRef& table, const std::vector<Held>& cases) {
    if (!table) return true;  // refused when it is read
    return std::any_of(cases.begin(), cases.end(),
                       [&](const Held& held) { return answerOf(table, held) != held.wanted; });
}

std::string unindented(std::string what) {
    while (!what.empty() && what.front() == ' ') what.erase(0, 1);
    return what;
}

class MovedLimits : public testing::TestWithParam<TableText> {};
INSTANTIATE_TEST_SUITE_P(Tables, MovedLimits, testing::ValuesIn(shippedTables()),
                         [](const auto& it) { return it.param.id; });

TEST_P(MovedLimits, OfARuleChangeAnAnswer) {
    const TableText& table = GetParam();
    for (const auto& [id, text] : table.rules) {
        for (const Mutant& mutant : mutants(text)) {
            if (shows(readOne(table.head, mutant.text), heldCases(table.id, id))) continue;
            const std::string what = id + ": " + unindented(mutant.what);
            if (unshown().count({table.id, what})) continue;
            ADD_FAILURE() << table.id << "; " << what;
        }
    }
}

TEST_P(MovedLimits, OfATubeTableChangeAnAnswer) {
    const TableText& table = GetParam();
    for (const Mutant& mutant : mutantsOfHead(table.head)) {
        const bool shown = std::any_of(table.rules.begin(), table.rules.end(), [&](const auto& rule) {
            if (rule.second.find("\n    fits: ") == std::string::npos) return false;
            return shows(readOne(mutant.text, rule.second), heldCases(table.id, rule.first));
        });
        const std::string what = unindented(mutant.what);
        EXPECT_TRUE(shown || unshown().count({table.id, what})) << table.id << "; " << what;
    }
}

// An excuse that is none any more goes.
TEST(ExcusedLimits, EachIsOfALimitThatIsThere) {
    std::set<std::pair<std::string, std::string>> there;
    for (const TableText& table : shippedTables()) {
        for (const auto& [id, text] : table.rules)
            for (const Mutant& mutant : mutants(text))
                there.insert({table.id, id + ": " + unindented(mutant.what)});
        for (const Mutant& mutant : mutantsOfHead(table.head))
            there.insert({table.id, unindented(mutant.what)});
    }
    for (const auto& excuse : unshown())
        EXPECT_TRUE(there.count(excuse)) << excuse.first << "; " << excuse.second;
}

}  // namespace
}  // namespace hoopwright::test
