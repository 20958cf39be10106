#include "core/files/bent_file.h"

#include <numbers>

namespace hoopwright {
namespace {

std::string counted(std::size_t n, const std::string& one) {
    return std::to_string(n) + " " + one + (n == 1 ? "" : "s");
}

std::vector<TapedBend> readAngles(const YamlValue& value) {
    std::vector<TapedBend> out;
    if (value.isList() && value.list().empty())
        value.problem("a tube bought bent has a bend", "write the angle of each, or leave bent out");
    for (const YamlValue& item : value.list()) {
        TapedBend& bend = out.emplace_back();
        bend.angle_rad = item.measure(Dimension::angle, Range::positive);
        if (bend.angle_rad >= std::numbers::pi)
            item.problem("'" + item.text() + "' is half a turn or more",
                         "write how far the tube is bent, less than 180");
    }
    return out;
}

void readRotations(const YamlValue& value, std::vector<TapedBend>& bends) {
    if (!value) return;
    const std::vector<YamlValue> items = value.list();
    if (!bends.empty() && value.isList() && items.size() + 1 != bends.size())
        value.problem(counted(items.size(), "rotation") + " for " + counted(bends.size(), "bend"),
                      "write one fewer than there are bends: how far each is turned since the one before");
    for (std::size_t i = 0; i < items.size(); ++i) {
        const double turn = items[i].measure(Dimension::angle);
        if (i + 1 < bends.size()) bends[i + 1].rotation_rad = turn;
    }
}

}  // namespace

BentShape readBent(const YamlValue& value) {
    BentShape out;
    YamlMap map = value.map();
    out.bend_radius_mm = map.need("radius").measure(Dimension::length, Range::positive);
    const YamlValue straights = map.need("straights"), angles = map.need("angles");
    for (const YamlValue& item : straights.list())
        out.straights_mm.push_back(item.measure(Dimension::length, Range::not_negative));
    out.bends = readAngles(angles);
    if (straights.isList() && !out.bends.empty() && out.straights_mm.size() != out.bends.size() + 1)
        straights.problem(
            counted(out.straights_mm.size(), "straight") + " for " + counted(out.bends.size(), "bend"),
            "write one more than there are bends: both legs, and what lies between");
    readRotations(map.find("rotations"), out.bends);
    return out;
}

OutNode outBent(const BentShape& shape, LengthUnit unit) {
    OutNode map = OutNode::map(true);
    map.add("radius", outMeasure(shape.bend_radius_mm, Dimension::length, unit));
    OutNode straights = OutNode::list(true), angles = OutNode::list(true), rotations = OutNode::list(true);
    bool one_plane = true;
    for (const double straight : shape.straights_mm)
        straights.add(outMeasure(straight, Dimension::length, unit));
    for (std::size_t i = 0; i < shape.bends.size(); ++i) {
        angles.add(outMeasure(shape.bends[i].angle_rad, Dimension::angle, unit));
        if (i > 0) rotations.add(outMeasure(shape.bends[i].rotation_rad, Dimension::angle, unit));
        one_plane = one_plane && shape.bends[i].rotation_rad == 0;
    }
    map.add("straights", std::move(straights));
    map.add("angles", std::move(angles));
    if (!one_plane) map.add("rotations", std::move(rotations));
    return map;
}

}  // namespace hoopwright
