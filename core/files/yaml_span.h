// Where the values of a YAML text end; the parser only tells where they start.
#pragma once

#include <string_view>

#include "core/files/yaml_tree.h"

namespace hoopwright {

/// Sets `end` of every node of the tree read from `text`.
/// Returns a text in quotes that is never closed (the parser lets the end of the file close it), or null.
const YamlNode* findSpans(YamlNode& node, std::string_view text);

/// One past the last byte of a key that starts at `begin`.
std::size_t keyEnd(std::string_view text, const YamlKey& key);

}  // namespace hoopwright
