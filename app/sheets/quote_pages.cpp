#include <cmath>

#include "app/sheets/shop_sheets.h"
#include "core/base/text.h"

namespace hoopwright {
namespace {

std::string amount(const QuoteLine& line) {
    return fixed(line.count, line.unit == "m" || line.unit == "m2" ? 2 : 0) +
           (line.unit.empty() ? "" : " " + line.unit);
}
std::string money(const std::optional<double>& price) {
    return price ? fixed(*price, 2) : "not known";
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
        const std::vector<double> shares = {0.46, 0.18, 0.16, 0.2};
        pages_.heading("The cage");
        pages_.row({"", "count", "hours", "price"}, shares, true, false, 10);
        for (const QuoteLine& line : quote_.lines)
            pages_.row({line.what, amount(line), line.minutes ? fixed(*line.minutes / 60, 1) : "",
                        money(line.price)},
                       shares, false, false, 11);
        pages_.rule();
        pages_.row({"Together", "", fixed(quote_.minutes / 60, 1), fixed(quote_.price, 2) + " " + currency},
                   shares, true, false, 14);
        for (const std::string& each : quote_.missing) pages_.words("Not in the price: " + each, 9.5, true);
        besides(shares);
        options();
        if (!quote_.exclusions.empty()) {
            pages_.heading("Not part of it");
            for (const std::string& each : quote_.exclusions) pages_.words(each, 10, false, false, 2);
        }
        return pages_.take();
    }

private:
    void besides(const std::vector<double>& shares) {
        if (quote_.finishes.empty() && !quote_.padding) return;
        pages_.heading("On top, as you choose");
        for (const QuoteLine& line : quote_.finishes)
            pages_.row({line.what, amount(line), "", money(line.price)}, shares, false, false, 10);
        if (quote_.padding)
            pages_.row({quote_.padding->what, amount(*quote_.padding), "", money(quote_.padding->price)},
                       shares, false, false, 10);
    }
    void options() {
        if (quote_.options.empty()) return;
        pages_.heading("In the price, and may be left out");
        for (const QuoteOption& option : quote_.options) {
            pages_.row({sheets_.cage->members[static_cast<std::size_t>(option.member)].name,
                        showMass(option.mass_kg, head_.unit), "", money(option.price)},
                       {0.46, 0.18, 0.16, 0.2}, false, false, 10);
        }
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
    std::vector<std::vector<std::string>> rows = {
        {"part", "what", "count", "counted_in", "minutes", "price"}};
    if (!sheets.quote) return rows;
    const auto add = [&](const std::string& part, const QuoteLine& line) {
        rows.push_back({part, line.what, shortest(line.count), line.unit,
                        line.minutes ? shortest(*line.minutes) : "",
                        line.price ? shortest(*line.price) : ""});
    };
    for (const QuoteLine& line : sheets.quote->lines) add("cage", line);
    for (const QuoteLine& line : sheets.quote->finishes) add("finish", line);
    if (sheets.quote->padding) add("padding", *sheets.quote->padding);
    for (const QuoteOption& option : sheets.quote->options)
        add("option", {sheets.cage->members[static_cast<std::size_t>(option.member)].id, 1, "", std::nullopt,
                       option.price});
    return rows;
}

}  // namespace hoopwright
