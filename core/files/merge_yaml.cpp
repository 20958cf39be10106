#include "core/files/merge_yaml.h"

#include <algorithm>
#include <optional>

#include "core/files/list_origin.h"
#include "core/files/yaml_span.h"

namespace hoopwright {
namespace {

bool isBlank(std::string_view line) {
    return line.find_first_not_of(" \t\r\n") == std::string_view::npos;
}

bool isComment(std::string_view line) {
    const std::size_t first = line.find_first_not_of(" \t");
    return first != std::string_view::npos && line[first] == '#';
}

bool isBlock(const YamlNode& node) {
    return !node.flow && (node.kind == YamlNode::Kind::list || node.kind == YamlNode::Kind::map);
}

bool isAlike(const YamlNode& old, const OutNode* was, const OutNode& now) {
    if (!was || was->kind != now.kind) return false;
    if (old.kind == YamlNode::Kind::map) return now.kind == OutNode::Kind::map;
    return old.kind == YamlNode::Kind::list && now.kind == OutNode::Kind::list &&
           old.items.size() == was->items.size();
}

/// What a mapping will hold: entries of the old text by index, and keys of `now` that are new (index -1).
struct PlannedEntry {
    int old = -1;
    std::string key;
};
std::vector<PlannedEntry> plannedEntries(const YamlNode& old, const OutNode& was, const OutNode& now) {
    std::vector<PlannedEntry> plan;
    for (std::size_t i = 0; i < old.keys.size(); ++i) {
        const std::string& key = old.keys[i].text;
        // A key that only says what leaving it out says is in neither, and stays.
        if (now.find(key) || !was.find(key)) plan.push_back({static_cast<int>(i), key});
    }
    std::size_t after = 0;  // one past the entry that new keys follow
    for (const std::string& key : now.keys) {
        const auto there = std::ranges::find(plan, key, &PlannedEntry::key);
        if (there != plan.end()) {
            after = static_cast<std::size_t>(there - plan.begin()) + 1;
        } else {
            after = std::min(std::max<std::size_t>(after, 1), plan.size());
            plan.insert(plan.begin() + static_cast<std::ptrdiff_t>(after), {-1, key});
            ++after;
        }
    }
    return plan;
}

class Merge {
public:
    explicit Merge(std::string_view text) : text_(text) {
        const std::size_t first_end = text.find('\n');
        if (first_end != std::string_view::npos && first_end > 0 && text[first_end - 1] == '\r')
            line_end_ = "\r\n";
    }

    std::optional<std::string> whole(const YamlNode& old, const OutNode& was, const OutNode& now) const {
        if (!isBlock(old) || !isAlike(old, &was, now)) return std::nullopt;
        std::optional<std::string> body = blockMap(old, was, now, 0);
        if (body) *body += cut(afterLine(old.end), text_.size());
        return body;
    }

private:
    std::string cut(std::size_t from, std::size_t to) const {
        return std::string(text_.substr(from, std::max(from, to) - from));
    }
    std::size_t lineStart(std::size_t at) const {
        const std::size_t before = at == 0 ? std::string_view::npos : text_.rfind('\n', at - 1);
        return before == std::string_view::npos ? 0 : before + 1;
    }
    std::size_t afterLine(std::size_t at) const {
        const std::size_t stop = text_.find('\n', at);
        return stop == std::string_view::npos ? text_.size() : stop + 1;
    }
    std::string_view lineAt(std::size_t at) const { return text_.substr(at, afterLine(at) - at); }
    std::string ended(std::string piece) const {
        if (!piece.empty() && piece.back() != '\n') piece += line_end_;
        return piece;
    }
    /// Column of the first thing on the line of `at` that is neither space nor dash, from 0.
    int indentOfLine(std::size_t at) const {
        const std::size_t from = lineStart(at);
        return static_cast<int>(std::min(text_.find_first_not_of(" -", from), at) - from);
    }
    OutStyle styleAt(const YamlNode& old, bool in_brackets) const {
        OutStyle style;
        style.indent = indentOfLine(old.begin) + 2;
        style.column = old.column - 1;
        style.in_brackets = in_brackets;
        style.line_end = line_end_;
        return style;
    }

