#include "core/files/out_node.h"

#include <algorithm>

namespace hoopwright {
namespace {

std::string spaces(int count) {
    return std::string(static_cast<std::size_t>(std::max(count, 0)), ' ');
}

std::string writtenBlockText(const std::string& lines, const OutStyle& style) {
    const bool ends = lines.back() == '\n';
    std::string out = ends ? "|" : "|-";
    std::size_t from = 0;
    while (from < lines.size()) {
        const std::size_t stop = std::min(lines.find('\n', from), lines.size());
        out += style.line_end;
        if (stop > from) out += spaces(style.indent) + lines.substr(from, stop - from);
        from = stop + 1;
    }
    return out;
}

std::string writtenInBrackets(const OutNode& node, const OutStyle& style) {
    OutStyle inner = style;
    inner.in_brackets = true;
    inner.width = 1'000'000;  // only the outermost brackets are broken into lines
    std::vector<std::string> pieces;
    for (std::size_t i = 0; i < node.items.size(); ++i) {
        const std::string key = node.kind == OutNode::Kind::map ? node.keys[i] + ": " : "";
        pieces.push_back(key + written(node.items[i], inner));
    }
    return inBrackets(node.kind == OutNode::Kind::map ? '{' : '[', pieces, style);
}

}  // namespace

OutNode OutNode::list(bool in_brackets) {
    OutNode node;
    node.kind = Kind::list;
    node.flow = in_brackets;
    return node;
}

OutNode OutNode::map(bool in_brackets) {
    OutNode node = list(in_brackets);
    node.kind = Kind::map;
    return node;
}

void OutNode::add(std::string key, OutNode value) {
    keys.push_back(std::move(key));
    items.push_back(std::move(value));
}

const OutNode* OutNode::find(std::string_view key) const {
    const auto found = std::ranges::find(keys, key);
    return found == keys.end() ? nullptr : &items[static_cast<std::size_t>(found - keys.begin())];
}

bool operator==(const OutNode& a, const OutNode& b) {
    return a.kind == b.kind && a.text == b.text && a.unit == b.unit && a.keys == b.keys && a.items == b.items;
}

std::string inBrackets(char open, const std::vector<std::string>& pieces, const OutStyle& style) {
    std::string out(1, open);
    int column = style.column + 1;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const std::string piece = pieces[i] + (i + 1 < pieces.size() ? "," : "");
        const int length = static_cast<int>(piece.size());
        if (i > 0 && column + 1 + length >= style.width) {
            out += style.line_end + spaces(style.indent + 1) + piece;
            column = style.indent + 1 + length;
        } else {
            out += (i > 0 ? " " : "") + piece;
            column += (i > 0 ? 1 : 0) + length;
        }
    }
    return out + (open == '{' ? '}' : ']');
}

std::string written(const OutNode& node, const OutStyle& style) {
    if (node.kind == OutNode::Kind::scalar) {
        return node.lines.empty() || style.in_brackets ? node.text : writtenBlockText(node.lines, style);
    }
    if (node.flow || style.in_brackets || node.items.empty()) return writtenInBrackets(node, style);
    std::string out;
    for (std::size_t i = 0; i < node.items.size(); ++i) {
        const std::string entry = node.kind == OutNode::Kind::map
                                      ? writtenEntry(node.keys[i], node.items[i], style)
                                      : writtenItem(node.items[i], style);
        out += (i > 0 ? style.line_end : "") +
               (i > 0 ? entry : entry.substr(static_cast<std::size_t>(style.indent)));
    }
    return out;
}

std::string writtenEntry(const std::string& key, const OutNode& value, const OutStyle& style) {
    OutStyle inner = style;
    inner.indent = style.indent + 2;
    inner.column = style.indent + static_cast<int>(key.size()) + 2;
    const std::string head = spaces(style.indent) + key + ":";
    const bool block = value.kind != OutNode::Kind::scalar && !value.flow && !value.items.empty();
    if (block) return head + style.line_end + spaces(inner.indent) + written(value, inner);
    return head + " " + written(value, inner);
}

std::string writtenItem(const OutNode& item, const OutStyle& style) {
    OutStyle inner = style;
    inner.indent = inner.column = style.indent + 2;
    return spaces(style.indent) + "- " + written(item, inner);
}

std::string writtenFile(const OutNode& top) {
    return written(top, {}) + "\n";
}

}  // namespace hoopwright
