// A report against an earlier one of the same job.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "rules/check.h"

namespace hoopwright {

/// What is kept of one finding.
struct ReportLine {
    std::string table, rule, subject;
    std::string title, subject_name;
    Answer answer = Answer::cannot_tell;
    bool confirmed = true;
    std::optional<double> margin;  ///< base units of `dimension`; negative: lacking
    Dimension dimension = Dimension::none;
    friend bool operator==(const ReportLine&, const ReportLine&) = default;
};
using ReportSummary = std::vector<ReportLine>;
ReportSummary summaryOf(const CheckReport& report);

struct FindingChange {
    enum class Kind {
        answer,      ///< another answer, or confirmed now and not before
        added,       ///< the rule had nothing to say before: it is new, or its table is
        gone,        ///< the rule has nothing to say now
        by_how_much  ///< falls short as before, by more or less
    };
    Kind kind = Kind::answer;
    std::string table, rule, subject, title, subject_name;
    std::string was, is;  ///< "fails", "meets, not confirmed"; empty: nothing was said
    std::optional<double> was_margin, margin;
    Dimension dimension = Dimension::none;
};
std::string_view findingChangeKey(FindingChange::Kind kind);  ///< "answer", "added", "gone", "by_how_much"

/// In the report's order, what is gone behind. Of many things that meet a report names the one with least to
/// spare; another one of them in its place is no change.
std::vector<FindingChange> changesSince(const ReportSummary& before, const ReportSummary& now);

}  // namespace hoopwright
