// Foot plates, their backing plates and risers, and gussets as solids. Corners of folds are sharp.
#pragma once

#include <optional>

#include "core/model/sheet_shape.h"
#include "core/solid/solid.h"

namespace hoopwright {

/// The plate with its flaps. @pre three corners or more, a thickness
SolidBody plateSolid(const ResolvedPlate& plate);
/// Under the floor's sheet; nothing without a backing plate.
std::optional<SolidBody> backingSolid(const ResolvedPlate& plate);
/// Its walls, open above and below; nothing without a riser, or if its walls fill it.
std::optional<SolidBody> riserSolid(const ResolvedPlate& plate);
/// The sheet between the tubes, with its hole. Of a folded one both cheeks and the strip across the open
/// side; the strip's ends are chords that stray less than 0.01 mm from the tubes' outline. @pre the shape has
/// sheet
SolidBody gussetSolid(const GussetShape& shape, double thickness_mm);

/// Of a solid with flat faces and round holes square to them, by its own faces [mm3].
double flatSidedVolume_mm3(const SolidBody& solid);

}  // namespace hoopwright
