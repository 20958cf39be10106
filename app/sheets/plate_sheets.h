// Plates, risers and gussets on paper and for the cutting table.
#pragma once

#include <string>
#include <vector>

#include "app/sheets/shop_sheets.h"

namespace hoopwright {

/// One part a page, drawn to scale with its holes and folds; then how they lie on the sheets.
std::vector<Drawing> platePages(const SheetHead& head, const ShopSheets& sheets);
/// A part's flat at 1:1, its datum corner at the drawing's low left corner: CUT, FOLD and MARK, and its name.
/// @pre it has a flat
Drawing plateDrawing(const PlatePart& part);
/// One sheet at 1:1 with all that is cut from it, the sheet's low left corner the drawing's.
Drawing sheetDrawing(const ShopSheets& sheets, const SheetPlan& plan, const LaidSheet& sheet);
std::vector<std::vector<std::string>> plateRows(const ShopSheets& sheets);

/// Draws a flat with its datum corner at `at`, `scale` paper millimetres to one, y up on the part. `turned`:
/// by a quarter turn anticlockwise.
void drawFlat(Drawing& drawing, const PlatePart& part, const Vec2& at, double scale, bool turned = false);

}  // namespace hoopwright
