// A driver and all that is measured of one, as JSON.
#pragma once

#include "app/commands/json.h"
#include "core/driver/driver_report.h"
#include "rules/belt_band.h"

namespace hoopwright {

/// Into the object begun: who it is, and the points as measured.
void writeDriver(JsonWriter& json, const Driver& driver);
/// Into the object begun; see app/commands/JSON.md.
void writeDriverReport(JsonWriter& json, const DriverReport& report, const CageGeometry& cage);
/// "belt_band", or "no_belt_band" with the reason.
void writeBeltBand(JsonWriter& json, const Expected<BeltBand>& band);

}  // namespace hoopwright
