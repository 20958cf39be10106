// Which unit the numbers of a scan are in: no kind of scan file says.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "core/geometry/vec.h"

namespace hoopwright {

enum class ScanUnit { guess, mm, cm, m, in, ft };
/// "mm"; of guess: "guess"
std::string_view scanUnitWord(ScanUnit unit);
/// mm in one; of guess: 1.
double mmIn(ScanUnit unit);

/// The unit in which the greatest side of the scan is most like that of a car or a cab, 0.6 to 9 m: mm, cm, m
/// or in. Nothing if it is none in any, or of no size. A guess: show it, with the size it makes, and let it
/// be changed.
std::optional<ScanUnit> guessedUnit(const Box& bounds);
/// "169.7 x 72.2 x 54.7 in, 4310 x 1834 x 1389 mm": length, width, height in the scan's own axes.
std::string sizeWords(const Box& bounds, ScanUnit unit);

}  // namespace hoopwright
