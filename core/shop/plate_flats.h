// The flats of plates, risers and gussets. Used by plateParts().
#pragma once

#include "core/model/sheet_shape.h"
#include "core/shop/fold.h"
#include "core/shop/plate_parts.h"

namespace hoopwright {

/// Each fills outline, folds, planes, words and weld of the part, or its trouble.
struct FlatFigures {
    const ShopBook* book = nullptr;  ///< null: no folds
    LengthUnit unit = LengthUnit::mm;
};
/// In the left-hand plate's own axes, seen from the cage. @param outline  of the plate in those axes
void layFoot(PlatePart& part, const Plate& said, const std::vector<Vec2>& outline, const FlatFigures& with);
/// One strip, seen from outside, its upper edge to the plate; it begins and ends at the seam.
void layRiser(PlatePart& part, const Riser& riser, const std::vector<Vec2>& outline, const FlatFigures& with);
/// The open side of a formed one lies upright: cheek, fold, strip, fold, cheek from left to right.
void layGusset(PlatePart& part, const GussetShape& shape, const FlatFigures& with);

/// Moves all of it so that the datum corner is at the origin.
void toDatum(PlatePart& part);
double outlineArea_mm2(const std::vector<Vec2>& outline);  ///< positive: counter-clockwise
double outlineRound_mm(const std::vector<Vec2>& outline);

}  // namespace hoopwright
