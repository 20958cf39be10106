#include "rules/table_outline.h"

#include <algorithm>

namespace hoopwright {
namespace {

constexpr TableSection kSections[] = {TableSection::facts,           TableSection::roles,
                                      TableSection::groups,          TableSection::places,
                                      TableSection::reference_tubes, TableSection::tubes};

std::string textUnder(const YamlNode* map, std::string_view key) {
    const YamlNode* found = childOf(map, key);
    return found && found->kind == YamlNode::Kind::scalar ? found->text : std::string();
}

void addNames(TableOutline& out, const YamlNode& root, TableSection section) {
    const YamlNode* map = childOf(&root, sectionWord(section));
    if (!map || map->kind != YamlNode::Kind::map) return;
    for (std::size_t i = 0; i < map->keys.size(); ++i) {
        const YamlKey& key = map->keys[i];
        const YamlNode& value = map->items[i];
        TableName name{section, key.text, textUnder(&value, "meaning"), key.line, key.column};
        if (section == TableSection::roles) name.meaning = value.text;
        out.names.push_back(std::move(name));
    }
}

}  // namespace

std::string_view sectionWord(TableSection section) {
    switch (section) {
        case TableSection::facts:
            return "facts";
        case TableSection::roles:
            return "roles";
        case TableSection::groups:
            return "groups";
        case TableSection::places:
            return "places";
        case TableSection::reference_tubes:
            return "reference_tubes";
        case TableSection::tubes:
            return "tubes";
    }
    return "";
}

std::string_view sectionThing(TableSection section) {
    switch (section) {
        case TableSection::facts:
            return "fact";
        case TableSection::roles:
            return "role";
        case TableSection::groups:
            return "group";
        case TableSection::places:
            return "place";
        case TableSection::reference_tubes:
            return "reference tube";
        case TableSection::tubes:
            return "tube table";
    }
    return "";
}

const RulePlace* TableOutline::rule(std::string_view wanted) const {
    for (const RulePlace& one : rules)
        if (one.id == wanted) return &one;
    return nullptr;
}

int TableOutline::ruleAt(std::size_t byte) const {
    int found = -1;
    for (std::size_t i = 0; i < rules.size() && rules[i].begin <= byte; ++i) found = static_cast<int>(i);
    return found;
}

std::vector<std::string> TableOutline::namesOf(TableSection section) const {
    std::vector<std::string> out;
    for (const TableName& one : names)
        if (one.section == section) out.push_back(one.name);
    return out;
}

TableOutline outlineOf(const YamlNode& root) {
    TableOutline out;
    out.id = textUnder(&root, "id");
    out.title = textUnder(&root, "title");
    for (TableSection section : kSections) addNames(out, root, section);
    const YamlNode* rules = childOf(&root, "rules");
    if (!rules || rules->kind != YamlNode::Kind::list) return out;
    for (const YamlNode& item : rules->items) {
        const bool keyed = item.kind == YamlNode::Kind::map && !item.keys.empty();
        out.rules.push_back({textUnder(&item, "id"), keyed ? item.keys[0].line : item.line,
                             keyed ? item.keys[0].column : item.column,
                             keyed && !item.flow ? item.keys[0].begin : item.begin, item.end});
    }
    return out;
}

std::optional<TableOutline> outlineTable(std::string_view text) {
    const YamlTree tree = readYamlTree(text, "");
    if (!tree.root || tree.root->kind != YamlNode::Kind::map) return std::nullopt;
    return outlineOf(*tree.root);
}

const YamlNode* childOf(const YamlNode* map, std::string_view key) {
    if (!map || map->kind != YamlNode::Kind::map) return nullptr;
    for (std::size_t i = 0; i < map->keys.size(); ++i)
        if (map->keys[i].text == key) return &map->items[i];
    return nullptr;
}

std::string canonicalText(const YamlNode* node) {
    if (!node) return "";
    std::string out;
    switch (node->kind) {
        case YamlNode::Kind::nothing:
            return "~";
        case YamlNode::Kind::scalar:
            return node->text;
        case YamlNode::Kind::list:
            // A list of one is as good as the one.
            if (node->items.size() == 1) return canonicalText(&node->items[0]);
            for (const YamlNode& item : node->items) out += canonicalText(&item) + ",";
            return "[" + out + "]";
        case YamlNode::Kind::map: {
            std::vector<std::string> parts;
            for (std::size_t i = 0; i < node->keys.size(); ++i)
                parts.push_back(node->keys[i].text + ":" + canonicalText(&node->items[i]));
            std::sort(parts.begin(), parts.end());
            for (const std::string& part : parts) out += part + ",";
            return "{" + out + "}";
        }
    }
    return out;
}

}  // namespace hoopwright
