// The parts of a review: of one table whose text is at hand.
#pragma once

#include <string>
#include <vector>

#include "core/files/yaml_tree.h"
#include "rules/review.h"
#include "rules/rule_table.h"

namespace hoopwright {

/// What a review works on: a table that reads well and the tree of its text.
struct ReviewedText {
    const RuleTable& table;
    const YamlNode& root;
    std::string file;
    /// The rule's mapping in the text, or null.
    const YamlNode* rule(std::string_view id) const;
    FileMark at(const YamlNode& node) const { return {file, node.line, node.column}; }
};

/// Names, roles, figures no rule comes to, directly or by way of another name.
std::vector<TableRemark> unusedParts(const ReviewedText& text);
/// Rules no cage could meet, that every cage meets, or that can never apply.
std::vector<TableRemark> emptyRules(const ReviewedText& text);
/// Pairs of rules on the same quantity, measured the same way, of things both are about, that can apply
/// together and whose limits cannot both hold.
std::vector<TableRemark> contradictions(const ReviewedText& text);

/// The value of the comparison of a check, or the check itself.
const YamlNode& comparisonOf(const YamlNode& check);
/// Why a selector can match nothing; empty: it can match something, or nobody can tell.
std::string whyNothing(const RuleTable& table, int selector);

}  // namespace hoopwright
