// Sheets on a printer, at exactly the size they are drawn in.
#pragma once

#include <span>

#include "app/sheets/drawing.h"

class QPrinter;

namespace hoopwright {

/// Each drawing on a page of its own size, its origin the paper's corner, a millimetre a millimetre. What
/// a printer driver scales afterwards nobody here can see: the bars of the sheets prove it. False: the
/// printer took no page.
bool printPages(QPrinter& printer, std::span<const Drawing* const> pages);

}  // namespace hoopwright
