// What is measured of one person: lines of facts, each showing in the 3D view what it measured.
#pragma once

#include <string>
#include <vector>

#include "app/window/fact_list.h"
#include "core/driver/body.h"

namespace hoopwright {

/// "Left shoulder", "Helmet": side 1 left, -1 right, 0 in the middle.
QString partTitle(BodyPart part, int side);

/// While a seat move is tried every figure is the one after it, with what it changed behind.
/// Every part to its nearest bar, tightest first; to padding where there is any.
std::vector<FactLine> clearanceLines(Desk& desk, const std::string& driver);
/// Every part to a straightedge over any bars, least inside first.
std::vector<FactLine> insideLines(Desk& desk, const std::string& driver);
/// Which way the helmet can go how far, and the line over the hoops' tops.
std::vector<FactLine> helmetLines(Desk& desk, const std::string& driver);
/// Shoulder and lap straps.
std::vector<FactLine> strapLines(Desk& desk, const std::string& driver);
/// Where the class tables let the belt bar be.
std::vector<FactLine> bandLines(Desk& desk, const std::string& driver);
/// Mirrors, the road over the dash, what hides at eye height and in the windshield.
std::vector<FactLine> sightLines(Desk& desk, const std::string& driver);
/// What the bars leave of the door.
std::vector<FactLine> doorLines(Desk& desk, const std::string& driver);
/// What the tried seat move does to the rules, changed answers first; empty while none is tried.
std::vector<FactLine> seatRuleLines(Desk& desk, const std::string& driver);

/// The least gap to a bar, padding counted: "18.2 mm", or empty.
QString tightest(Desk& desk, const std::string& driver);

}  // namespace hoopwright
