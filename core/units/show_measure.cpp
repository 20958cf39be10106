#include <cmath>
#include <numbers>
#include <numeric>

#include "core/base/text.h"
#include "core/units/inch.h"
#include "core/units/measure.h"

namespace hoopwright {
namespace {

/// "+0.016", "-0.004"; empty where it shows as zero.
std::string signedError(double inches, int decimals) {
    const std::string size = fixed(std::abs(inches), decimals);
    if (size.find_first_not_of("0.") == std::string::npos) return {};
    return (inches < 0 ? " -" : " +") + size;
}

std::string showInches(double mm, const LengthStyle& style) {
    const int decimals = style.decimals + 2;
    std::string out = fixed(mm / kInch_mm, decimals);
    if (style.with_unit) out += " in";
    if (style.fraction <= 0) return out;
    const InchFraction near = nearestFraction(mm, style.fraction);
    if (near.text == "0\"" || near.text == "-0\"") return out;  // less than half a part: no tape shows it
    return out + " (" + near.text + signedError(near.error_mm / kInch_mm, decimals) + ")";
}

}  // namespace

std::string showLength(double mm, const LengthStyle& style) {
    if (style.unit == LengthUnit::in) return showInches(mm, style);
    return fixed(mm, style.decimals) + (style.with_unit ? " mm" : "");
}

InchFraction nearestFraction(double mm, int denominator) {
    const double parts = std::round(mm / kInch_mm * denominator);
    const double whole = std::trunc(std::abs(parts) / denominator);
    const int over = static_cast<int>(std::abs(parts) - whole * denominator);
    InchFraction out;
    out.error_mm = parts / denominator * kInch_mm - mm;
    if (parts < 0) out.text = "-";
    if (whole > 0 || over == 0) out.text += fixed(whole, 0);
    if (over > 0) {
        const int common = std::gcd(over, denominator);
        if (whole > 0) out.text += "-";
        out.text += std::to_string(over / common) + "/" + std::to_string(denominator / common);
    }
    out.text += "\"";
    return out;
}

std::string showAngle(double rad, int decimals) {
    return fixed(rad * 180 / std::numbers::pi, decimals) + "°";
}

std::string showMass(double kg, LengthUnit with, int decimals) {
    if (with == LengthUnit::in) return fixed(kg / kPound_kg, decimals) + " lb";
    return fixed(kg, decimals) + " kg";
}

std::string showArea(double mm2, LengthUnit with, int decimals) {
    if (with == LengthUnit::in) return fixed(mm2 / (kInch_mm * kInch_mm), decimals + 1) + " in2";
    return fixed(mm2 / 100, decimals) + " cm2";
}

}  // namespace hoopwright
