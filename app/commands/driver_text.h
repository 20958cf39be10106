// A driver's clearances and all else that is measured of one, as people read it.
#pragma once

#include <iosfwd>

#include "app/commands/text_table.h"
#include "core/driver/driver_report.h"
#include "core/units/measure.h"
#include "rules/belt_band.h"
#include "rules/seat_effect.h"

namespace hoopwright {

/// Part, bare, padded, nearest bar, inside the envelope.
TextTable clearanceTable(const Clearances& all, const CageGeometry& cage, const LengthStyle& style);
/// One driver, whole.
void writeDriverText(std::ostream& out, const Driver& driver, const DriverReport& report,
                     const CageGeometry& cage, LengthUnit unit);
/// Where the belt bar may be, behind the neck and at its own place along the car.
void writeBeltBandText(std::ostream& out, const Expected<BeltBand>& band, LengthUnit unit);
/// Before and after of everything that changes.
void writeSeatEffectText(std::ostream& out, const SeatEffect& effect, const CageGeometry& cage,
                         LengthUnit unit);

}  // namespace hoopwright
