// What a cage costs by the shop's own minutes and prices.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/shop/order.h"

namespace hoopwright {

/// So many of a kind of work, or so much of a thing. Prices in the stock list's currency.
struct QuoteLine {
    std::string what;  ///< "bends", "tube"
    double count = 0;
    std::string unit;               ///< "" for a count, else "m", "m2", "sticks"
    std::optional<double> minutes;  ///< of all of them; nothing: no work, or the book does not say
    std::optional<double> price;    ///< nothing: the book or the stock list does not say
};
/// A bar the customer may leave out: what it adds. Tube by length at the price of its cheapest stick.
struct QuoteOption {
    int member = -1;  ///< index into CageGeometry::members
    double mass_kg = 0;
    std::optional<double> price;
};
struct Quote {
    std::vector<QuoteLine> lines;
    double minutes = 0, price = 0;        ///< of all lines that have them
    std::vector<QuoteLine> finishes;      ///< each instead of the others; not in the price
    std::optional<QuoteLine> padding;     ///< not in the price
    std::vector<QuoteOption> options;     ///< in the price
    std::vector<std::string> exclusions;  ///< as the book says
    std::vector<std::string> missing;     ///< what is not in the price because nobody said what it costs
};

/// The reason says that the cage names no shop's book. Counts: bends made here; ends coped to tubes; welds of
/// an end to anything; plates and gussets; bars to fit. `ordered`: what is bought for it.
Expected<Quote> quote(const Job& job, const CageGeometry& cage, const Order& ordered);

}  // namespace hoopwright
