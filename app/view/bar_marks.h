// The mark a bar is painted with by what the rules answered about it.
#pragma once

#include <optional>
#include <vector>

#include "core/model/cage_geometry.h"
#include "render/colours.h"
#include "rules/check.h"
#include "rules/finding.h"

namespace hoopwright {

/// Nothing was answered, or the rules do not apply: no mark.
Mark markOf(std::optional<Answer> answer);
/// The worst answer about each bar, per resolved member.
std::vector<Mark> marksOf(const CheckReport& report, const CageGeometry& cage);

}  // namespace hoopwright
