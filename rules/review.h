// A second look at a table that reads well: what nobody uses, what contradicts, what no cage could meet.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "rules/check.h"

namespace hoopwright {

struct TableRemark {
    enum class Kind {
        unused,         ///< a name or figure no rule comes to
        contradiction,  ///< two rules on the same things of which only one can hold
        impossible,     ///< a rule no cage could meet
        never,          ///< a rule that can never apply
        always,         ///< a rule every cage meets
    };
    Kind kind = Kind::unused;
    FileMark at;             ///< where it stands
    std::string rule;        ///< id of the rule; empty: it is about no rule
    std::string other_rule;  ///< of a contradiction
    std::string what, remedy;
    friend bool operator==(const TableRemark&, const TableRemark&) = default;
};
std::string_view remarkKey(TableRemark::Kind kind);   ///< "contradiction": for --json
std::string_view remarkWord(TableRemark::Kind kind);  ///< "contradicts": for people

/// A table read, and looked over if it reads well.
struct TableReview {
    RuleTableRef table;  ///< null with any problem
    Problems problems;
    std::vector<TableRemark> remarks;  ///< in the order of the text
};
/// Pure; `name` stands in the places of what is said.
TableReview reviewTableText(const std::string& text, const std::string& name);
/// A file that cannot be read is a problem.
TableReview reviewTableFile(const std::filesystem::path& file);

}  // namespace hoopwright
