// The paper that is wrapped round a tube's end, at exactly 1:1.
#pragma once

#include "app/sheets/drawing.h"
#include "core/shop/cope_sheet.h"
#include "core/units/measure.h"

namespace hoopwright {

/// Room a wrap takes on the paper [mm], words and the strip that is glued under included.
struct WrapSize {
    double width_mm = 0, height_mm = 0;
};
WrapSize wrapSize(const CopeSheet& sheet, const CopeSheetEnd& end);

/// Draws it with its top left corner at `at`. Seen from outside the tube, the tube's body above, the cut
/// below: phi grows to the right, and where the wrap's left register line is, phi is 0 (the clock line). The
/// top edge is square to the tube.
void drawWrap(Drawing& into, const Vec2& at, const CopeSheet& sheet, int end, LengthUnit unit);

}  // namespace hoopwright
