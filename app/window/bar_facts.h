// What a bar is to the saw, the bender, the joints and the driver: lines of facts.
#pragma once

#include <string>
#include <vector>

#include "app/window/fact_list.h"

namespace hoopwright {

/// Cut length long point to long point, blank, developed length, mass, tube.
std::vector<FactLine> barLines(Desk& desk, const std::string& resolved_id);
/// One line a bend: angle, where it starts, how far the plane turns since the bend before.
std::vector<FactLine> bendLines(Desk& desk, const std::string& resolved_id);
/// Every joint this bar has part in, with its angle; a click goes to the other bar.
std::vector<FactLine> jointLines(Desk& desk, const std::string& resolved_id);
/// Gap from the tube (bare, and padded if it is) to each driver's helmet and nearest other measured point.
std::vector<FactLine> driverLines(Desk& desk, const std::string& resolved_id);
/// Least, greatest and mean gap from the bare tube to the car's skin, and to each surface of it; a click goes
/// there. Measured beside: until it is, one line says so.
std::vector<FactLine> skinLines(Desk& desk, const std::string& resolved_id);
/// Every finding about this bar or plate, worst first; a click opens it.
std::vector<FactLine> ruleLines(Desk& desk, const std::string& resolved_id);
/// The chosen bars together: count, length, mass; with two, the gap between them.
std::vector<FactLine> togetherLines(Desk& desk);
/// The whole job: bars, joints, bends, length, mass.
std::vector<FactLine> jobLines(Desk& desk);

}  // namespace hoopwright
