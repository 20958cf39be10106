#include <algorithm>
#include <numbers>
#include <utility>

#include "core/base/text.h"
#include "core/units/inch.h"
#include "core/units/measure.h"

namespace hoopwright {
namespace {

// An inch is 25.4 mm, a pound 0.45359237 kg and standard gravity 9.80665 m/s2, all exact by definition
// (international yard and pound agreement of 1959; NIST SP 811, appendix B.8, from memory).
constexpr double kGravity = 9.80665;
constexpr double kDegree = std::numbers::pi / 180;

/// Other spellings of a unit's word, in lower case.
using Spelling = std::pair<std::string_view, std::string_view>;
constexpr Spelling kSpellings[] = {
    {"\"", "in"},   {"inch", "in"}, {"inches", "in"},  {"''", "in"},       {"”", "in"},
    {"″", "in"},    {"'", "ft"},    {"foot", "ft"},    {"feet", "ft"},     {"’", "ft"},
    {"′", "ft"},    {"°", "deg"},   {"degree", "deg"}, {"degrees", "deg"}, {"mm²", "mm2"},
    {"cm²", "cm2"}, {"in²", "in2"}, {"sq in", "in2"},  {"lbs", "lb"},      {"n/mm²", "N/mm2"},
    {"mm⁴", "mm4"}, {"in⁴", "in4"}, {"kmh", "km/h"},   {"kph", "km/h"},    {"mm³", "mm3"},
    {"cm³", "cm3"}, {"in³", "in3"}, {"mm^2", "mm2"},   {"cm^2", "cm2"},    {"in^2", "in2"},
};

std::string lowerCase(std::string_view word) {
    std::string out(word);
    for (char& c : out) {
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    }
    return out;
}

std::vector<Unit> makeUnits() {
    using D = Dimension;
    const double in2 = kInch_mm * kInch_mm;
    const double ksi = 1000 * kPound_kg * kGravity / in2;
    return {
        {"mm", D::length, 1},
        {"cm", D::length, 10},
        {"m", D::length, 1000},
        {"in", D::length, kInch_mm},
        {"ft", D::length, 12 * kInch_mm},
        {"rad", D::angle, 1},
        {"deg", D::angle, kDegree},
        {"mm2", D::area, 1},
        {"cm2", D::area, 100},
        {"in2", D::area, in2},
        {"kg", D::mass, 1},
        {"lb", D::mass, kPound_kg},
        {"MPa", D::stress, 1},
        {"N/mm2", D::stress, 1},
        {"ksi", D::stress, ksi},
        {"mm4", D::inertia, 1},
        {"in4", D::inertia, in2 * in2},
        {"m/s", D::speed, 1},
        {"km/h", D::speed, 1 / 3.6},
        {"mph", D::speed, 0.44704},
        {"s", D::time, 1},
        {"mm3", D::volume, 1},
        {"cm3", D::volume, 1000},
        {"in3", D::volume, in2 * kInch_mm},
        {"", D::none, 1},
    };
}

}  // namespace

const std::vector<Unit>& units() {
    static const std::vector<Unit> all = makeUnits();
    return all;
}

const Unit& baseUnit(Dimension dimension) {
    return *std::ranges::find(units(), dimension, &Unit::dimension);
}

std::string_view dimensionPhrase(Dimension dimension) {
    switch (dimension) {
        case Dimension::none:
            return "a plain number";
        case Dimension::length:
            return "a length";
        case Dimension::angle:
            return "an angle";
        case Dimension::area:
            return "an area";
        case Dimension::mass:
            return "a mass";
        case Dimension::stress:
            return "a stress";
        case Dimension::inertia:
            return "a second moment of area";
        case Dimension::speed:
            return "a speed";
        case Dimension::time:
            return "a time";
        case Dimension::volume:
            return "a volume";
    }
    return "a measure";
}

Expected<Unit> unitNamed(std::string_view word) {
    std::string wanted = lowerCase(word);
    for (const auto& [spelling, meant] : kSpellings) {
        if (wanted == spelling) wanted = lowerCase(meant);
    }
    std::vector<std::string> words;
    for (const Unit& unit : units()) {
        if (lowerCase(unit.word) == wanted) return unit;
        words.push_back(unit.word);
    }
    const std::string meant = didYouMean(word, words);
    const std::string hint = meant.empty() ? "write one of mm, cm, m, in, ft, deg, kg, lb, MPa and the like"
                                           : "did you mean " + meant + "?";
    return Reason{"'" + std::string(word) + "' is not a unit: " + hint};
}

}  // namespace hoopwright
