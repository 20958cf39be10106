#include "app/view/finding_text.h"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <regex>

#include "core/base/text.h"

namespace hoopwright {
namespace {

bool isInchUnit(const Unit& unit) {
    return unit.word == "in" || unit.word == "ft" || unit.word == "in2" || unit.word == "in3" ||
           unit.word == "lb";
}

/// A tenth of a millimetre is enough of a long thing; a wall or a small gap needs what tells it from nothing.
/// No noughts behind.
std::string readableLength(double mm, LengthUnit unit, double size) {
    if (unit == LengthUnit::in) return showLength(mm, {unit, 1, 0, true});
    const double scale = size < 1 ? 1000 : size < 10 ? 100 : 10;
    return shortest(std::round(mm * scale) / scale) + " mm";
}

bool followsThePerson(Dimension dimension) {
    return dimension == Dimension::length || dimension == Dimension::area || dimension == Dimension::mass;
}

}  // namespace

std::string showQuantity(double base_value, Dimension dimension, const Unit& tables_unit,
                         const LengthStyle& style) {
    switch (dimension) {
        case Dimension::length:
            return readableLength(base_value, style.unit, std::abs(base_value));
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
    // Of several limits in one line it could not be told which the figure behind it is of.
    const bool several = finding.limit_text.find_first_of(",;") != std::string::npos;
    if (!finding.limit || several || !followsThePerson(finding.dimension) || !other_unit)
        return finding.limit_text;
    return finding.limit_text + " (" + showQuantity(*finding.limit, finding.dimension, finding.unit, style) +
           ")";
}

std::string wayOutAlone(const Finding& finding) {
    static const std::regex kAmount("^[^.]*[0-9][^:;]* needed\\. (?=\\S)");
    return std::regex_replace(finding.way_out, kAmount, "", std::regex_constants::format_first_only);
}

std::string marginText(const Finding& finding, const LengthStyle& style) {
    if (!finding.margin) return {};
    const double margin = std::abs(*finding.margin);
    std::string amount = showQuantity(margin, finding.dimension, finding.unit, style);
    // As fine as what it is the difference of, so that the three figures add up; never 0 where there is some.
    const double size = std::max(std::abs(finding.value.value_or(0)), std::abs(finding.limit.value_or(0)));
    const double shown_from_mm = size < 10 ? 0.005 : 0.05;
    if (finding.dimension == Dimension::length && margin >= shown_from_mm)
        amount = readableLength(margin, style.unit, std::max(size, margin));
    if (*finding.margin >= 0) return amount + " to spare";
    const bool over = finding.value && finding.limit && *finding.value > *finding.limit;
    return amount + (over ? " too much" : " short");
}

std::string outcomeText(const Finding& finding, const LengthStyle& style) {
    if (finding.answer == Answer::cannot_tell && !finding.missing.empty())
        return "Missing: " + finding.missing;
    if (finding.answer == Answer::ask_person && !finding.missing.empty()) return finding.missing;
    const std::string value = valueText(finding, style), limit = limitText(finding, style);
    if (value.empty()) return limit.empty() ? finding.sentence : "Wanted: " + limit;
    return limit.empty() ? value : value + "; wanted: " + limit;
}

std::string bewareText(const Finding& finding) {
    return finding.beware.empty() ? std::string() : "Beware: " + finding.beware;
}

std::string withSigns(std::string text) {
    static const std::regex kPower("\\b(mm|cm|in)([234])(?![0-9A-Za-z])"),
        kDegrees("([0-9]) deg(?![A-Za-z])");
    text = std::regex_replace(text, kDegrees, "$1°");
    std::string out;
    auto from = text.cbegin();
    for (std::sregex_iterator it(text.begin(), text.end(), kPower), end; it != end; ++it) {
        out.append(from, (*it)[0].first).append((*it)[1]);
        const char power = *(*it)[2].first;
        out += power == '2' ? "²" : power == '3' ? "³" : "⁴";
        from = (*it)[0].second;
    }
    out.append(from, text.cend());
    // Words of a table, such as drawn_over_mandrel, read as words.
    for (std::size_t i = 1; i + 1 < out.size(); ++i) {
        const auto letter = [&](std::size_t at) {
            return std::isalnum(static_cast<unsigned char>(out[at])) != 0;
        };
        if (out[i] == '_' && letter(i - 1) && letter(i + 1)) out[i] = ' ';
    }
    return out;
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
