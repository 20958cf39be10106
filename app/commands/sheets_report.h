// Bend and cope sheets as programs read them.
#pragma once

#include <iosfwd>

#include "app/commands/json.h"
#include "app/sheets/shop_sheets.h"

namespace hoopwright {

/// See app/commands/JSON.md. `files`: what was written, if anything was.
void writeSheetsJson(std::ostream& out, const ShopSheets& sheets, const std::string& revision,
                     const std::vector<std::string>& files);

/// The keys `plates` and `sheet_plans` of that object.
void writePlatesJson(JsonWriter& json, const ShopSheets& sheets);
/// What keeps plates and gussets from being cut, one sentence each.
std::vector<std::string> plateTroubles(const ShopSheets& sheets);

}  // namespace hoopwright
