// Shipped tables as text, and the vectors held against their rules.
#pragma once

#include <filesystem>
#include <map>
#include <ostream>
#include <string>
#include <utility>
#include <vector>

#include "rules/check.h"
#include "tests/rules/vectors/bench.h"

namespace hoopwright::test {

/// A table of data/rules, cut up so that a rule can be read alone, or with a word of it changed.
struct TableText {
    std::string id;
    std::string head;                                        ///< all up to and with `rules:`
    std::vector<std::pair<std::string, std::string>> rules;  ///< id, lines
    const std::string& rule(const std::string& name) const;
    bool has(const std::string& name) const;
};
/// For the test's name.
inline void PrintTo(const TableText& table, std::ostream* out) {
    *out << table.id;
}
const std::vector<TableText>& shippedTables();
/// Null when the text is no table.
RuleTableRef readOne(const std::string& head, const std::string& rule);

/// One line of a file beside this one: a knob at some values, and what the rule says of each.
struct Vector {
    std::string table, rule;
    std::string always;  ///< "fact crew=1, bars door_bar=2": turned first
    std::string knob;
    std::vector<std::pair<std::string, std::string>> cases;  ///< value, answer
    std::string from;                                        ///< the published document and clause; or kOwn
    std::string where;                                       ///< file and line
};
/// Says that the numbers were taken from the table: such a line shows that a limit is looked at, not that it
/// is right.
inline constexpr const char* kOwn = "the table itself, no oracle";
const std::vector<Vector>& allVectors();

/// A cage and what the rule should say of it.
struct Held {
    const Vector* vector = nullptr;
    std::string value;
    Job job;
    CageGeometry cage;
    Answer wanted = Answer::meets;
};
/// All cases of a rule, made once.
const std::vector<Held>& heldCases(const std::string& table, const std::string& rule);
/// The worst answer of the only rule of a table.
Answer answerOf(const RuleTableRef& table, const Held& held);

}  // namespace hoopwright::test
