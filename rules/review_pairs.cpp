// Rules of which only one can hold.
#include <algorithm>
#include <map>
#include <set>

#include "rules/accepted.h"
#include "rules/review_rules.h"
#include "rules/table_outline.h"

namespace hoopwright {
namespace {

/// What a check is about: bars of these roles (nothing: any) for which `rest` holds (empty: nothing more).
struct AboutWhat {
    std::optional<std::set<std::string>> roles;
    std::string rest;
};

std::set<std::string> wordsIn(const YamlNode& node) {
    std::set<std::string> out;
    if (node.kind == YamlNode::Kind::scalar) out.insert(node.text);
    for (const YamlNode& item : node.items)
        if (item.kind == YamlNode::Kind::scalar) out.insert(item.text);
    return out;
}

void keepTo(AboutWhat& out, const std::set<std::string>& roles) {
    if (!out.roles) {
        out.roles = roles;
        return;
    }
    std::erase_if(*out.roles, [&](const std::string& role) { return !roles.contains(role); });
}

/// The roles of groups that are roles alone; nothing if one is more than that.
std::optional<std::set<std::string>> groupRoles(const YamlNode& root, const YamlNode& names) {
    std::set<std::string> out;
    for (const std::string& name : wordsIn(names)) {
        const YamlNode* group = childOf(childOf(&root, "groups"), name);
        const YamlNode* role = childOf(group, "role");
        if (!role || group->keys.size() != 1) return std::nullopt;
        out.merge(wordsIn(*role));
    }
    return out;
}

AboutWhat aboutOf(const YamlNode& root, const YamlNode* of) {
    AboutWhat out;
    if (!of || of->kind != YamlNode::Kind::map) return out;
    std::vector<std::string> rest;
    for (std::size_t i = 0; i < of->keys.size(); ++i) {
        const std::string& key = of->keys[i].text;
        if (key == "role") {
            keepTo(out, wordsIn(of->items[i]));
        } else if (const auto roles = key == "group" ? groupRoles(root, of->items[i]) : std::nullopt) {
            keepTo(out, *roles);
        } else {
            rest.push_back(key + ":" + canonicalText(&of->items[i]));
        }
    }
    std::sort(rest.begin(), rest.end());
    for (const std::string& one : rest) out.rest += one + ",";
    return out;
}

bool shareRoles(const AboutWhat& a, const AboutWhat& b) {
    if (!a.roles || !b.roles) return true;
    return std::any_of(a.roles->begin(), a.roles->end(),
                       [&](const std::string& role) { return b.roles->contains(role); });
}

/// Are there things both are about, if there are things each is about?
bool shareThings(const AboutWhat& a, const AboutWhat& b) {
    return (a.rest == b.rest || a.rest.empty() || b.rest.empty()) && shareRoles(a, b);
}

/// One rule that is a plain check.
struct PlainRule {
    const Rule* rule;
    const YamlNode* node;
    AboutWhat about;
};

bool factsApart(const RuleTable& table, const Rule& a, const Rule& b) {
    for (const FactTest& one : a.when)
        for (const FactTest& other : b.when) {
            if (one.fact != other.fact) continue;
            const FactWanted* fact = table.fact(one.fact);
            if (apart(one, other, fact ? fact->words : std::vector<std::string>{})) return true;
        }
    return false;
}

const YamlNode* conditionOf(const PlainRule& rule, std::size_t i) {
    const YamlNode* list = childOf(rule.node, "only_if");
    return list && i < list->items.size() ? &list->items[i] : nullptr;
}

std::string howMeasured(const YamlNode& check) {
    return canonicalText(childOf(&check, "measure")) + "|" + canonicalText(childOf(&check, "with"));
}

bool conditionsApart(const PlainRule& a, const PlainRule& b) {
    for (std::size_t i = 0; i < a.rule->only_if.size(); ++i)
        for (std::size_t j = 0; j < b.rule->only_if.size(); ++j) {
            const YamlNode* one = conditionOf(a, i);
            const YamlNode* other = conditionOf(b, j);
            if (!one || !other || howMeasured(*one) != howMeasured(*other)) continue;
            if (canonicalText(childOf(one, "of")) != canonicalText(childOf(other, "of"))) continue;
            if (apart(a.rule->only_if[i].reading, b.rule->only_if[j].reading)) return true;
        }
    return false;
}

bool cannotBothHold(const PlainRule& a, const PlainRule& b) {
    const Check &one = *a.rule->check, &other = *b.rule->check;
    if (lacksAll(one.reading) || lacksAll(other.reading) || !apart(one.reading, other.reading)) return false;
    const Quantity& quantity = allQuantities()[static_cast<std::size_t>(one.reading.quantity)];
    // Two counts must be of the very same things; of others it is enough that some are the same.
    if (quantity.counts) return a.about.roles == b.about.roles && a.about.rest == b.about.rest;
    if (!shareThings(a.about, b.about)) return false;
    const auto all = [](const Check& check) { return check.how_many.all; };
    const auto some = [](const Check& check) { return check.how_many.all || check.how_many.least > 0; };
    return (all(one) && some(other)) || (some(one) && all(other));
}

}  // namespace

std::vector<TableRemark> contradictions(const ReviewedText& text) {
    std::map<std::string, std::vector<PlainRule>> alike;  // by how they measure
    for (const Rule& rule : text.table.rules) {
        const YamlNode* node = rule.check ? text.rule(rule.id) : nullptr;
        if (!node || rule.check->reading.quantity < 0) continue;
        alike[howMeasured(*node) + (rule.check->per_side ? "|per side" : "")].push_back(
            {&rule, node, aboutOf(text.root, childOf(node, "of"))});
    }
    std::vector<TableRemark> out;
    for (const auto& [how, rules] : alike)
        for (std::size_t j = 1; j < rules.size(); ++j)
            for (std::size_t i = 0; i < j; ++i) {
                if (!cannotBothHold(rules[i], rules[j])) continue;
                if (factsApart(text.table, *rules[i].rule, *rules[j].rule) ||
                    conditionsApart(rules[i], rules[j]))
                    continue;
                const Rule &first = *rules[i].rule, &second = *rules[j].rule;
                out.push_back({TableRemark::Kind::contradiction, text.at(comparisonOf(*rules[j].node)),
                               second.id, first.id,
                               "the rule '" + first.id + "' (line " + std::to_string(rules[i].node->line) +
                                   ") wants " + first.check->reading.against.text + ", this one " +
                                   second.check->reading.against.text +
                                   "; what both are about cannot be both",
                               "change one, or say with `when` or `of` where each counts"});
            }
    return out;
}

}  // namespace hoopwright
