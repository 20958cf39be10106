// What a rule asks a person, and what their answer must be kept with.
#pragma once

#include <string>

#include "rules/check_rule.h"
#include "rules/rule_table.h"
#include "rules/table_run.h"

namespace hoopwright {

/// The question in full: with its load worked out for this entry, and what to keep with the answer.
struct Question {
    std::string text;     ///< empty: something is missing
    std::string missing;  ///< "the fact 'race_mass' is not given"
};
Question questionOf(const TableRun& run, const Rule& rule);

/// What the answer still lacks of the evidence asked for, as a sentence; empty if nothing. Only a good answer
/// needs any: a photo is a file; of a paper, a reading or a sample the note says which and where.
std::string evidenceLacking(const Rule& rule, const PersonsAnswer& answer);

/// Whether the rule asks for nothing here, because all of its `unless` meet.
RuleApplies exempt(const TableRun& run, const Rule& rule);

}  // namespace hoopwright
