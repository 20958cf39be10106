// Where everything of a rule table stands in its text, problems or not; and small changes to the text that
// leave every other byte of it alone.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/files/yaml_tree.h"

namespace hoopwright {

/// The sections of a table whose keys are names of its own.
enum class TableSection { facts, roles, groups, places, reference_tubes, tubes };
std::string_view sectionWord(TableSection section);   ///< "reference_tubes": its key in the file
std::string_view sectionThing(TableSection section);  ///< "reference tube": one of them, for people

/// A name a table gives. Lines and columns count from 1, columns in characters.
struct TableName {
    TableSection section = TableSection::facts;
    std::string name;
    std::string meaning;  ///< of a fact; what a role is called; else empty
    int line = 0, column = 0;
};

/// One rule as it is written. `begin` and `end` are bytes of the text: from its first key to one past the
/// last byte of its last value.
struct RulePlace {
    std::string id;
    int line = 0, column = 0;
    std::size_t begin = 0, end = 0;
};

struct TableOutline {
    std::string id, title;
    std::vector<TableName> names;
    std::vector<RulePlace> rules;
    const RulePlace* rule(std::string_view id) const;
    /// The rule a byte is in, or else the last that begins before it; -1: none.
    int ruleAt(std::size_t byte) const;
    std::vector<std::string> namesOf(TableSection section) const;
};
/// Nothing if the text is no YAML that a table may be; then its problems say why.
std::optional<TableOutline> outlineTable(std::string_view text);
/// The same of a tree that is there already.
TableOutline outlineOf(const YamlNode& root);

/// The value of a key, or null.
const YamlNode* childOf(const YamlNode* map, std::string_view key);
/// A value as one line whose order of keys does not matter: equal values have equal lines.
std::string canonicalText(const YamlNode* node);

/// Keys of one rule and how their values are written, in the text's order.
using RuleKeys = std::vector<std::pair<std::string, std::string>>;
/// What stands behind each key of the rule, comments left out. Empty if there is no such rule.
RuleKeys ruleKeys(std::string_view text, int rule);
/// Gives keys of a rule other values, takes keys out (no value), adds new ones at its end. Values are one
/// line of YAML. Every other byte stays: comments too. The text as it was if there is no such rule.
using KeyChange = std::pair<std::string, std::optional<std::string>>;
std::string withRuleKeys(std::string_view text, int rule, const std::vector<KeyChange>& changes);
/// Puts a new rule behind another (-1: behind the last; a table without rules gets its list).
std::string withNewRule(std::string_view text, int after, const RuleKeys& keys);
/// Puts `name: value` at the end of a section, which is made above the rules if it is not there.
std::string withNewName(std::string_view text, TableSection section, const std::string& name,
                        const std::string& value);
/// A copy under another name: `id`, `title` and `written_by` of its head. @pre the text has an outline
std::string renamedTable(std::string_view text, const std::string& id, const std::string& title,
                         const std::string& written_by);

}  // namespace hoopwright
