// The quantity a reading measures.
#pragma once

#include "rules/quantity.h"
#include "rules/rule_table.h"

namespace hoopwright {

inline const Quantity& quantityOf(const Reading& reading) {
    return allQuantities()[static_cast<std::size_t>(reading.quantity)];
}
inline const Quantity& quantityOf(const Check& check) {
    return quantityOf(check.reading);
}

}  // namespace hoopwright
