// What several tables ask of the same thing: the strictest of it, and what cannot be met at once.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "rules/check.h"

namespace hoopwright {

/// One table's part in it.
struct TableAsk {
    std::string table, rule, clause, title;
    std::string limit_text;  ///< "at least 3 mm"; of tube: the stock that it takes
    friend bool operator==(const TableAsk&, const TableAsk&) = default;
};

/// One measure that rules of two tables or more judge on the same things.
struct SharedLimit {
    enum class Kind {
        alike,      ///< all ask for the same
        strictest,  ///< one of them is enough for all
        both,       ///< each has a say: an end of the range, or a part of the list
        never       ///< they cannot be met at once
    };
    Kind kind = Kind::alike;
    std::string quantity;               ///< "plate_thickness"; "tube"
    std::vector<std::string> subjects;  ///< ids; empty: the whole cage
    std::vector<std::string> names;     ///< as people read them
    std::vector<TableAsk> asks;
    /// Numbers: what serves all, in base units of the quantity; an open end is infinite.
    Dimension dimension = Dimension::none;
    std::optional<double> low, high;
    bool low_open = false, high_open = false;
    std::vector<std::string> words;  ///< words or tube that serve all
    std::string serves;              ///< "3 to 6.35 mm"; empty where nothing does
    std::string says;                ///< the whole of it, one or two sentences
};
std::string_view sharedLimitKey(SharedLimit::Kind kind);  ///< "alike", "strictest", "both", "never"

/// Required rules that apply to this cage, in the tables' order; what cannot be met at once in front. Two
/// rules judge the same where quantity and arguments are the same and read the same on the thing, so
/// that a place each table names its own way is one place. Tube is told by trying every tube of the shop's
/// list. Empty with fewer than two tables.
std::vector<SharedLimit> sharedLimits(std::span<const RuleTableRef> tables, const Job& job,
                                      const CageGeometry& cage);
/// Those that a finding's rule has a part in, on that thing.
std::vector<const SharedLimit*> sharedWith(const std::vector<SharedLimit>& limits, const Finding& finding);

}  // namespace hoopwright
