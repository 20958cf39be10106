// Bend and cope sheets as programs read them.
#pragma once

#include <iosfwd>

#include "app/sheets/shop_sheets.h"

namespace hoopwright {

/// See app/commands/JSON.md. `files`: what was written, if anything was.
void writeSheetsJson(std::ostream& out, const ShopSheets& sheets, const std::string& revision,
                     const std::vector<std::string>& files);

}  // namespace hoopwright
