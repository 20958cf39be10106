// What numbers a quantity can be at all: a limit outside is a slip of the pen.
#pragma once

#include <limits>

#include "rules/quantity.h"

namespace hoopwright {

/// Least and greatest value in base units, both possible; `whole`: a count.
struct QuantityRange {
    double low = -std::numeric_limits<double>::infinity();
    double high = std::numeric_limits<double>::infinity();
    bool whole = false;
};
/// By the quantity's meaning: counts are whole and not negative, angles to a line 0 to 90 degrees, sizes not
/// negative; heights and gaps may be anything.
QuantityRange rangeOf(const Quantity& quantity);
/// The words a quantity can be where they are few and known; else empty.
std::vector<std::string> wordsPossible(const Quantity& quantity);

}  // namespace hoopwright
