// Which tube of the shop's list each of several tables takes for a bar.
#pragma once

#include <span>
#include <vector>

#include "rules/several_tables.h"

namespace hoopwright {

/// For each bar that rules about tube of two tables or more judge: what each takes, what all take. Every tube
/// of the list is put in every bar and held against those rules alone. Not yet in words.
std::vector<SharedLimit> sharedTube(std::span<const RuleTableRef> tables, const Job& job,
                                    const CageGeometry& cage);

}  // namespace hoopwright
