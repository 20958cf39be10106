// Which rules ask for nothing but tube: section, material, bend radius.
#pragma once

#include <set>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "rules/check.h"

namespace hoopwright {

struct Rule;

/// Does it measure a bar's tube or the radius it is bent to, or in one of its alternatives?
bool isAboutTube(const Rule& rule);
/// Table and rule of each that does.
std::set<std::pair<std::string, std::string>> rulesAboutTube(std::span<const RuleTableRef> tables);
/// The tables with nothing but those rules.
std::vector<RuleTableRef> onlyTubeRules(std::span<const RuleTableRef> tables);

}  // namespace hoopwright
