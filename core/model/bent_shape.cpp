#include "core/model/bent_shape.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/base/text.h"

namespace hoopwright {
namespace {

std::string_view trimmed(std::string_view text) {
    const auto first = text.find_first_not_of(" \t");
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

std::vector<std::string_view> split(std::string_view text, char at) {
    std::vector<std::string_view> out;
    for (;;) {
        const auto end = text.find(at);
        out.push_back(trimmed(text.substr(0, end)));
        if (end == std::string_view::npos) return out;
        text.remove_prefix(end + 1);
    }
}

std::string degreesOf(double rad) {
    std::string text = fixed(rad * 180 / std::numbers::pi, 2);
    while (text.ends_with('0')) text.pop_back();
    if (text.ends_with('.')) text.pop_back();
    return text == "-0" ? "0" : text;
}

}  // namespace

bool BentShape::good() const {
    const auto isLength = [](double mm) { return std::isfinite(mm) && mm >= 0; };
    const auto isBend = [](const TapedBend& bend) {
        return bend.angle_rad > 0 && bend.angle_rad < std::numbers::pi && std::isfinite(bend.rotation_rad);
    };
    return isLength(bend_radius_mm) && bend_radius_mm > 0 && !bends.empty() &&
           straights_mm.size() == bends.size() + 1 && std::ranges::all_of(straights_mm, isLength) &&
           std::ranges::all_of(bends, isBend);
}

double BentShape::developed_mm() const {
    double sum = 0;
    for (const double straight : straights_mm) sum += straight;
    for (const TapedBend& bend : bends) sum += bend.angle_rad * bend_radius_mm;
    return sum;
}

Expected<BentShape> readBentShape(std::string_view text, double bend_radius_mm, LengthUnit unit) {
    const auto refuse = [&](const std::string& why) {
        return Reason{"'" + std::string(text) + "' " + why +
                      "; write straight, bend, straight, ...: 900, 75, 1010, 75, 900"};
    };
    const std::vector<std::string_view> parts = split(text, ',');
    if (parts.size() < 3 || parts.size() % 2 == 0)
        return refuse("does not begin and end with a straight with bends between");
    const Unit length = *unitNamed(unit == LengthUnit::in ? "in" : "mm"), degree = *unitNamed("deg");
    BentShape out;
    out.bend_radius_mm = bend_radius_mm;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const bool is_bend = i % 2 == 1;
        const std::vector<std::string_view> halves = split(parts[i], '@');
        if (halves.size() > (is_bend && i > 1 ? 2u : 1u)) return refuse("has a turn where none can be");
        const Expected<double> value = readMeasure(halves[0], is_bend ? degree : length);
        if (!value) return refuse("has no good number: " + value.reason());
        if (!is_bend) {
            if (*value < 0) return refuse("has a straight of less than nothing");
            out.straights_mm.push_back(*value);
            continue;
        }
        if (!(*value > 0) || *value >= std::numbers::pi)
            return refuse("has a bend that is not between 0 and 180 degrees");
        out.bends.push_back({*value, 0});
        if (halves.size() < 2) continue;
        const Expected<double> turn = readMeasure(halves[1], degree);
        if (!turn) return refuse("has no good turn: " + turn.reason());
        out.bends.back().rotation_rad = *turn;
    }
    return out;
}

std::string shownBentShape(const BentShape& shape, LengthUnit unit) {
    LengthStyle bare;
    bare.unit = unit;
    bare.with_unit = false;
    std::string out;
    for (std::size_t i = 0; i < shape.straights_mm.size(); ++i) {
        out += (i == 0 ? "" : ", ") + showLength(shape.straights_mm[i], bare);
        if (i >= shape.bends.size()) continue;
        const TapedBend& bend = shape.bends[i];
        out += ", " + degreesOf(bend.angle_rad);
        if (const std::string turn = degreesOf(bend.rotation_rad); turn != "0") out += " @ " + turn;
    }
    return out;
}

BendTable bendTable(const BentShape& shape) {
    BendTable out;
    double at = 0;
    for (std::size_t i = 0; i < shape.bends.size(); ++i) {
        BendRow row;
        row.straight_before_mm = shape.straights_mm[i];
        row.rotation_rad = shape.bends[i].rotation_rad;
        row.angle_rad = shape.bends[i].angle_rad;
        row.radius_mm = shape.bend_radius_mm;
        row.arc_mm = row.radius_mm * row.angle_rad;
        row.mark_start_mm = at += row.straight_before_mm;
        row.mark_end_mm = at += row.arc_mm;
        out.rows.push_back(row);
    }
    out.last_straight_mm = shape.straights_mm.back();
    out.developed_mm = at + out.last_straight_mm;
    return out;
}

BentShape mirrored(BentShape shape) {
    for (TapedBend& bend : shape.bends)
        if (bend.rotation_rad != 0) bend.rotation_rad = -bend.rotation_rad;
    return shape;
}

}  // namespace hoopwright
