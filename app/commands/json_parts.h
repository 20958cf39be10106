// Parts of the JSON that more than one command writes.
#pragma once

#include "app/commands/json.h"
#include "core/model/cage_geometry.h"
#include "core/units/measure.h"

namespace hoopwright {

double degrees(double rad);
/// A value in base units under "KEY_UNIT": length in mm, angle in degrees, mass in kg and so on; bare for
/// none.
void writeMeasure(JsonWriter& json, const std::string& key, Dimension dimension, double base_value);
/// "notes": what to know before it is built; "problems": what keeps the cage from fitting together.
void writeGeometryProblems(JsonWriter& json, const CageGeometry& cage);
/// "radius_mm", "straights_mm", "angles_deg", "rotations_deg" of a tube bought bent, into the object that is
/// open.
void writeBentShape(JsonWriter& json, const BentShape& shape);
/// "dimensions": those pinned to the cage, and what they read.
void writeDimensions(JsonWriter& json, const Job& job, const CageGeometry& cage);
/// "left", "right" or "centre".
std::string_view sideKey(Side side);

}  // namespace hoopwright
