#include <algorithm>
#include <array>
#include <cmath>

#include "core/base/text.h"
#include "core/files/out_node.h"
#include "core/files/yaml_encoding.h"

namespace hoopwright {
namespace {

constexpr std::array<std::string_view, 12> kWordsWithAMeaning = {
    "null", "Null", "NULL", "true", "True", "false", "False", "yes", "no", "TRUE", "FALSE", "~"};

bool isControl(char c) {
    const auto byte = static_cast<unsigned char>(c);
    return byte < 0x20 || byte == 0x7F;
}

/// Would this text, without quotes, be read back as this text?
bool canStandBare(const std::string& text) {
    if (text.empty() || text.front() == ' ' || text.back() == ' ' || text.back() == ':') return false;
    if (std::string_view("-?:,[]{}#&*!|>'\"%@`").find(text.front()) != std::string_view::npos) return false;
    if (std::any_of(text.begin(), text.end(), isControl)) return false;
    if (text.find_first_of(",[]{}\"'\\") != std::string::npos) return false;
    if (text.find(": ") != std::string::npos || text.find(" #") != std::string::npos) return false;
    if (std::ranges::find(kWordsWithAMeaning, text) != kWordsWithAMeaning.end()) return false;
    return !plainNumber(text) && dimensionOf(text) == Dimension::none;
}

std::string inQuotes(const std::string& text) {
    constexpr char kHex[] = "0123456789ABCDEF";
    std::string out = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\') {
            out += '\\';
            out += c;
        } else if (c == '\n') {
            out += "\\n";
        } else if (c == '\t') {
            out += "\\t";
        } else if (isControl(c)) {
            out += "\\x";
            out += kHex[static_cast<unsigned char>(c) >> 4];
            out += kHex[static_cast<unsigned char>(c) & 15];
        } else {
            out += c;
        }
    }
    return out + "\"";
}

/// Lines of words only, ending in one line end or none: what a block of text holds without surprises.
bool canBeABlock(const std::string& text) {
    if (text.find('\n') == std::string::npos || text.front() == '\n' || text.front() == ' ') return false;
    if (text.ends_with("\n\n")) return false;
    if (text.find(" \n") != std::string::npos || text.back() == ' ') return false;
    return std::none_of(text.begin(), text.end(), [](char c) { return c != '\n' && isControl(c); });
}

OutNode scalar(std::string text) {
    OutNode node;
    node.text = std::move(text);
    return node;
}

/// Digits that read back as exactly `base`: the roundest that do, in the wanted unit or, where that needs
/// many more digits, in the base unit (41.3 mm in a file of inches stays 41.3 mm).
std::string measureDigits(double base, const Unit& unit, const Unit& base_unit, bool with_unit) {
    // A file that cannot be read back would lose more than this one number.
    if (!std::isfinite(base)) base = 0;
    const std::string suffix = with_unit ? " " + unit.word : "";
    const double value = base / unit.to_base;
    const auto readsBack = [&](const std::string& text) {
        const Expected<double> read = readMeasure(text, unit);
        return read && *read == base;
    };
    for (const double decimals : {1e3, 1e6}) {
        const double rounded = std::round(value * decimals) / decimals;
        if (std::isfinite(rounded) && readsBack(shortest(rounded))) return shortest(rounded) + suffix;
    }
    const std::string in_base = shortest(base) + " " + base_unit.word;
    for (const double near : {value, std::nextafter(value, HUGE_VAL), std::nextafter(value, -HUGE_VAL)}) {
        if (!std::isfinite(near) || !readsBack(shortest(near))) continue;
        const std::string in_unit = shortest(near) + suffix;
        return in_base.size() < in_unit.size() ? in_base : in_unit;
    }
    return in_base;
}

}  // namespace

OutNode outText(const std::string& given) {
    const std::string text = wellFormed(given);
    if (canStandBare(text)) return scalar(text);
    OutNode node = scalar(inQuotes(text));
    if (canBeABlock(text)) node.lines = text;
    return node;
}

OutNode outQuoted(const std::string& text) {
    return scalar(inQuotes(wellFormed(text)));
}

OutNode outMeasure(double base, Dimension dimension, LengthUnit unit) {
    if (dimension == Dimension::none) return outNumber(base);
    if (dimension != Dimension::length) return outMeasureWithUnit(base, dimension, unit);
    OutNode node = scalar(measureDigits(base, bareUnit(dimension, unit), baseUnit(dimension), false));
    node.unit = unit;
    return node;
}

OutNode outMeasureWithUnit(double base, Dimension dimension, LengthUnit unit) {
    return scalar(measureDigits(base, bareUnit(dimension, unit), baseUnit(dimension), true));
}

OutNode outNumber(double value) {
    return scalar(shortest(std::isfinite(value) ? value : 0));
}

OutNode outYesNo(bool yes) {
    return scalar(yes ? "true" : "false");
}

}  // namespace hoopwright
