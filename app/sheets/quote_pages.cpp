#include <cmath>

#include "app/sheets/shop_sheets.h"
#include "core/base/text.h"

namespace hoopwright {
namespace {

/// "6 sticks", "3.34 m²", "42.2 ft²" where lengths are in inches.
std::string amount(const QuoteLine& line, LengthUnit unit) {
    constexpr double kFoot_m = 0.3048;
    const bool inch = unit == LengthUnit::in;
    if (line.unit == "m") return fixed(line.count / (inch ? kFoot_m : 1), 2) + (inch ? " ft" : " m");
    if (line.unit == "m2")
        return fixed(line.count / (inch ? kFoot_m * kFoot_m : 1), 2) + (inch ? " ft²" : " m²");
    std::string word = line.unit;
    if (line.count == 1 && word.ends_with('s')) word.pop_back();
    return fixed(line.count, 0) + (word.empty() ? "" : " " + word);
}
std::string quotedPrice(const std::optional<double>& price) {
    return price ? fixed(*price, 2) : "not known";
}
/// "14 min each, +-2 between jobs, from 4 entered times"
std::string timedWords(const QuoteLine& line) {
    if (!line.minutes_each) return "";
    std::string says = fixed(*line.minutes_each, 1) + " min each";
    if (line.times == 0) return says + ", the shop's figure";
    if (line.spread_minutes && line.count > 0)
        says += ", ±" + fixed(*line.spread_minutes / line.count, 1) + " from job to job";
    return says + ", from " + std::to_string(line.times) +
           (line.times == 1 ? " entered time" : " entered times");
}

class QuotePager {
public:
    QuotePager(const SheetHead& head, const ShopSheets& sheets)
        : sheets_(sheets), quote_(*sheets.quote), head_(head), pages_(head, "Quote") {}

    std::vector<Drawing> make() {
        const std::string& currency = sheets_.job->stock.currency;
        pages_.page(sheets_.job->cage.name, "prices in " + currency);
        if (sheets_.job->shop && !sheets_.job->shop->words.empty())
            pages_.words(sheets_.job->shop->words, 10);
        const std::vector<double> shares = {0.4, 0.18, 0.16, 0.26};
        pages_.heading("The cage");
        pages_.row({"", "count", "hours", "price"}, shares, true, false, 10);
        for (const QuoteLine& line : quote_.lines)
            pages_.row({line.what, amount(line, head_.unit), line.minutes ? fixed(*line.minutes / 60, 1) : "",
                        quotedPrice(line.price)},
                       shares, false, false, 11.5);
        pages_.rule();
        pages_.row({"Together", "", fixed(quote_.minutes / 60, 1), fixed(quote_.price, 2) + " " + currency},
                   shares, true, false, 14);
        if (quote_.spread_minutes > 0)
            pages_.words("From job to job the hours have strayed by ±" +
                             fixed(quote_.spread_minutes / 60, 1) + ", the price by ±" +
                             fixed(quote_.spread_price, 2) + " " + currency +
                             " (one standard deviation of the times entered).",
                         10, false, true);
        for (const QuoteLine& line : quote_.lines)
            if (line.minutes_each)
                pages_.words(line.what + ": " + timedWords(line) + ".", 9.5, false, true, 2);
        for (const std::string& each : quote_.missing) pages_.words("Not in the price: " + each, 9.5, true);
        besides();
        options();
        if (!quote_.exclusions.empty()) {
            pages_.heading("Not part of it");
            for (const std::string& each : quote_.exclusions) pages_.words(each, 10, false, false, 2);
        }
        return pages_.take();
    }

private:
    void besides() {
        const std::vector<double> shares = {0.5, 0.2, 0.3};
        if (quote_.finishes.empty() && !quote_.padding) return;
        pages_.heading("On top, as you choose");
        for (const QuoteLine& line : quote_.finishes)
            pages_.row({line.what, amount(line, head_.unit), quotedPrice(line.price)}, shares, false, false,
                       11.5);
        if (quote_.padding)
            pages_.row({quote_.padding->what, amount(*quote_.padding, head_.unit),
                        quotedPrice(quote_.padding->price)},
                       shares, false, false, 11.5);
    }
    void options() {
        if (quote_.options.empty()) return;
        pages_.heading("In the price, and may be left out");
        for (const QuoteOption& option : quote_.options)
            pages_.row({option.name, showMass(option.mass_kg, head_.unit), quotedPrice(option.price)},
                       {0.5, 0.2, 0.3}, false, false, 11.5);
    }

    const ShopSheets& sheets_;
    const Quote& quote_;
    const SheetHead& head_;
    SheetPages pages_;
};

}  // namespace

std::vector<Drawing> quotePages(const SheetHead& head, const ShopSheets& sheets) {
    if (!sheets.quote) return {};
    return QuotePager(head, sheets).make();
}

std::vector<std::vector<std::string>> quoteRows(const ShopSheets& sheets) {
    std::vector<std::vector<std::string>> rows = {{"part", "what", "count", "counted_in", "minutes", "price",
                                                   "minutes_each", "spread_minutes", "entered_times",
                                                   "mass_kg"}};
    if (!sheets.quote) return rows;
    const auto said = [](const std::optional<double>& value) { return value ? shortest(*value) : ""; };
    const auto add = [&](const std::string& part, const QuoteLine& line) {
        rows.push_back({part, line.what, shortest(line.count), line.unit, said(line.minutes),
                        said(line.price), said(line.minutes_each), said(line.spread_minutes),
                        line.minutes_each ? std::to_string(line.times) : "", ""});
    };
    for (const QuoteLine& line : sheets.quote->lines) add("cage", line);
    for (const QuoteLine& line : sheets.quote->finishes) add("finish", line);
    if (sheets.quote->padding) add("padding", *sheets.quote->padding);
    for (const QuoteOption& option : sheets.quote->options) {
        std::string ids;
        for (const int member : option.members)
            ids += (ids.empty() ? "" : " ") + sheets.cage->members[static_cast<std::size_t>(member)].id;
        rows.push_back({"option", ids, std::to_string(option.members.size()), "", "", said(option.price), "",
                        "", "", shortest(option.mass_kg)});
    }
    return rows;
}

}  // namespace hoopwright
