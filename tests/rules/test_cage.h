// A small cage of round numbers, and rules typed beside the test that holds them against it.
#pragma once

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "core/model/resolve.h"
#include "rules/check.h"

namespace hoopwright::test {

/// A hoop square to the car at x = 0: legs at y = +-600, top at z = 1000, both feet on plates. Two side bars,
/// two rear braces, a diagonal, a belt bar, a windshield bar, one driver on the left. All of 45x2.5 but the
/// braces (38x2.5).
Job smallJob();

/// What stands above `rules:` in every table here.
std::string tableText(const std::string& rules, const std::string& sections = "");
/// One rule: `says` are the lines that differ.
std::string ruleText(const std::string& says, const std::string& id = "r");

RuleTableRef mustRead(const std::string& text);
CheckReport checkWith(const Job& job, const std::string& table);
/// The only finding of one rule.
Finding finding(const Job& job, const std::string& says, const std::string& sections = "");
std::vector<Finding> findings(const Job& job, const std::string& says, const std::string& sections = "");

/// Holds a measurement against limits at, just inside and just outside what it should be, in the words of the
/// table: `says` lacks only the comparison; `value` and `step` are in `unit`.
void expectValue(const Job& job, const std::string& says, double value, double step, const std::string& unit,
                 const std::string& sections = "");

Member& memberOf(Job& job, const std::string& id);
Member straight(const std::string& id, const std::string& role, const Vec3& from, const Vec3& to,
                const std::string& stock = "45x2.5");

/// Text of all problems of a table, one a line.
std::string problemsOf(const std::string& text);

}  // namespace hoopwright::test
