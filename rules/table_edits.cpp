// Small changes to the text of a table: every byte they are not about stays.
#include <algorithm>
#include <iterator>
#include <set>

#include "core/files/out_node.h"
#include "core/files/yaml_span.h"
#include "rules/table_outline.h"

namespace hoopwright {
namespace {

struct TextChange {
    std::size_t begin = 0, end = 0;
    std::string text;
};

std::string applied(std::string_view text, std::vector<TextChange> pieces) {
    std::stable_sort(pieces.begin(), pieces.end(),
                     [](const TextChange& a, const TextChange& b) { return a.begin < b.begin; });
    std::string out;
    std::size_t at = 0;
    for (const TextChange& piece : pieces) {
        if (piece.begin < at) continue;  // inside what is gone already
        out += text.substr(at, piece.begin - at);
        out += piece.text;
        at = piece.end;
    }
    out += text.substr(at);
    return out;
}

std::string_view lineEndOf(std::string_view text) {
    return text.find("\r\n") == std::string_view::npos ? "\n" : "\r\n";
}

std::size_t lineStart(std::string_view text, std::size_t at) {
    const std::size_t before = at == 0 ? std::string_view::npos : text.rfind('\n', at - 1);
    return before == std::string_view::npos ? 0 : before + 1;
}

/// Before the line end of the line a byte is in.
std::size_t lineStop(std::string_view text, std::size_t at) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    return end > at && text[end - 1] == '\r' ? end - 1 : end;
}

/// Past the line end.
std::size_t nextLine(std::string_view text, std::size_t at) {
    const std::size_t end = text.find('\n', at);
    return end == std::string_view::npos ? text.size() : end + 1;
}

std::size_t indentAt(std::string_view text, std::size_t at) {
    const std::size_t start = lineStart(text, at);
    const std::size_t first = text.find_first_not_of(' ', start);
    return first == std::string_view::npos ? 0 : first - start;
}

std::string spaces(std::size_t count) {
    return std::string(count, ' ');
}

/// A tree whose bytes are those of `text`; it has no byte order mark.
std::optional<YamlNode> treeOf(std::string_view text) {
    YamlTree tree = readYamlTree(text, "");
    if (!tree.root || tree.root->kind != YamlNode::Kind::map) return std::nullopt;
    return std::move(tree.root);
}

const YamlNode* ruleNode(const YamlNode& root, int rule) {
    const YamlNode* rules = childOf(&root, "rules");
    if (!rules || rules->kind != YamlNode::Kind::list || rule < 0) return nullptr;
    if (static_cast<std::size_t>(rule) >= rules->items.size()) return nullptr;
    const YamlNode& found = rules->items[static_cast<std::size_t>(rule)];
    return found.kind == YamlNode::Kind::map && !found.keys.empty() ? &found : nullptr;
}

/// Where the value of a key starts and ends; of one with nothing behind its colon, right behind that.
TextChange valueSpan(std::string_view text, const YamlKey& key, const YamlNode& value) {
    if (value.kind != YamlNode::Kind::nothing && value.end > value.begin) return {value.begin, value.end, ""};
    const std::size_t colon = text.find(':', keyEnd(text, key));
    const std::size_t at = colon == std::string_view::npos ? text.size() : colon + 1;
    return {at, at, " "};
}

TextChange removal(std::string_view text, const YamlNode& map, std::size_t i) {
    const std::size_t begin = map.keys[i].begin;
    const std::size_t end = valueSpan(text, map.keys[i], map.items[i]).end;
    if (!map.flow) return {lineStart(text, begin), nextLine(text, end), ""};
    if (i + 1 < map.keys.size()) return {begin, map.keys[i + 1].begin, ""};
    const std::size_t comma = text.rfind(',', begin);
    return {comma == std::string_view::npos ? begin : comma, end, ""};
}

/// "key: value" lines at an indent, the first without it.
std::string keyLines(const RuleKeys& keys, std::size_t indent, std::string_view line_end) {
    std::string out;
    for (const auto& [key, value] : keys) {
        if (!out.empty()) out += std::string(line_end) + spaces(indent);
        out += key + ": " + value;
    }
    return out;
}

std::string inBraces(const RuleKeys& keys) {
    std::string out;
    for (const auto& [key, value] : keys) out += (out.empty() ? "" : ", ") + key + ": " + value;
    return "{" + out + "}";
}

/// Behind the last value of a mapping that stays: `last` is its index.
TextChange addition(std::string_view text, const YamlNode& map, std::size_t last, const RuleKeys& keys,
                    std::string_view line_end) {
    const std::string mark = map.keys.empty() ? "" : ", ";
    if (map.flow) {
        const std::string inside = inBraces(keys);
        return {map.end - 1, map.end - 1, mark + inside.substr(1, inside.size() - 2)};
    }
    const std::size_t at = lineStop(text, valueSpan(text, map.keys[last], map.items[last]).end);
    const std::size_t indent = map.keys[0].begin - lineStart(text, map.keys[0].begin);
    return {at, at, std::string(line_end) + spaces(indent) + keyLines(keys, indent, line_end)};
}

/// Above the rules and the remarks right above them.
std::size_t aboveRules(std::string_view text, const YamlNode& root) {
    std::size_t at = text.size();
    for (const YamlKey& key : root.keys)
        if (key.text == "rules") at = lineStart(text, key.begin);
    while (at > 0) {
        const std::size_t before = lineStart(text, at - 1);
        if (text[before] != '#') break;
        at = before;
    }
    return at;
}

}  // namespace

