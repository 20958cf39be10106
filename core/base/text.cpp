#include "core/base/text.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <charconv>
#include <cmath>
#include <numeric>
#include <vector>

namespace hoopwright {
namespace {

bool isDigit(char c) {
    return c >= '0' && c <= '9';
}

char lower(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

/// The digits people would write for it, without an exponent: "1625", "0.0833".
std::string plainDigits(double value) {
    std::array<char, 400>
        buffer;  // 309 digits before the point at most, or 17 significant ones 324 places after it
    const auto end =
        std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, std::chars_format::fixed);
    return {buffer.data(), end.ptr};
}

/// Adds one unit in the last place of a string of digits with at most one point.
void addOneInLastPlace(std::string& digits) {
    for (size_t i = digits.size(); i-- > 0;) {
        if (digits[i] == '.') continue;
        if (digits[i] != '9') {
            ++digits[i];
            return;
        }
        digits[i] = '0';
    }
    digits.insert(digits.begin(), '1');
}

/// Letters to add, drop, change or swap with their neighbour to turn one word into the other; case is not
/// counted.
size_t editDistance(std::string_view a, std::string_view b) {
    std::vector<size_t> before(b.size() + 1), last(b.size() + 1), row(b.size() + 1);
    std::iota(last.begin(), last.end(), size_t{0});
    for (size_t i = 1; i <= a.size(); ++i) {
        row[0] = i;
        for (size_t j = 1; j <= b.size(); ++j) {
            const size_t change = lower(a[i - 1]) == lower(b[j - 1]) ? 0 : 1;
            row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + change});
            const bool swapped =
                i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) && lower(a[i - 2]) == lower(b[j - 1]);
            if (swapped) row[j] = std::min(row[j], before[j - 2] + 1);
        }
        std::swap(before, last);
        std::swap(last, row);
    }
    return last[b.size()];
}

}  // namespace

std::string shortest(double value) {
    assert(std::isfinite(value));
    std::array<char, 32> buffer;
    const double no_minus_zero = value == 0 ? 0 : value;
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), no_minus_zero);
    return {buffer.data(), end.ptr};
}

std::string fixed(double value, int decimals) {
    assert(std::isfinite(value) && decimals >= 0);
    std::string digits = plainDigits(std::abs(value));
    const size_t point = std::min(digits.find('.'), digits.size());
    const size_t keep = point + 1 + static_cast<size_t>(decimals);  // up to and with the last place shown
    if (digits.size() <= keep) {
        if (decimals > 0 && point == digits.size()) digits += '.';
        digits.resize(decimals > 0 ? keep : point, '0');
    } else {
        const bool up = digits[keep] >= '5';
        digits.resize(decimals > 0 ? keep : point);
        if (up) addOneInLastPlace(digits);
    }
    const bool is_zero = digits.find_first_not_of("0.") == std::string::npos;
    return value < 0 && !is_zero ? "-" + digits : digits;
}

std::optional<double> plainNumber(std::string_view text) {
    const std::string_view digits = text.substr(text.starts_with('-') ? 1 : 0);
    if (digits.empty() || !(isDigit(digits[0]) || digits[0] == '.')) return std::nullopt;
    if (digits.size() > 1 && digits[0] == '0' && isDigit(digits[1])) return std::nullopt;
    double value = 0;
    const auto read = std::from_chars(text.data(), text.data() + text.size(), value);
    if (read.ec != std::errc{} || read.ptr != text.data() + text.size()) return std::nullopt;
    return value;
}

std::string didYouMean(std::string_view word, std::span<const std::string> candidates) {
    size_t best = word.size() / 3;
    std::string found;
    for (const std::string& candidate : candidates) {
        const size_t distance = editDistance(word, candidate);
        if (distance > best || (distance == best && !found.empty())) continue;
        best = distance;
        found = candidate;
    }
    return found;
}

}  // namespace hoopwright
