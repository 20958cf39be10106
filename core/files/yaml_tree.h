// Text of a YAML file as a plain tree that knows where everything stands. Only what a job file may hold: one
// document, mappings, lists and scalars; no aliases, anchors or tags.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/problem.h"

namespace hoopwright {

/// Largest file read [bytes], and deepest nesting of lists and mappings.
inline constexpr std::size_t kYamlGreatestSize = 4u << 20;
inline constexpr int kYamlGreatestDepth = 40;

struct YamlKey;

/// One value of the file. `begin` and `end` are bytes of the text without its byte order mark.
struct YamlNode {
    enum class Kind { nothing, scalar, list, map };
    Kind kind = Kind::nothing;
    std::string text;     ///< of a scalar, quotes and escapes undone
    bool quoted = false;  ///< a scalar in quotes or a block of text: never a number, never yes or no
    bool flow = false;    ///< a list in [] or a mapping in {}
    int line = 0;         ///< from 1
    int column = 0;       ///< from 1, in characters
    std::size_t begin = 0;
    std::size_t end =
        0;  ///< one past its last byte: of the closing quote or bracket, or of the last thing in a block
    std::vector<YamlKey> keys;    ///< of a map, as many as items
    std::vector<YamlNode> items;  ///< of a list; the values of a map
};
struct YamlKey {
    std::string text;
    int line = 0, column = 0;
    std::size_t begin = 0;
};

struct YamlTree {
    std::optional<YamlNode> root;  ///< nothing if the text is not such a file
    Problems problems;             ///< why not, at most one of syntax; and every alias, anchor and tag
};

/// Never throws. Sizes over kYamlGreatestSize, text that is not UTF-8, control characters, nesting deeper
/// than kYamlGreatestDepth, an empty file, and a second document are problems.
YamlTree readYamlTree(std::string_view text, const std::string& file);

/// The text without its byte order mark.
std::string_view withoutByteOrderMark(std::string_view text);

/// Whole text of a file. The reason says what kept it from being read: not there, a folder, too large.
struct WholeText {
    std::optional<std::string> text;
    Problems problems;
};
WholeText readWholeFile(const std::string& file);

}  // namespace hoopwright