RuleKeys ruleKeys(std::string_view whole, int rule) {
    const std::string_view text = withoutByteOrderMark(whole);
    const auto root = treeOf(text);
    const YamlNode* node = root ? ruleNode(*root, rule) : nullptr;
    RuleKeys out;
    if (!node) return out;
    for (std::size_t i = 0; i < node->keys.size(); ++i) {
        const TextChange at = valueSpan(text, node->keys[i], node->items[i]);
        out.emplace_back(node->keys[i].text, std::string(text.substr(at.begin, at.end - at.begin)));
    }
    return out;
}

std::string withRuleKeys(std::string_view whole, int rule, const std::vector<KeyChange>& changes) {
    const std::string_view text = withoutByteOrderMark(whole);
    const auto root = treeOf(text);
    const YamlNode* node = root ? ruleNode(*root, rule) : nullptr;
    if (!node) return std::string(whole);
    std::vector<TextChange> pieces;
    RuleKeys more;
    std::set<std::size_t> gone;
    for (const auto& [key, value] : changes) {
        const auto known = std::find_if(node->keys.begin(), node->keys.end(),
                                        [&, name = key](const YamlKey& one) { return one.text == name; });
        if (known == node->keys.end()) {
            if (value) more.emplace_back(key, *value);
            continue;
        }
        const auto i = static_cast<std::size_t>(std::distance(node->keys.begin(), known));
        if (!value) {
            if (i == 0) continue;  // the first stands behind the dash
            pieces.push_back(removal(text, *node, i));
            gone.insert(i);
            continue;
        }
        TextChange at = valueSpan(text, *known, node->items[i]);
        at.text += *value;
        pieces.push_back(std::move(at));
    }
    std::size_t last = node->keys.size() - 1;
    while (gone.contains(last)) --last;
    if (!more.empty()) pieces.push_back(addition(text, *node, last, more, lineEndOf(text)));
    return std::string(whole.substr(0, whole.size() - text.size())) + applied(text, std::move(pieces));
}

std::string withNewRule(std::string_view whole, int after, const RuleKeys& keys) {
    const std::string_view text = withoutByteOrderMark(whole);
    const std::string head(whole.substr(0, whole.size() - text.size()));
    const auto root = treeOf(text);
    const std::string line_end(lineEndOf(text));
    const YamlNode* rules = root ? childOf(&*root, "rules") : nullptr;
    const auto block = [&](std::size_t dash) {
        return line_end + spaces(dash) + "- " + keyLines(keys, dash + 2, line_end);
    };
    if (!rules) {
        const std::string gap = text.empty() || text.back() == '\n' ? "" : line_end;
        return std::string(whole) + gap + "rules:" + block(2) + line_end;
    }
    if (rules->kind == YamlNode::Kind::list && !rules->items.empty()) {
        const std::size_t last = rules->items.size() - 1;
        const std::size_t behind = after < 0 ? last : std::min(static_cast<std::size_t>(after), last);
        const YamlNode& item = rules->items[behind];
        if (rules->flow) return head + applied(text, {{item.end, item.end, ", " + inBraces(keys)}});
        const std::size_t at = lineStop(text, item.end);
        return head + applied(text, {{at, at, block(indentAt(text, item.begin))}});
    }
    for (std::size_t i = 0; i < root->keys.size(); ++i) {
        if (root->keys[i].text != "rules") continue;
        // `rules:` or `rules: []`
        const TextChange value = valueSpan(text, root->keys[i], root->items[i]);
        const std::size_t colon = text.find(':', keyEnd(text, root->keys[i]));
        return head + applied(text, {{colon + 1, value.end, block(2)}});
    }
    return std::string(whole);
}

std::string withNewName(std::string_view whole, TableSection section, const std::string& name,
                        const std::string& value) {
    const std::string_view text = withoutByteOrderMark(whole);
    const std::string head(whole.substr(0, whole.size() - text.size()));
    const auto root = treeOf(text);
    if (!root) return std::string(whole);
    const std::string line_end(lineEndOf(text));
    const YamlNode* map = childOf(&*root, sectionWord(section));
    if (map && map->kind == YamlNode::Kind::map && (map->flow || !map->keys.empty()))
        return head + applied(text, {addition(text, *map, map->keys.size() - 1, {{name, value}}, line_end)});
    const std::size_t at = aboveRules(text, *root);
    const std::string entry = std::string(sectionWord(section)) + ":" + line_end + "  " + name + ": " + value;
    return head + applied(text, {{at, at, entry + line_end + line_end}});
}

std::string renamedTable(std::string_view whole, const std::string& id, const std::string& title,
                         const std::string& written_by) {
    const std::string_view text = withoutByteOrderMark(whole);
    const auto root = treeOf(text);
    if (!root) return std::string(whole);
    std::vector<TextChange> pieces;
    for (std::size_t i = 0; i < root->keys.size(); ++i) {
        const std::string& key = root->keys[i].text;
        const std::string* now = key == "id"           ? &id
                                 : key == "title"      ? &title
                                 : key == "written_by" ? &written_by
                                                       : nullptr;
        if (!now) continue;
        TextChange at = valueSpan(text, root->keys[i], root->items[i]);
        at.text += outText(*now).text;
        pieces.push_back(std::move(at));
    }
    return std::string(whole.substr(0, whole.size() - text.size())) + applied(text, std::move(pieces));
}

}  // namespace hoopwright
