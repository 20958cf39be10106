// What a comparison lets through, as sets that can be held against each other.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "rules/quantity_range.h"
#include "rules/rule_table.h"

namespace hoopwright {

struct NumberSpan {
    double low = 0, high = 0;
    bool low_open = false, high_open = false;
};

/// Numbers and words that meet a comparison; tube tables and yes/no are told apart by themselves.
struct Accepted {
    std::vector<NumberSpan> numbers;
    bool whole = false;
    std::vector<std::string> words;
    bool words_left_out = false;  ///< every word but these
};

/// What of the quantity's own range the comparison leaves.
Accepted acceptedBy(const Reading& reading);
/// Can nothing be it? @pre of the reading
bool lacksAll(const Reading& reading);
/// Is everything the quantity can be let through?
bool takesAll(const Reading& reading);
/// Of the same quantity measured the same way: can no value meet both?
bool apart(const Reading& a, const Reading& b);
/// Can two tests of facts not hold together? `words` are all the fact can say.
bool apart(const FactTest& a, const FactTest& b, const std::vector<std::string>& words);
/// Can a test hold for nothing the fact can say?
bool lacksAll(const FactTest& test, const std::vector<std::string>& words);
/// "0 to 90 deg", "0 or more", "welded or bolted": what the quantity can be, in the unit of the comparison.
std::string rangeWords(const Reading& reading);

}  // namespace hoopwright
