// Parts laid on sheets for the cutting table.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "core/model/shop_book.h"
#include "core/model/stock.h"
#include "core/shop/plate_parts.h"

namespace hoopwright {

/// One part on a sheet. Its datum corner's box lies with its low corner at `at`; turned: by a quarter turn
/// anticlockwise first.
struct LaidPart {
    int part = -1;  ///< index into the parts
    int copy = 0;   ///< which of PlatePart::of
    Vec2 at = Vec2::Zero();
    bool turned = false;
    /// A point of the part on the sheet [mm], from the sheet's low corner.
    Vec2 onSheet(const Vec2& p, const Vec2& size_mm) const {
        return at + (turned ? Vec2(size_mm.y() - p.y(), p.x()) : p);
    }
};
struct LaidSheet {
    std::vector<LaidPart> parts;
    double used = 0;  ///< share of the sheet that becomes parts
};
/// All parts of one thickness and material, on sheets of one size.
struct SheetPlan {
    std::string sheet;  ///< SheetStock::id; empty: none there
    std::string material;
    double thickness_mm = 0, length_mm = 0, width_mm = 0;
    std::vector<LaidSheet> sheets;
    /// No fewer sheets of that size can do: the parts' own areas over what the edges leave, rounded up.
    int least = 0;
    double price = 0;                  ///< of the sheets; 0: not said
    std::vector<std::string> trouble;  ///< what is not laid, and why
    /// No layout needs fewer.
    bool proved() const { return static_cast<int>(sheets.size()) == least; }
};

/// Boxes round the parts are laid, with quarter turns, into the corner where the least is left over (several
/// orders are tried, the best is kept): a good layout, not the best there is. Between two parts stand the gap
/// and the kerf, at the sheet's edge the edge and the kerf. Of several sheets of that thickness the cheapest
/// plan wins, without prices the one that takes least sheet. Parts without a material (gussets) are laid
/// with the first sheet of their thickness. Parts in trouble are named, not laid.
std::vector<SheetPlan> layOnSheets(std::span<const PlatePart> parts, const ShopBook* book,
                                   LengthUnit unit = LengthUnit::mm);

}  // namespace hoopwright
