// What rules say of each plate and gusset: for the sheets they are cut by.
#pragma once

#include <span>
#include <vector>

#include "core/model/cage_geometry.h"
#include "rules/check.h"

namespace hoopwright {

/// One finding for each rule and each plate or gusset it judges or asks about, whether it meets or not, as
/// check() answers; Finding::subject is its resolved id. Rules that do not apply, and those that count, are
/// left out. No evidence is kept.
std::vector<Finding> sheetFindings(std::span<const RuleTableRef> tables, const Job& job,
                                   const CageGeometry& cage);

}  // namespace hoopwright
