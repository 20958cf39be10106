// What rules say of the bends of each bar: for the sheet that goes to the bender.
#pragma once

#include <span>
#include <vector>

#include "core/model/cage_geometry.h"
#include "rules/check.h"

namespace hoopwright {

/// What one rule says of one bar alone.
struct BarFinding {
    int member = -1;  ///< index into CageGeometry::members
    Finding finding;
};

/// Of every bent bar, one finding for each rule that measures its bends (their number, sum, radius,
/// roundness, the wall that is left outside) or judges its tube by the wall its bends leave; whether it meets
/// or not, as check() answers. Questions that ask of bends stand with every bar they are about. Rules that do
/// not apply are left out.
std::vector<BarFinding> bendFindings(std::span<const RuleTableRef> tables, const Job& job,
                                     const CageGeometry& cage);

}  // namespace hoopwright
