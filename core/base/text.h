// Numbers as text and back, the same in every locale; small string helpers.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace hoopwright {

/// Shortest text that reads back as the same double ("41.3", not "41.299999999999997").
std::string shortest(double value);
/// Fixed decimals, rounded half away from zero on the decimal value; never "-0.0".
std::string fixed(double value, int decimals);
/// Whole text as a finite plain decimal number (no hex, no inf, no nan, no leading "+", no trailing junk).
std::optional<double> plainNumber(std::string_view text);
/// The candidate nearest to `word` (edit distance, at most a third of its letters), or empty.
std::string didYouMean(std::string_view word, std::span<const std::string> candidates);

}  // namespace hoopwright
