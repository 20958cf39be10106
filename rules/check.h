// A cage against rule tables.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "core/base/problem.h"
#include "core/model/cage_geometry.h"
#include "rules/finding.h"

namespace hoopwright {

/// A table, read and compiled. Immutable; shared by every check that runs with it (window, worker, command).
class RuleTable;
using RuleTableRef = std::shared_ptr<const RuleTable>;

struct RuleTableInfo {
    std::string id, title, edition, written_by,
        advice;  ///< advice: "check the book in force", printed wherever the table is used
    int rules = 0;
    bool published = false;  ///< written after a published book (else invented)
};

struct RuleTableResult {
    RuleTableRef table;  ///< null if there is any problem
    Problems problems;
};
RuleTableResult readRuleTable(const std::filesystem::path& file);
RuleTableResult readRuleTableText(std::string text, const std::string& name);
const RuleTableInfo& info(const RuleTable& table);

struct CheckReport {
    std::vector<RuleTableInfo> tables;
    std::vector<Finding> findings;  ///< in the tables' order; worstFirst() sorts for people
    int count(Answer answer) const;
    /// Of those that meet, how many do so by a number nobody has confirmed.
    int unconfirmed() const;
    /// Nothing required fails or could not be told, and nothing required meets by a number that is not
    /// confirmed. Questions, recommendations and what does not apply aside.
    bool allMeet() const;
};
/// Pure: the same job and tables give the same report.
CheckReport check(std::span<const RuleTableRef> tables, const Job& job, const CageGeometry& cage);
/// Indices into findings: fails by how far relative to the limit, then can't tell, ask, meets by margin, does
/// not apply.
std::vector<int> worstFirst(const CheckReport& report);

/// One named, documented measurement a rule may use.
struct QuantityInfo {
    std::string name;
    Dimension dimension = Dimension::none;
    std::string subject;  ///< "member", "joint", "plate", "driver", "cage", "pair"
    std::string meaning;  ///< one sentence
    std::string needs;    ///< what must be known for it
};
const std::vector<QuantityInfo>& quantities();

}  // namespace hoopwright
