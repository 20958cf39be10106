// What a cage costs by the shop's own minutes and prices.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "core/shop/order.h"
#include "core/shop/sheet_nest.h"

namespace hoopwright {

/// So many of a kind of work, or so much of a thing. Prices in the stock list's currency.
struct QuoteLine {
    std::string what;  ///< "bends", "tube"
    double count = 0;
    std::string unit;               ///< "" for a count, else "m", "m2", "sticks", "sheets"
    std::optional<double> minutes;  ///< of all of them; nothing: no work, or the book does not say
    std::optional<double> price;    ///< nothing: the book or the stock list does not say
    std::optional<double> minutes_each = {};
    std::optional<double> spread_minutes =
        {};         ///< of all of them, one standard deviation; entered times only
    int times = 0;  ///< entered times the minutes are from; 0: the book's figure
};
/// A bar, or a pair of bars, the customer may leave out: what it adds. Tube by length at the price of its
/// cheapest stick.
struct QuoteOption {
    std::string name;
    std::vector<int> members;  ///< indices into CageGeometry::members; one, or left and right
    double mass_kg = 0;
    std::optional<double> price;
};
struct Quote {
    std::vector<QuoteLine> lines;
    double minutes = 0, price = 0;  ///< of all lines that have them
    /// One standard deviation of the minutes and of what they cost, as far as entered times tell; the
    /// operations are taken to stray apart from each other.
    double spread_minutes = 0, spread_price = 0;
    std::vector<QuoteLine> finishes;      ///< each instead of the others; not in the price
    std::optional<QuoteLine> padding;     ///< not in the price
    std::vector<QuoteOption> options;     ///< in the price
    std::vector<std::string> exclusions;  ///< as the book says
    std::vector<std::string> missing;     ///< what is not in the price because nobody said what it costs
};

/// The reason says that the cage names no shop's book. Counts: bends made here; ends coped to tubes; welds of
/// an end to anything; plates and gussets; bars to fit. `ordered`: the tube bought for it; `laid`: the sheet.
/// Sticks and sheets are paid whole. Spare pieces count as tube only. Minutes each: timeFigure().
Expected<Quote> quote(const Job& job, const CageGeometry& cage, const Order& ordered,
                      std::span<const SheetPlan> laid);
/// The same with plates and gussets laid on the book's sheets.
Expected<Quote> quote(const Job& job, const CageGeometry& cage, const Order& ordered);

}  // namespace hoopwright
