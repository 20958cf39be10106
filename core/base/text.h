// Numbers as text and back, the same in every locale; small string helpers.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace hoopwright {

/// Shortest text that reads back as the same double ("41.3", not "41.299999999999997"; "1e-07" where that is
/// shorter; minus zero is "0"). @pre finite
std::string shortest(double value);
/// Fixed decimals, rounded half away from zero on the decimal value (2.675 to two places is "2.68", though
/// the double is a hair below); never "-0.0". @pre finite, decimals >= 0
std::string fixed(double value, int decimals);
/// Whole text as a finite plain decimal number (no hex, no inf, no nan, no leading "+", no "010",
/// no trailing junk). "-0.5", ".095", "5." and "1e-3" are read.
std::optional<double> plainNumber(std::string_view text);
/// The candidate nearest to `word` (letters added, dropped, changed or swapped: at most a third of its
/// letters; case is not counted), or empty. Of equals, the first.
std::string didYouMean(std::string_view word, std::span<const std::string> candidates);

}  // namespace hoopwright
