// New values into an old text: what did not change keeps its own lines, comments and order.
#pragma once

#include <string>
#include <string_view>

#include "core/files/out_node.h"

namespace hoopwright {

/// @param text with or without byte order mark, both kept, as are its line ends
/// @param old the tree of `text`, @param was what we would have written for it, @param now what is to be
/// said. Only where `was` and `now` differ does the text change, down to the single value. List items are
/// followed by their `id` or `name`, else by what they say; new keys come after the key they follow in `now`;
/// keys that say no more than leaving them out would are left alone. Comments right above or behind what is
/// deleted go with it.
std::string mergeYaml(std::string_view text, const YamlNode& old, const OutNode& was, const OutNode& now);

}  // namespace hoopwright
