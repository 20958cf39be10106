// What a file should say, as a tree of keys and written values; and its text in our own style.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/files/yaml_map.h"

namespace hoopwright {

/// One value as it would be written. Two equal nodes mean the same to the reader.
struct OutNode {
    enum class Kind { scalar, list, map };
    Kind kind = Kind::scalar;
    std::string text;   ///< scalar: ready to write on one line, quotes and all
    std::string lines;  ///< scalar: a text of several lines, better written as a block; else empty
    std::optional<LengthUnit>
        unit;           ///< scalar: a bare length, and so with another meaning in a file of another unit
    bool flow = false;  ///< list or map: in brackets
    std::vector<std::string> keys;  ///< map: as many as items
    std::vector<OutNode> items;

    static OutNode list(bool in_brackets);
    static OutNode map(bool in_brackets);
    void add(std::string key, OutNode value);
    void add(OutNode item) { items.push_back(std::move(item)); }
    const OutNode* find(std::string_view key) const;
    /// How it is written does not matter, what it says does.
    friend bool operator==(const OutNode& a, const OutNode& b);
};

/// A text, quoted where it would else read as something other than this text.
OutNode outText(const std::string& text);
OutNode outQuoted(const std::string& text);
/// A measure in the file's unit: lengths bare, everything else with its unit. Reads back as exactly `base`.
OutNode outMeasure(double base, Dimension dimension, LengthUnit unit);
/// The same with its unit always said.
OutNode outMeasureWithUnit(double base, Dimension dimension, LengthUnit unit);
OutNode outNumber(double value);
OutNode outYesNo(bool yes);

/// How a node is written into a text.
struct OutStyle {
    int indent = 0;            ///< of the keys or dashes of a block collection [spaces]
    bool in_brackets = false;  ///< block style is not allowed
    int column = 0;            ///< where the first line starts
    std::string line_end = "\n";
    int width = 112;  ///< lists in brackets are broken before this column where they can be
};
/// Text without a last line end. A block collection starts with its first key or dash, not indented.
std::string written(const OutNode& node, const OutStyle& style);
/// "key: value" at the style's indent, value in our own layout; no line end after it.
std::string writtenEntry(const std::string& key, const OutNode& value, const OutStyle& style);
std::string writtenItem(const OutNode& item, const OutStyle& style);
/// Pieces in brackets, broken into lines where they are too long; continued lines are indented by `indent`
/// + 1.
std::string inBrackets(char open, const std::vector<std::string>& pieces, const OutStyle& style);
/// A whole file.
std::string writtenFile(const OutNode& top);

}  // namespace hoopwright
