// An order as people read it and as programs do.
#pragma once

#include <iosfwd>

#include "core/shop/order.h"

namespace hoopwright {

void writeOrderText(std::ostream& out, const Job& job, const CageGeometry& cage, const Order& order);
/// See app/commands/JSON.md.
void writeOrderJson(std::ostream& out, const Job& job, const CageGeometry& cage, const Order& order);

}  // namespace hoopwright
