// The edition of a table a job was agreed on, and what a newer one says otherwise.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "core/model/job_record.h"
#include "rules/check.h"

namespace hoopwright {

/// The table as it is now, to be kept with the job. `when`: "YYYY-MM-DD".
FrozenTable frozenFrom(const RuleTable& table, std::string when);

struct EditionChange {
    enum class Kind { added, gone, changed };
    Kind kind = Kind::changed;
    std::string rule, title;     ///< title of the rule as it is now; empty where it is gone
    std::string was_says, says;  ///< old words and new words, see ruleWords(); empty where there are none
};
std::string_view editionChangeKey(EditionChange::Kind kind);  ///< "added", "gone", "changed"

/// One table of the job.
struct EditionNews {
    std::string table, title, edition;   ///< as it is now
    bool kept = false;                   ///< the job keeps an edition of it
    std::string was_edition, kept_when;  ///< of that one
    std::vector<EditionChange> changes;  ///< in the table's order, what is gone behind
    bool isNews() const { return kept && (edition != was_edition || !changes.empty()); }
};
/// Of each table, held against what the job keeps of it.
std::vector<EditionNews> editionNews(std::span<const RuleTableRef> tables, const CageLayout& cage);
/// The cage with the editions of these tables kept as they are now, in place of older ones of the same
/// tables.
void keepEditions(CageLayout& cage, std::span<const RuleTableRef> tables, const std::string& when);

}  // namespace hoopwright
