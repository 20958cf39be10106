#include "app/view/finding_text.h"

#include <cmath>

#include "core/base/text.h"

namespace hoopwright {
namespace {

bool isInchUnit(const Unit& unit) {
    return unit.word == "in" || unit.word == "ft" || unit.word == "in2" || unit.word == "in3" ||
           unit.word == "lb";
}

bool followsThePerson(Dimension dimension) {
    return dimension == Dimension::length || dimension == Dimension::area || dimension == Dimension::mass;
}

}  // namespace

std::string showQuantity(double base_value, Dimension dimension, const Unit& tables_unit,
                         const LengthStyle& style) {
    switch (dimension) {
        case Dimension::length:
            return showLength(base_value, style);
        case Dimension::angle:
            return showAngle(base_value);
        case Dimension::area:
            return showArea(base_value, style.unit);
        case Dimension::mass:
            return showMass(base_value, style.unit);
        case Dimension::none:
            return shortest(std::round(base_value * 1000) / 1000);
        default:
            break;
    }
    const double value = tables_unit.to_base > 0 ? base_value / tables_unit.to_base : base_value;
    return tables_unit.word.empty() ? shortest(value) : fixed(value, 1) + " " + tables_unit.word;
}

std::string valueText(const Finding& finding, const LengthStyle& style) {
    return finding.value ? showQuantity(*finding.value, finding.dimension, finding.unit, style)
                         : std::string();
}

std::string limitText(const Finding& finding, const LengthStyle& style) {
    const bool other_unit = isInchUnit(finding.unit) != (style.unit == LengthUnit::in);
    if (!finding.limit || !followsThePerson(finding.dimension) || !other_unit) return finding.limit_text;
    return finding.limit_text + " (" + showQuantity(*finding.limit, finding.dimension, finding.unit, style) +
           ")";
}

std::string marginText(const Finding& finding, const LengthStyle& style) {
    if (!finding.margin) return {};
    const std::string size = showQuantity(std::abs(*finding.margin), finding.dimension, finding.unit, style);
    if (*finding.margin >= 0) return size + " to spare";
    const bool over = finding.value && finding.limit && *finding.value > *finding.limit;
    return size + (over ? " over" : " short");
}

std::string outcomeText(const Finding& finding, const LengthStyle& style) {
    if (finding.answer == Answer::cannot_tell && !finding.missing.empty())
        return "Missing: " + finding.missing;
    if (finding.answer == Answer::ask_person && !finding.missing.empty()) return finding.missing;
    const std::string value = valueText(finding, style), limit = limitText(finding, style);
    if (value.empty()) return limit.empty() ? finding.sentence : "Wanted: " + limit;
    return limit.empty() ? value : value + "; wanted: " + limit;
}

std::string clauseText(const Finding& finding) {
    std::string text = finding.clause;
    if (!finding.edition.empty()) text += (text.empty() ? "edition " : ", edition ") + finding.edition;
    if (!finding.confirmed) text += text.empty() ? "not confirmed" : " (limit not confirmed)";
    return text;
}

std::string tubeText(const TubeSection& section, LengthUnit unit) {
    constexpr double kInch_mm = 25.4;
    if (unit == LengthUnit::in)
        return "Ø" + fixed(section.od_mm / kInch_mm, 3) + " × " + fixed(section.wall_mm / kInch_mm, 3);
    const auto plain = [](double mm) { return shortest(std::round(mm * 100) / 100); };
    return "Ø" + plain(section.od_mm) + " × " + plain(section.wall_mm);
}

}  // namespace hoopwright
