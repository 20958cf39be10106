// A rule on one line, everything in it that decides: two editions differ where these words do.
#pragma once

#include <string>

#include "rules/check.h"

namespace hoopwright {

struct Rule;

/// "4.2 Each rear brace stands ... [measure: angle_to_vertical, of: {group: braces}, at_least: 30 deg;
/// braces: {role: rear_brace}]": clause, sentence, what the table says, what the names in it stand for, and
/// the figures under `materials` it reckons with.
std::string ruleWords(const RuleTable& table, const Rule& rule);

}  // namespace hoopwright
