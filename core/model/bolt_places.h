// Where the bolts of a plate go.
#pragma once

#include <optional>
#include <vector>

#include "core/base/expected.h"
#include "core/model/plate.h"
#include "core/units/measure.h"

namespace hoopwright {

/// Middles of the bolts, in the plate's own axes: on a line inside the outline, at the edge distance that is
/// said (else two diameters; common practice, no source), spread evenly round it by its edges from the first
/// corner on, or by length where the corners would be missed. The reason says which distance does not fit:
/// the one that is said, else the least of EN 1993-1-8, table 3.3 (from memory): 1.2 hole diameters from a
/// centre to the edge, 2.2 from centre to centre. Empty without bolts.
/// @param outline  counter-clockwise [mm]
/// @param unit  that a reason speaks in
Expected<std::vector<Vec2>> boltPlaces(const std::vector<Vec2>& outline, const Bolts& bolts,
                                       LengthUnit unit = LengthUnit::mm);

/// Hole a bolt goes through. Metric: ISO 273, medium fit; inch: ASME B18.2.8, normal fit (both from memory).
/// Nothing for a bolt that is in neither.
std::optional<double> clearanceHole_mm(double bolt_mm);

}  // namespace hoopwright
