// The list of what was read in published books: each fact has its vectors, a test, or a reason why it has
// none.
#include <gmock/gmock.h>

#include <fstream>
#include <map>
#include <set>
#include <sstream>

#include "tests/rules/vectors/vectors.h"

namespace hoopwright::test {
namespace {

namespace fs = std::filesystem;

struct BookFact {
    std::string table, rule, how, what;
};

const std::vector<BookFact>& bookFacts() {
    static const std::vector<BookFact> kAll = [] {
        std::vector<BookFact> out;
        std::ifstream in(fs::path(HOOPWRIGHT_SOURCE_DIR) / "tests/rules/vectors/read_in_books.txt");
        for (std::string line; std::getline(in, line);) {
            if (line.empty() || line[0] == '#') continue;
            BookFact fact;
            std::string* const cells[] = {&fact.table, &fact.rule, &fact.how, &fact.what};
            std::size_t from = 0;
            for (std::string* cell : cells) {
                const std::size_t to = cell == cells[3] ? std::string::npos : line.find("; ", from);
                *cell = line.substr(from, to == std::string::npos ? to : to - from);
                from = to == std::string::npos ? line.size() : to + 2;
            }
            out.push_back(fact);
        }
        return out;
    }();
    return kAll;
}

bool isOf(const std::string& rule, const std::string& line) {
    return rule.find("\n    " + line) != std::string::npos;
}

TEST(ReadInBooks, EveryRuleThatWasReadIsInTheListAndNoOther) {
    std::set<std::string> listed, read;
    for (const BookFact& fact : bookFacts())
        if (fact.how != "test" && !listed.insert(fact.table + " " + fact.rule).second)
            ADD_FAILURE() << fact.table << " " << fact.rule << " is there twice";
    for (const TableText& table : shippedTables()) {
        if (table.head.find("\npublished: yes\n") == std::string::npos) continue;
        for (const auto& [id, text] : table.rules)
            if (isOf(text, "known: read\n")) read.insert(table.id + " " + id);
    }
    EXPECT_EQ(listed, read);
}

/// Of the lines of a rule that name a document.
std::vector<std::vector<std::string>> answersByBook(const BookFact& fact) {
    std::vector<std::vector<std::string>> out;
    for (const Vector& vector : allVectors()) {
        if (vector.table != fact.table || vector.rule != fact.rule || vector.from == kOwn) continue;
        out.emplace_back();
        for (const auto& [value, answer] : vector.cases) out.back().push_back(answer);
    }
    return out;
}

TEST(ReadInBooks, EachHasItsVectors) {
    for (const BookFact& fact : bookFacts()) {
        if (fact.how == "test") continue;
        SCOPED_TRACE(fact.table + " " + fact.rule);
        const auto& tables = shippedTables();
        const auto table = std::find_if(tables.begin(), tables.end(),
                                        [&](const TableText& t) { return t.id == fact.table; });
        ASSERT_NE(table, tables.end());
        const bool is_question = isOf(table->rule(fact.rule), "ask: ");
        EXPECT_EQ(is_question, fact.how == "asked");
        const auto answers = answersByBook(fact);
        const auto in_one = [&](std::size_t least, auto... wanted) {
            return std::any_of(answers.begin(), answers.end(), [&](const std::vector<std::string>& line) {
                const auto has = [&](const char* word) {
                    return std::find(line.begin(), line.end(), word) != line.end();
                };
                return line.size() >= least && (has(wanted) && ...);
            });
        };
        if (fact.how == "limit") {
            // On it, inside and outside, dialled by one knob.
            EXPECT_TRUE(in_one(3, "meets", "fails") || in_one(3, "does_not_apply", "fails"));
        } else if (fact.how == "yes or no") {
            EXPECT_TRUE(in_one(1, "meets"));
            EXPECT_TRUE(in_one(1, "fails"));
        } else {
            EXPECT_THAT(fact.how, testing::AnyOf("doubtful", "asked"));
            EXPECT_GT(fact.what.size(), 5u) << "why?";
        }
    }
}

TEST(ReadInBooks, TestsThatAreNamedAreThere) {
    std::string tests;
    for (const auto& entry :
         fs::recursive_directory_iterator(fs::path(HOOPWRIGHT_SOURCE_DIR) / "tests/outside")) {
        if (entry.path().extension() != ".cpp") continue;
        std::ifstream in(entry.path());
        std::stringstream text;
        text << in.rdbuf();
        tests += text.str();
    }
    int named = 0;
    for (const BookFact& fact : bookFacts()) {
        if (fact.how != "test") continue;
        ++named;
        const std::size_t dot = fact.what.find('.');
        ASSERT_NE(dot, std::string::npos) << fact.what;
        EXPECT_NE(tests.find("(" + fact.what.substr(0, dot) + ", " + fact.what.substr(dot + 1) + ")"),
                  std::string::npos)
            << fact.what;
    }
    EXPECT_GT(named, 0);
}

}  // namespace
}  // namespace hoopwright::test
