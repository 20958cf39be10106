// Where a nominal size passes and a gauge may not.
#pragma once

#include <string>

#include "rules/check_rule.h"

namespace hoopwright {

/// Of a figure of a bar's section that was judged by the nominal wall.
/// It meets, and the mill's least wall, the wall as gauged or what its tightest bend leaves would not: says
/// so, with the walls in millimetres and inches. It fails by less than 5 %, and tube and limit are of an inch
/// and a millimetre size: says that, too. Else empty.
std::string wallBeware(const TableRun& run, const Reading& reading, const JudgedThing& thing);

}  // namespace hoopwright
