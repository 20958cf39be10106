// The sheet of a tube that is bought bent: what to saw off it, in place of a bend sheet.
#pragma once

#include "app/sheets/shop_sheets.h"

namespace hoopwright {

/// One tube a page, behind what is on them already.
void addTrimPages(SheetPages& pages, const ShopSheets& sheets);

}  // namespace hoopwright
