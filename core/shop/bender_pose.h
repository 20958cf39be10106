// A half-bent tube in the bender, in the bender's own axes. Used by bendOrder().
#pragma once

#include <string>
#include <vector>

#include "core/shop/bend_order.h"

namespace hoopwright {

/// Why the bender does not let that bend be made next, when the bends in the set `made` (bit i: bend i) are
/// made already. Empty: it does.
std::vector<std::string> bendTroubles(const BendJob& job, int bend, bool a_leads, unsigned made);

/// Rise over level [rad] of the leg behind bend `leg_bend`, away from the die, before `bend` is made.
double legRise(const BendJob& job, int bend, bool a_leads, unsigned made, int leg_bend);

}  // namespace hoopwright
