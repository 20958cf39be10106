#include <algorithm>
#include <cmath>
#include <optional>

#include "core/base/text.h"
#include "core/units/measure.h"

namespace hoopwright {
namespace {

bool isDigit(char c) {
    return c >= '0' && c <= '9';
}

std::string_view trimmed(std::string_view text) {
    const auto first = text.find_first_not_of(" \t");
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

std::string quoted(std::string_view text) {
    return "'" + std::string(text) + "'";
}

/// What to write instead, for the dimension wanted: "write a length such as 41.3 mm or 1-5/8\"".
std::string example(const Unit& bare) {
    switch (bare.dimension) {
        case Dimension::none:
            return "write a plain number such as 1.5";
        case Dimension::length:
            return "write a length such as 41.3 mm or 1-5/8\"";
        case Dimension::angle:
            return "write an angle such as 30 deg";
        case Dimension::area:
            return "write an area such as 120 cm2 or 18.6 in2";
        case Dimension::mass:
            return "write a mass such as 1040 kg or 2300 lb";
        case Dimension::stress:
            return "write a stress such as 350 MPa or 51 ksi";
        case Dimension::inertia:
            return "write a second moment such as 75600 mm4 or 0.17 in4";
        case Dimension::speed:
            return "write a speed such as 160 km/h or 100 mph";
        case Dimension::time:
            return "write a time such as 7 s";
        case Dimension::volume:
            return "write a volume such as 61.5 cm3";
    }
    return "write a number and a unit";
}

/// A number off the front of a text. Only inches may be written as a fraction.
struct ReadNumber {
    double value = 0;
    bool is_fraction = false;
    std::string_view rest;
};

/// Length of the longest run that looks like a number: digits, points, an exponent.
size_t numberLength(std::string_view text) {
    size_t n = 0;
    while (n < text.size() && (isDigit(text[n]) || text[n] == '.')) ++n;
    if (n == 0 || n + 1 >= text.size() || (text[n] != 'e' && text[n] != 'E')) return n;
    size_t after = n + 1;
    if (text[after] == '-' || text[after] == '+') ++after;
    if (after >= text.size() || !isDigit(text[after])) return n;
    while (after < text.size() && isDigit(text[after])) ++after;
    return after;
}

size_t digitCount(std::string_view text) {
    size_t n = 0;
    while (n < text.size() && isDigit(text[n])) ++n;
    return n;
}

/// "5/8" off the front; nothing if it is not a fraction. A fraction not below one, or over zero, gives NaN.
std::optional<ReadNumber> readFraction(std::string_view text) {
    const size_t upper = digitCount(text);
    if (upper == 0 || upper >= text.size() || text[upper] != '/') return std::nullopt;
    const std::string_view below = text.substr(upper + 1);
    const size_t lower = digitCount(below);
    if (lower == 0) return std::nullopt;
    const auto top = plainNumber(text.substr(0, upper));
    const auto bottom = plainNumber(below.substr(0, lower));
    const bool good = top && bottom && *bottom > 0 && *top < *bottom;
    return ReadNumber{good ? *top / *bottom : std::nan(""), true, below.substr(lower)};
}

/// Why a run of characters is not a number we read.
Reason notANumber(std::string_view run) {
    if (run.size() > 1 && run[0] == '0' && isDigit(run[1])) {
        const std::string_view without = run.substr(std::min(run.find_first_not_of('0'), run.size() - 1));
        return {quoted(run) + " starts with a zero: write " + std::string(without)};
    }
    if (run.find('.') != run.rfind('.')) return {quoted(run) + " has two points: write a number such as 1.5"};
    return {quoted(run) + " is not a number this can hold: write a plain number such as 1.5"};
}

Expected<ReadNumber> readNumber(std::string_view text) {
    if (const auto fraction = readFraction(text)) {
        if (std::isnan(fraction->value))
            return Reason{quoted(text) + " is not a fraction below one: write it as 1-5/8\""};
        return *fraction;
    }
    const size_t length = numberLength(text);
    const std::string_view run = text.substr(0, length);
    const auto value = plainNumber(run);
    if (!value) return notANumber(run);
    ReadNumber number{*value, false, text.substr(length)};
    const bool joined = number.rest.size() > 1 && (number.rest[0] == '-' || number.rest[0] == ' ');
    if (!joined) return number;
    const auto fraction = readFraction(trimmed(number.rest.substr(1)));
    if (!fraction) return number;
    if (std::isnan(fraction->value) || run.find('.') != std::string_view::npos) {
        return Reason{quoted(text) + " is not a whole number and a fraction below one: write it as 1-5/8\""};
    }
    return ReadNumber{*value + fraction->value, true, fraction->rest};
}

/// Slips that are better named before anything is read. Nothing if the text may be a number.
std::optional<Reason> commonSlip(std::string_view text, const Unit& bare) {
    if (text.empty()) return Reason{"nothing is written: " + example(bare)};
    const std::string_view digits = text.substr(text[0] == '-' ? 1 : 0);
    if (text[0] == '+') return Reason{quoted(text) + " has a plus sign: leave it out"};
    if (digits.size() > 1 && digits[0] == '0' && (digits[1] == 'x' || digits[1] == 'X')) {
        return Reason{quoted(text) + " is a hexadecimal number: write it as a decimal number such as 31"};
    }
    if (digits.empty() || !(isDigit(digits[0]) || digits[0] == '.')) {
        return Reason{quoted(text) + " is not " + std::string(dimensionPhrase(bare.dimension)) + ": " +
                      example(bare)};
    }
    const size_t comma = text.find(',');
    if (comma == std::string_view::npos) return std::nullopt;
    const bool lone =
        text.find(',', comma + 1) == std::string_view::npos && text.find('.') == std::string_view::npos;
    if (!lone)
        return Reason{quoted(text) +
                      " has a comma: write the number without commas, with a point for decimals"};
    std::string with_point(text);
    with_point[comma] = '.';
    return Reason{quoted(text) + " has a comma: write " + with_point + " with a point"};
}

/// One number with its unit off the front of a text.
struct Term {
    ReadNumber number;
    Unit unit;
    bool bare = false;  ///< no unit was written
};

/// A unit's word goes on to a digit that follows a space, dash or mark ("ft 4 in", "' 4-1/2\""), not through
/// "cm2".
size_t unitLength(std::string_view text) {
    for (size_t i = 1; i < text.size(); ++i) {
        const char before = text[i - 1];
        const bool in_word =
            (before >= 'a' && before <= 'z') || (before >= 'A' && before <= 'Z') || before == '^';
        if (isDigit(text[i]) && !in_word) return i;
    }
    return text.size();
}

Expected<Term> readTerm(std::string_view text, const Unit& bare) {
    const auto number = readNumber(text);
    if (!number) return Reason{number.reason()};
    const std::string_view after = trimmed(number->rest);
    const size_t end = unitLength(after);
    std::string_view word = after.substr(0, end);
    const std::string_view rest = after.substr(end);
    if (!rest.empty()) word = word.substr(0, word.find_last_not_of(" -") + 1);
    if (word.empty()) return Term{{number->value, number->is_fraction, rest}, bare, true};
    const auto unit = unitNamed(word);
    if (!unit) return Reason{unit.reason()};
    return Term{{number->value, number->is_fraction, rest}, *unit, false};
}

bool isInch(const Unit& unit) {
    return unit.word == "in";
}

const Unit& inch() {
    static const Unit unit = *unitNamed("in");
    return unit;
}

std::optional<Reason> termTrouble(const Term& term, std::string_view text, const Unit& bare) {
    if (term.unit.dimension != bare.dimension) {
        return Reason{quoted(text) + " is " + std::string(dimensionPhrase(term.unit.dimension)) + ", not " +
                      std::string(dimensionPhrase(bare.dimension)) + ": " + example(bare)};
    }
    if (term.number.is_fraction && !isInch(term.unit)) {
        return Reason{quoted(text) +
                      " has a fraction, which is read for inches only: write it as 1-5/8\" or with a point"};
    }
    return std::nullopt;
}

}  // namespace

Expected<double> readMeasure(std::string_view written, const Unit& bare) {
    const std::string_view text = trimmed(written);
    if (const auto slip = commonSlip(text, bare)) return *slip;
    const bool negative = text[0] == '-';
    const auto first = readTerm(text.substr(negative ? 1 : 0), bare);
    if (!first) return Reason{first.reason()};
    if (const auto trouble = termTrouble(*first, text, bare)) return *trouble;
    double value = first->number.value * first->unit.to_base;

    if (!first->number.rest.empty()) {
        const auto inches = readTerm(first->number.rest, inch());
        if (!inches) return Reason{inches.reason()};
        const bool feet_first = !first->bare && first->unit.word == "ft";
        if (!feet_first || !isInch(inches->unit) || !inches->number.rest.empty() ||
            inches->number.value >= 12) {
            return Reason{quoted(text) + " goes on after the measure: " + example(bare) +
                          (feet_first ? ", or feet with fewer than 12 inches such as 5' 4-1/2\"" : "")};
        }
        value += inches->number.value * inches->unit.to_base;
    }
    if (!std::isfinite(value)) return Reason{quoted(text) + " is too large: " + example(bare)};
    // Below the least normal double digits are lost without a word.
    if (std::fpclassify(value) == FP_SUBNORMAL || std::fpclassify(first->number.value) == FP_SUBNORMAL)
        return Reason{quoted(text) + " is too near zero: write 0, or " + example(bare).substr(6)};
    return negative ? -value : value;
}

}  // namespace hoopwright
