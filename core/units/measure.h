// Measures as the shop writes them. Inside the program: mm, rad, kg, N, MPa, mm2, mm4, m/s, s.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "core/base/expected.h"

namespace hoopwright {

enum class Dimension { none, length, angle, area, mass, stress, inertia, speed, time, volume };

/// A unit of one dimension. `word` is how files and sheets write it ("mm", "in", "deg", "cm2", "lb", "MPa").
struct Unit {
    std::string word;
    Dimension dimension = Dimension::none;
    double to_base = 1.0;  ///< base value = written value x to_base
    friend bool operator==(const Unit&, const Unit&) = default;
};

/// Every unit the program reads: mm cm m in ft; deg rad; mm2 cm2 in2; kg lb; MPa N/mm2 ksi; mm4 in4;
/// m/s km/h mph; s; mm3 cm3 in3; and "" (none: a count or a ratio). The first of a dimension is its base.
const std::vector<Unit>& units();
/// Looks a unit up by its word, with the spellings of the trade (", inch, ', ft, lbs, degrees, °); case is
/// not counted.
Expected<Unit> unitNamed(std::string_view word);
/// The unit the program works in: mm for length, rad for angle, "" for none.
const Unit& baseUnit(Dimension dimension);
/// "a length", "an angle", "a plain number": for sentences.
std::string_view dimensionPhrase(Dimension dimension);

/// Reads a measure: `1-5/8"`, `1 5/8 in`, `1.625`, `41.3 mm`, `4.2 cm`, `5' 4-1/2"`, `30 deg`, `18.6 in2`.
/// A bare number is in `bare` (which also says the dimension wanted). Result in base units, finite,
/// never subnormal.
/// Fractions and feet with inches are read for inches only. The number may have an exponent (1e-3), never a
/// comma, a leading zero (010) or a leading plus. The reason quotes the text and says what would be read.
Expected<double> readMeasure(std::string_view text, const Unit& bare);

/// Which unit the person works in.
enum class LengthUnit { mm, in };

/// How a length is shown. Millimetres: "812.4 mm". Inches: decimal, and the nearest fraction with its error
/// in inches (fraction less true value) when asked for: `31.984 in (32" +0.016)`; an error that shows as zero
/// is left out, and so is a fraction of 0.
struct LengthStyle {
    LengthUnit unit = LengthUnit::mm;
    int decimals = 1;  ///< of millimetres; inches get two more
    int fraction = 0;  ///< 16, 32 or 64: add the nearest fraction; 0: none
    bool with_unit = true;
};
/// With fraction 0 the text reads back through readMeasure() to half of its last place.
std::string showLength(double mm, const LengthStyle& style);

/// The nearest fraction of an inch, in lowest terms: 31.984 in at 16 -> "32\"" with error +0.41 mm. @pre
/// denominator >= 1
struct InchFraction {
    std::string text;     ///< `1-5/8"`, `-3/16"`, `12"`, `0"`
    double error_mm = 0;  ///< fraction minus true value [mm]
};
InchFraction nearestFraction(double mm, int denominator);

/// "30.0°", decimals as given. Input radians.
std::string showAngle(double rad, int decimals = 1);
/// "2.33 kg" or "5.14 lb" by the length unit's usual mass.
std::string showMass(double kg, LengthUnit with, int decimals = 2);
/// "120.0 cm2" for mm, "18.60 in2" for in (inches get one more decimal).
std::string showArea(double mm2, LengthUnit with, int decimals = 1);

}  // namespace hoopwright
