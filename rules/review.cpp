#include "rules/review.h"

#include <algorithm>
#include <set>

#include "core/files/yaml_map.h"
#include "rules/quantity.h"
#include "rules/review_rules.h"
#include "rules/table_outline.h"

namespace hoopwright {
namespace {

/// Keys whose values are prose, or a name given here.
const std::set<std::string>& proseKeys() {
    static const std::set<std::string> keys = {"id",     "title",  "sentence", "way_out",
                                               "source", "clause", "meaning",  "name",
                                               "ask",    "advice", "known",    "edition"};
    return keys;
}

/// Every word and key of a value but prose: what it may refer to.
void mentioned(const YamlNode& node, std::set<std::string>& out) {
    if (node.kind == YamlNode::Kind::scalar) out.insert(node.text);
    for (std::size_t i = 0; i < node.items.size(); ++i) {
        if (node.kind == YamlNode::Kind::map) {
            if (proseKeys().contains(node.keys[i].text)) continue;
            out.insert(node.keys[i].text);
        }
        mentioned(node.items[i], out);
    }
}

/// What is reached from the rules, name by name.
std::set<std::string> reached(const YamlNode& root, const std::vector<TableName>& names) {
    std::set<std::string> out, before;
    if (const YamlNode* rules = childOf(&root, "rules")) mentioned(*rules, out);
    std::set<const YamlNode*> done;
    while (before != out) {
        before = out;
        for (const TableName& name : names) {
            const YamlNode* value = childOf(childOf(&root, sectionWord(name.section)), name.name);
            if (!value || !out.contains(name.name) || !done.insert(value).second) continue;
            mentioned(*value, out);
        }
    }
    return out;
}

/// Does a quantity of that name reckon with the strength of the steel?
bool reckonsWithSteel(const std::string& word) {
    const int at = quantityIndex(word);
    if (at < 0) return false;
    const Quantity& quantity = allQuantities()[static_cast<std::size_t>(at)];
    return quantity.info.dimension == Dimension::stress ||
           has(quantity.needs | quantity.may, Arg::reference_tube);
}

}  // namespace

std::string_view remarkKey(TableRemark::Kind kind) {
    switch (kind) {
        case TableRemark::Kind::unused:
            return "unused";
        case TableRemark::Kind::contradiction:
            return "contradiction";
        case TableRemark::Kind::impossible:
            return "impossible";
        case TableRemark::Kind::never:
            return "never";
        case TableRemark::Kind::always:
            return "always";
    }
    return "";
}

std::string_view remarkWord(TableRemark::Kind kind) {
    switch (kind) {
        case TableRemark::Kind::unused:
            return "not used";
        case TableRemark::Kind::contradiction:
            return "contradicts";
        case TableRemark::Kind::impossible:
            return "cannot be met";
        case TableRemark::Kind::never:
            return "never applies";
        case TableRemark::Kind::always:
            return "always met";
    }
    return "";
}

const YamlNode* ReviewedText::rule(std::string_view id) const {
    const YamlNode* rules = childOf(&root, "rules");
    if (!rules) return nullptr;
    for (const YamlNode& item : rules->items)
        if (const YamlNode* own = childOf(&item, "id"); own && own->text == id) return &item;
    return nullptr;
}

std::vector<TableRemark> unusedParts(const ReviewedText& text) {
    std::vector<TableRemark> out;
    const TableOutline outline = outlineOf(text.root);
    const std::set<std::string> used = reached(text.root, outline.names);
    for (const TableName& name : outline.names) {
        if (used.contains(name.name)) continue;
        out.push_back(
            {TableRemark::Kind::unused,
             {text.file, name.line, name.column},
             "",
             "",
             "no rule comes to the " + std::string(sectionThing(name.section)) + " '" + name.name + "'",
             "use it in a rule, or take it out"});
    }
    const YamlNode* materials = childOf(&text.root, "materials");
    if (materials && std::none_of(used.begin(), used.end(), reckonsWithSteel))
        for (const YamlNode& item : materials->items)
            out.push_back({TableRemark::Kind::unused, text.at(item), "", "",
                           "no rule reckons with the figures of a material",
                           "take them out, or measure tensile, yield, stiffness_over or strength_over"});
    return out;
}

TableReview reviewTableText(const std::string& text, const std::string& name) {
    TableReview out;
    RuleTableResult read = readRuleTableText(text, name);
    out.table = std::move(read.table);
    out.problems = std::move(read.problems);
    if (!out.table) return out;
    const YamlTree tree = readYamlTree(withoutByteOrderMark(text), name);
    if (!tree.root) return out;
    const ReviewedText reviewed{*out.table, *tree.root, name};
    for (auto part : {unusedParts, emptyRules, contradictions}) {
        const std::vector<TableRemark> some = part(reviewed);
        out.remarks.insert(out.remarks.end(), some.begin(), some.end());
    }
    std::stable_sort(out.remarks.begin(), out.remarks.end(), [](const TableRemark& a, const TableRemark& b) {
        return std::pair(a.at.line, a.at.column) < std::pair(b.at.line, b.at.column);
    });
    return out;
}

TableReview reviewTableFile(const std::filesystem::path& file) {
    WholeText whole = readWholeFile(file.string());
    if (!whole.text) return {nullptr, std::move(whole.problems), {}};
    return reviewTableText(*whole.text, file.string());
}

}  // namespace hoopwright
