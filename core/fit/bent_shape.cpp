#include <cmath>
#include <numbers>

#include "core/base/text.h"
#include "core/fit/pre_bent.h"

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

}  // namespace

Expected<BentShape> readBentShape(std::string_view text, double od_mm, double bend_radius_mm,
                                  LengthUnit unit) {
    const auto refuse = [&](const std::string& why) {
        return Reason{"'" + std::string(text) + "' " + why +
                      "; write straight, bend, straight, ...: 900, 75, 1010, 75, 900"};
    };
    const std::vector<std::string_view> parts = split(text, ',');
    if (parts.size() < 3 || parts.size() % 2 == 0)
        return refuse("does not begin and end with a straight with bends between");
    const Unit length = *unitNamed(unit == LengthUnit::in ? "in" : "mm"), degree = *unitNamed("deg");
    BentShape out;
    out.od_mm = od_mm;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const bool is_bend = i % 2 == 1;
        const std::vector<std::string_view> halves = split(parts[i], '@');
        if (halves.size() > (is_bend ? 2u : 1u)) return refuse("has a turn where none can be");
        const Expected<double> value = readMeasure(halves[0], is_bend ? degree : length);
        if (!value) return refuse("has no good number: " + value.reason());
        if (!is_bend) {
            if (*value < 0) return refuse("has a straight of less than nothing");
            if (i + 1 == parts.size()) {
                out.table.last_straight_mm = *value;
            } else {
                out.table.rows.push_back({*value, 0, 0, bend_radius_mm, 0, 0, 0});
            }
            continue;
        }
        if (!(*value > 0) || *value >= std::numbers::pi)
            return refuse("has a bend that is not between 0 and 180 degrees");
        BendRow& row = out.table.rows.back();
        row.angle_rad = *value;
        if (halves.size() < 2) continue;
        const Expected<double> turn = readMeasure(halves[1], degree);
        if (!turn) return refuse("has no good turn: " + turn.reason());
        row.rotation_rad = *turn;
    }
    return out;
}

}  // namespace hoopwright
