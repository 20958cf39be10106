// What a finding says, in the person's own unit.
#pragma once

#include <string>

#include "core/model/cage_geometry.h"
#include "rules/finding.h"

namespace hoopwright {

/// A value in base units: lengths, areas and masses in the person's unit, angles in degrees, all else in the
/// table's. "812.4 mm", "2.55 mm", "31.984 in", "30.0°", "108.0 cm2"; a count or a ratio without a unit.
std::string showQuantity(double base_value, Dimension dimension, const Unit& tables_unit,
                         const LengthStyle& style);

/// "131 mm", or empty where nothing was measured.
std::string valueText(const Finding& finding, const LengthStyle& style);
/// The limit as the table says it, and in the person's unit where that is another: "at least 18.6 in2 (120.0
/// cm2)".
std::string limitText(const Finding& finding, const LengthStyle& style);
/// "31 mm too much" or "31 mm short" where it fails, "12 mm to spare" where it meets; empty where there is no
/// margin.
std::string marginText(const Finding& finding, const LengthStyle& style);
/// The way out without the amount, which the margin beside it says: "5.2 deg more is needed. Land its foot
/// farther back." is "Land its foot farther back."
std::string wayOutAlone(const Finding& finding);
/// What is missing, what to ask, or what was measured against the limit: one line under the title.
std::string outcomeText(const Finding& finding, const LengthStyle& style);
/// "Beware: the nominal wall passes, ...": what it meets by and may yet fall over; empty where there is
/// nothing.
std::string bewareText(const Finding& finding);
/// The same with the signs of print for units as files write them: "120 cm2" is "120 cm²", "50 deg" is "50°";
/// and words of a table without their underscores.
std::string withSigns(std::string text);
/// "C 2.6, edition 2026"; says so where the number is not confirmed.
std::string clauseText(const Finding& finding);

/// "Ø45 × 2.5" or "Ø1.750 × 0.120": a tube in the person's unit.
std::string tubeText(const TubeSection& section, LengthUnit unit);

}  // namespace hoopwright