    /// What replaces the bytes of `old` where it is no block collection that goes on as one.
    std::string value(const YamlNode& old, const OutNode* was, const OutNode& now, bool in_brackets) const {
        if (was && *was == now) return cut(old.begin, old.end);
        if (old.flow && isAlike(old, was, now)) {
            return now.kind == OutNode::Kind::map ? bracketMap(old, *was, now) : bracketList(old, *was, now);
        }
        const bool alone = isBlank(text_.substr(old.end, afterLine(old.end) - old.end));
        const bool one_line = now.kind != OutNode::Kind::scalar || !alone;
        return written(now, styleAt(old, in_brackets || one_line));
    }

    std::string bracketMap(const YamlNode& old, const OutNode& was, const OutNode& now) const {
        const std::vector<PlannedEntry> plan = plannedEntries(old, was, now);
        const auto valueOf = [&](const PlannedEntry& entry) {
            const YamlNode& item = old.items[static_cast<std::size_t>(entry.old)];
            const OutNode* next = now.find(entry.key);
            return next ? value(item, was.find(entry.key), *next, true) : cut(item.begin, item.end);
        };
        const bool same_keys =
            plan.size() == old.keys.size() &&
            std::ranges::none_of(plan, [](const PlannedEntry& entry) { return entry.old < 0; });
        if (same_keys) {
            std::string out;
            std::size_t from = old.begin;
            for (const PlannedEntry& entry : plan) {
                const YamlNode& item = old.items[static_cast<std::size_t>(entry.old)];
                out += cut(from, item.begin) + valueOf(entry);
                from = item.end;
            }
            return out + cut(from, old.end);
        }
        std::vector<std::string> pieces;
        for (const PlannedEntry& entry : plan) {
            if (entry.old < 0) {
                pieces.push_back(entry.key + ": " + written(*now.find(entry.key), styleAt(old, true)));
            } else {
                const auto i = static_cast<std::size_t>(entry.old);
                pieces.push_back(cut(old.keys[i].begin, old.items[i].begin) + valueOf(entry));
            }
        }
        return inBrackets('{', pieces, styleAt(old, true));
    }

    std::string bracketList(const YamlNode& old, const OutNode& was, const OutNode& now) const {
        if (now.items.size() == was.items.size()) {
            std::string out;
            std::size_t from = old.begin;
            for (std::size_t i = 0; i < old.items.size(); ++i) {
                out += cut(from, old.items[i].begin) + value(old.items[i], &was.items[i], now.items[i], true);
                from = old.items[i].end;
            }
            return out + cut(from, old.end);
        }
        const std::vector<int> origin = listOrigin(was.items, now.items);
        std::vector<std::string> pieces;
        for (std::size_t i = 0; i < now.items.size(); ++i) {
            const auto k = static_cast<std::size_t>(std::max(origin[i], 0));
            pieces.push_back(origin[i] < 0 ? written(now.items[i], styleAt(old, true))
                                           : value(old.items[k], &was.items[k], now.items[i], true));
        }
        return inBrackets('[', pieces, styleAt(old, true));
    }

    /// What replaces the lines of a block collection from `start` (of its first line, or of itself behind a
    /// dash) to the end of its last line. Nothing if only writing it anew will do.
    std::optional<std::string> block(const YamlNode& old, const OutNode& was, const OutNode& now,
                                     std::size_t start) const {
        return now.kind == OutNode::Kind::map ? blockMap(old, was, now, start)
                                              : blockList(old, was, now, start);
    }

    /// Comments right above `at` go with it; what stands before them does not. Start of those comments.
    std::size_t ownStart(std::size_t region, std::size_t at) const {
        std::size_t own = std::max(lineStart(at), region);
        while (own > region && isComment(lineAt(lineStart(own - 1))))
            own = std::max(lineStart(own - 1), region);
        return own;
    }

