// The papers of the shop: bend, cope and order sheets of a cage.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "app/sheets/sheet_page.h"
#include "core/model/shop_book.h"
#include "core/shop/bend_sheet.h"
#include "core/shop/cope_sheet.h"
#include "core/shop/order.h"
#include "core/shop/plate_parts.h"
#include "core/shop/quote.h"
#include "core/shop/sheet_nest.h"
#include "rules/bend_findings.h"

namespace hoopwright {

/// Everything the sheets of one job say, worked out once.
struct ShopSheets {
    const Job* job = nullptr;            ///< not owned; outlives this
    const CageGeometry* cage = nullptr;  ///< not owned
    std::vector<BendSheet> bends;        ///< of the bars that are bent here, in build order
    std::vector<CopeSheet> copes;        ///< of every bar with a tube
    std::vector<PlatePart> plates;       ///< all that is cut from sheet
    std::vector<SheetPlan> sheet_plans;  ///< how those lie on sheets
    std::vector<Finding> plate_rulings;  ///< what the tables say of each plate and gusset
    Order order;
    std::optional<Quote> quote;
    std::string no_quote;               ///< why there is none
    std::vector<std::string> left_out;  ///< bars without a sheet they should have, each with the reason
    std::vector<BarFinding> rulings;    ///< what the tables say of the bends of each bar

    int spares(int member) const;  ///< how many more of that bar are wanted than the cage has
};
/// `tables`: those the bends are held against.
ShopSheets shopSheets(const Job& job, const CageGeometry& cage, std::span<const RuleTableRef> tables = {});

/// One tube a page, and the floor points behind it; then the tubes that are bought bent, to be sawn.
std::vector<Drawing> bendPages(const SheetHead& head, const ShopSheets& sheets);
/// The bent tube in full size as it lies on the floor; the page is as large as that takes.
Drawing floorDrawing(const ShopSheets& sheets, const BendSheet& sheet);
/// The same on as many sheets of paper as it takes, with crosses to lay them together by, and a plan of them
/// before.
std::vector<Drawing> floorPages(const SheetHead& head, const ShopSheets& sheets);
/// Figures of each tube, then the wraps of its two ends at exactly 1:1; without the wraps where they go on
/// strips.
std::vector<Drawing> copePages(const SheetHead& head, const ShopSheets& sheets);
/// Every wrap on a page of its own, as long as it takes: for paper on a roll.
std::vector<Drawing> wrapStrips(const SheetHead& head, const ShopSheets& sheets);
/// The wrap of one end alone. @pre the end is cut: not square, no trouble
Drawing wrapDrawing(const ShopSheets& sheets, const CopeSheet& sheet, int end);
/// The cage in three views to scale, with the dimensions that are pinned to it and a box for what was got.
std::vector<Drawing> layoutPages(const SheetHead& head, const ShopSheets& sheets);
std::vector<Drawing> orderPages(const SheetHead& head, const ShopSheets& sheets);
/// Nothing, if there is no quote.
std::vector<Drawing> quotePages(const SheetHead& head, const ShopSheets& sheets);

std::vector<std::vector<std::string>> bendRows(const ShopSheets& sheets);
std::vector<std::vector<std::string>> copeRows(const ShopSheets& sheets);
/// The pinned dimensions.
std::vector<std::vector<std::string>> layoutRows(const ShopSheets& sheets);
std::vector<std::vector<std::string>> orderRows(const ShopSheets& sheets);
std::vector<std::vector<std::string>> quoteRows(const ShopSheets& sheets);

/// "Side bar, LEFT": a side no one reads past.
std::string loudName(const std::string& name);

}  // namespace hoopwright
