#include <algorithm>
#include <cassert>

#include "core/base/text.h"
#include "core/files/yaml_map.h"

namespace hoopwright {
namespace {

struct BareWords {
    Dimension dimension;
    std::string_view metric;
    std::string_view inch;
};
constexpr BareWords kBareWords[] = {
    {Dimension::none, "", ""},          {Dimension::length, "mm", "in"},   {Dimension::angle, "deg", "deg"},
    {Dimension::area, "mm2", "in2"},    {Dimension::mass, "kg", "lb"},     {Dimension::stress, "MPa", "ksi"},
    {Dimension::inertia, "mm4", "in4"}, {Dimension::speed, "km/h", "mph"}, {Dimension::time, "s", "s"},
    {Dimension::volume, "mm3", "in3"},
};

}  // namespace

const Unit& bareUnit(Dimension dimension, LengthUnit file) {
    const auto* words = std::ranges::find(kBareWords, dimension, &BareWords::dimension);
    assert(words != std::end(kBareWords));
    return *std::ranges::find(units(), file == LengthUnit::in ? words->inch : words->metric, &Unit::word);
}

Dimension dimensionOf(std::string_view measure) {
    const bool could_be =
        !measure.empty() && std::string_view("-.0123456789").find(measure[0]) != std::string_view::npos;
    if (!could_be || plainNumber(measure)) return Dimension::none;
    for (const BareWords& words : kBareWords) {
        if (words.dimension != Dimension::none && readMeasure(measure, baseUnit(words.dimension))) {
            return words.dimension;
        }
    }
    return Dimension::none;
}

}  // namespace hoopwright
