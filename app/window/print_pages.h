// Sheets on a printer, at exactly the size they are drawn in.
#pragma once

#include <span>
#include <vector>

#include "app/sheets/drawing.h"

class QPrinter;

namespace hoopwright {

/// Each drawing on a page of its own size, its origin the paper's corner, a millimetre a millimetre. What
/// a printer driver scales afterwards nobody here can see: the bars of the sheets prove it. False: the
/// printer took no page.
bool printPages(QPrinter& printer, std::span<const Drawing* const> pages);

/// Of these pages the ones that were asked for in the printer's dialog: all, or from one to another counted
/// from 1. Pages named one by one are picked out by the printing system itself.
std::vector<const Drawing*> pagesAskedFor(const QPrinter& printer, std::vector<const Drawing*> pages);

}  // namespace hoopwright
