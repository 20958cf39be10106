// What fails of a check, to tell what a change has made worse.
#pragma once

#include <set>
#include <string>
#include <tuple>

#include "rules/check.h"

namespace hoopwright {

/// Table, rule and subject.
using RuleKey = std::tuple<std::string, std::string, std::string>;
RuleKey keyOf(const Finding& finding);
/// Of each required rule that fails.
using Failing = std::set<RuleKey>;
Failing failing(const CheckReport& report);
/// Is this a required rule that fails and is not one of those?
bool failsAnew(const Finding& finding, const Failing& before);

/// Kind, member and plate of each geometry problem.
using Troubles = std::set<std::tuple<int, std::string, std::string>>;
Troubles troublesOf(const CageGeometry& cage);
/// The first problem of a kind and part that was not among those; null: none is new.
const GeometryProblem* newTrouble(const CageGeometry& cage, const Troubles& before);

}  // namespace hoopwright
