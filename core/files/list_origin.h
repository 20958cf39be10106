// Which item of an old list an item of the new one was.
#pragma once

#include <vector>

#include "core/files/out_node.h"

namespace hoopwright {

/// For each item of `now`, the index of the item of `was` it comes from, or -1; no item is used twice. Items
/// are known by their `id` or `name`; those without, by what they say; in lists of one length, what is left
/// pairs up by place.
std::vector<int> listOrigin(const std::vector<OutNode>& was, const std::vector<OutNode>& now);

}  // namespace hoopwright
