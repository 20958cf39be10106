#include "core/files/yaml_span.h"

#include <algorithm>

namespace hoopwright {
namespace {

constexpr std::size_t kNowhere = std::string_view::npos;

bool isSpace(char c) {
    return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

/// One past the closing quote of the quoted text at `begin`, or kNowhere.
std::size_t quotedEnd(std::string_view text, std::size_t begin) {
    const char quote = text[begin];
    for (std::size_t i = begin + 1; i < text.size(); ++i) {
        if (quote == '"' && text[i] == '\\') {
            ++i;
        } else if (text[i] == quote) {
            if (quote == '"' || i + 1 >= text.size() || text[i + 1] != '\'') return i + 1;
            ++i;  // '' is one quote inside single quotes
        }
    }
    return kNowhere;
}

/// A bare text may go over several lines; its words are the same, only the space between them differs.
std::size_t bareEnd(std::string_view text, std::size_t begin, std::string_view value) {
    std::size_t at = begin, end = begin;
    for (const char c : value) {
        if (isSpace(c)) continue;
        while (at < text.size() && isSpace(text[at])) ++at;
        if (at >= text.size() || text[at] != c) return end;
        end = ++at;
    }
    return end;
}

/// End of a `|` or `>` text: its last line that is not blank and is indented like its first.
std::size_t blockTextEnd(std::string_view text, std::size_t begin, std::string_view value) {
    std::size_t end = std::min(text.find('\n', begin), text.size());
    const bool blank_value = std::all_of(value.begin(), value.end(), isSpace);
    if (blank_value) return end;
    std::size_t indent = kNowhere;
    for (std::size_t line = end + 1; line < text.size();) {
        const std::size_t stop = std::min(text.find('\n', line), text.size());
        const std::size_t first = std::min(text.find_first_not_of(" \r", line), stop);
        if (first < stop) {
            if (indent == kNowhere) indent = first - line;
            if (first - line < indent) break;
            end = stop;
        }
        line = stop + 1;
    }
    return end;
}

/// Past blanks, commas, line ends and comments, as between the items of a list in brackets.
std::size_t pastGaps(std::string_view text, std::size_t at) {
    while (at < text.size()) {
        if (text[at] == '#') {
            at = std::min(text.find('\n', at), text.size());
        } else if (isSpace(text[at]) || text[at] == ',') {
            ++at;
        } else {
            break;
        }
    }
    return at;
}

std::size_t scalarEnd(std::string_view text, const YamlNode& node) {
    const char first = node.begin < text.size() ? text[node.begin] : ' ';
    if (!node.quoted) return bareEnd(text, node.begin, node.text);
    if (first == '"' || first == '\'') return quotedEnd(text, node.begin);
    return blockTextEnd(text, node.begin, node.text);
}

const YamlNode* listOrMapSpans(YamlNode& node, std::string_view text) {
    node.end = node.begin;
    for (std::size_t i = 0; i < node.items.size(); ++i) {
        if (node.kind == YamlNode::Kind::map) node.end = std::max(node.end, keyEnd(text, node.keys[i]));
        if (const YamlNode* unclosed = findSpans(node.items[i], text)) return unclosed;
        node.end = std::max(node.end, node.items[i].end);
    }
    if (node.flow && node.begin < text.size() && (text[node.begin] == '[' || text[node.begin] == '{')) {
        const std::size_t from = std::max(node.end, node.begin + 1);
        node.end = std::min(pastGaps(text, from) + 1, text.size());
    }
    return nullptr;
}

}  // namespace

std::size_t keyEnd(std::string_view text, const YamlKey& key) {
    if (key.begin >= text.size()) return text.size();
    if (text[key.begin] != '"' && text[key.begin] != '\'') return bareEnd(text, key.begin, key.text);
    return std::min(quotedEnd(text, key.begin), text.size());
}

const YamlNode* findSpans(YamlNode& node, std::string_view text) {
    switch (node.kind) {
        case YamlNode::Kind::nothing:
            return nullptr;
        case YamlNode::Kind::scalar:
            node.end = scalarEnd(text, node);
            if (node.end != kNowhere) return nullptr;
            node.end = text.size();
            return &node;
        case YamlNode::Kind::list:
        case YamlNode::Kind::map:
            return listOrMapSpans(node, text);
    }
    return nullptr;
}

}  // namespace hoopwright