    /// One entry or item: its lines are [region, next), its key or dash stands at `head`.
    std::string piece(const YamlNode& item, const OutNode* was, const OutNode& now, std::size_t region,
                      std::size_t next, std::size_t head_end) const {
        if (was && *was == now) return cut(region, next);
        const bool goes_on = isBlock(item) && isAlike(item, was, now) && !now.items.empty();
        if (goes_on) {
            const bool behind_dash = lineStart(item.begin) == lineStart(head_end);
            const std::size_t start = behind_dash ? item.begin : afterLine(head_end);
            if (const std::optional<std::string> inner = block(item, *was, now, start))
                return cut(region, start) + *inner;
        }
        if (isBlock(item)) {
            OutStyle style = styleAt(item, true);
            style.indent = indentOfLine(head_end - 1) + 2;
            style.column = style.indent;
            return cut(region, head_end) + " " + written(now, style) + line_end_;
        }
        return cut(region, item.begin) + value(item, was, now, false) + cut(item.end, next);
    }

    std::optional<std::string> blockMap(const YamlNode& old, const OutNode& was, const OutNode& now,
                                        std::size_t start) const {
        const std::vector<PlannedEntry> plan = plannedEntries(old, was, now);
        const bool behind_dash = start == old.begin && lineStart(start) != start;
        if (behind_dash && plan.front().old != 0) return std::nullopt;
        std::vector<std::string> kept(old.keys.size() + 1);  // of deleted entries: what was not theirs
        std::vector<std::size_t> region = {start};
        for (std::size_t i = 0; i < old.keys.size(); ++i) {
            region.push_back(afterLine(std::max(keyEnd(text_, old.keys[i]), old.items[i].end)));
            if (std::ranges::find(plan, static_cast<int>(i), &PlannedEntry::old) != plan.end()) continue;
            kept[i + 1] = kept[i] + cut(region[i], ownStart(region[i], old.keys[i].begin));
            kept[i].clear();
        }
        OutStyle style = styleAt(old, false);
        style.indent = old.column - 1;
        std::string out;
        for (const PlannedEntry& entry : plan) {
            const OutNode* next = now.find(entry.key);
            if (entry.old < 0) {
                out = ended(out) + writtenEntry(entry.key, *next, style) + line_end_;
                continue;
            }
            const auto i = static_cast<std::size_t>(entry.old);
            const std::size_t colon = text_.find(':', keyEnd(text_, old.keys[i]));
            if (colon == std::string_view::npos) return std::nullopt;
            out = ended(out) + kept[i];
            out += next ? piece(old.items[i], was.find(entry.key), *next, region[i], region[i + 1], colon + 1)
                        : cut(region[i], region[i + 1]);
        }
        return out + kept.back();
    }

    std::optional<std::string> blockList(const YamlNode& old, const OutNode& was, const OutNode& now,
                                         std::size_t start) const {
        if (lineStart(start) != start) return std::nullopt;
        const std::vector<int> origin = listOrigin(was.items, now.items);
        std::vector<std::size_t> region = {start}, dash;
        std::vector<std::string> kept(old.items.size() + 1);
        for (std::size_t i = 0; i < old.items.size(); ++i) {
            std::size_t line = region[i];
            while (line < text_.size() && (isBlank(lineAt(line)) || isComment(lineAt(line))))
                line = afterLine(line);
            dash.push_back(std::min(text_.find('-', line), text_.size()));
            region.push_back(afterLine(std::max(old.items[i].end, dash[i])));
            if (std::ranges::find(origin, static_cast<int>(i)) != origin.end()) continue;
            kept[i + 1] = kept[i] + cut(region[i], ownStart(region[i], dash[i]));
            kept[i].clear();
        }
        OutStyle style = styleAt(old, false);
        style.indent = old.column - 1;
        std::string out;
        for (std::size_t i = 0; i < now.items.size(); ++i) {
            if (origin[i] < 0) {
                out = ended(out) + writtenItem(now.items[i], style) + line_end_;
                continue;
            }
            const auto k = static_cast<std::size_t>(origin[i]);
            out = ended(out) + kept[k];
            out += piece(old.items[k], &was.items[k], now.items[i], region[k], region[k + 1], dash[k] + 1);
        }
        return out + kept.back();
    }

    std::string_view text_;
    std::string line_end_ = "\n";
};

}  // namespace

std::string mergeYaml(std::string_view text, const YamlNode& old, const OutNode& was, const OutNode& now) {
    const std::string_view body = withoutByteOrderMark(text);
    const std::string mark(text.substr(0, text.size() - body.size()));
    return mark + Merge(body).whole(old, was, now).value_or(writtenFile(now));
}

}  // namespace hoopwright
