// What to tape on a bent tube, and where to chalk it on the floor. Used by bendSheet().
#pragma once

#include "core/shop/bend_sheet.h"

namespace hoopwright {

/// Fills `checks`, `floor` and `flat`, and of each bend what a quarter of a degree does. @pre a bend or more
void addChecks(BendSheet& sheet);

/// The bent blank's centreline on the floor, in the axes of FloorPoint. @pre a bend or more
Centreline floorLine(const BendSheet& sheet);

/// Greatest reach of a tube along `way` (unit): its ends are sawn square. Exact on straights; on bends to
/// 1e-9 mm.
double reach_mm(const Centreline& line, double radius_mm, const Vec3& way);

}  // namespace hoopwright
