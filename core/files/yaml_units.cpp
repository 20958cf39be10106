#include <string>

#include "core/files/yaml_map.h"

namespace hoopwright {
namespace {

struct DimensionRow {
    Dimension dimension;
    const char* metric;
    const char* inch;
    const char* words;
};
constexpr DimensionRow kRows[] = {
    {Dimension::none, "", "", "a number"},
    {Dimension::length, "mm", "in", "a length"},
    {Dimension::angle, "deg", "deg", "an angle"},
    {Dimension::area, "mm2", "in2", "an area"},
    {Dimension::mass, "kg", "lb", "a mass"},
    {Dimension::stress, "MPa", "ksi", "a stress"},
    {Dimension::inertia, "mm4", "in4", "a second moment of area"},
    {Dimension::speed, "km/h", "mph", "a speed"},
    {Dimension::time, "s", "s", "a time"},
    {Dimension::volume, "mm3", "in3", "a volume"},
};

const DimensionRow& row(Dimension dimension) {
    for (const DimensionRow& each : kRows) {
        if (each.dimension == dimension) return each;
    }
    return kRows[0];
}

}  // namespace

Unit bareUnit(Dimension dimension, LengthUnit file) {
    const DimensionRow& found = row(dimension);
    const Expected<Unit> unit = unitNamed(file == LengthUnit::in ? found.inch : found.metric);
    return unit ? *unit : Unit{};
}

std::string_view dimensionWords(Dimension dimension) {
    return row(dimension).words;
}

Dimension dimensionOf(std::string_view measure) {
    const std::size_t unit_at = measure.find_first_not_of("0123456789./- ");
    if (measure.empty() || unit_at == std::string_view::npos || unit_at == 0) return Dimension::none;
    if (measure[0] != '-' && measure[0] != '.' && (measure[0] < '0' || measure[0] > '9'))
        return Dimension::none;
    std::string_view word = measure.substr(unit_at);
    Expected<Unit> unit = unitNamed(word);
    if (!unit) {
        // Feet and inches have two units; the first tells.
        word = word.substr(0, word[0] == '\'' ? 1 : word.find_first_of(" 0123456789"));
        unit = unitNamed(word);
    }
    if (!unit || !readMeasure(measure, *unit)) return Dimension::none;
    return unit->dimension;
}

}  // namespace hoopwright
