// What in a job names a member or a plate.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "core/model/cage_geometry.h"

namespace hoopwright {

bool contains(const std::vector<std::string>& all, std::string_view one);
/// Layout ids; the reference may say a side.
bool mentions(const std::vector<std::string>& ids, std::string_view reference);
/// Calls `visit` with every text of a member, a dimension or the whole job that names a member or a plate.
void eachReference(Member& member, const std::function<void(std::string&)>& visit);
void eachReference(PinnedDimension& pinned, const std::function<void(std::string&)>& visit);
void eachReference(Job& job, const std::function<void(std::string&)>& visit);

}  // namespace hoopwright
