#include "core/shop/quote.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/model/shop_book.h"
#include "core/shop/work_times.h"

namespace hoopwright {
namespace {

constexpr double kMmInMetre = 1000, kMm2_per_m2 = 1e6;

struct Counts {
    int bends = 0, copes = 0, joints = 0;
};
Counts countsOf(const ResolvedMember& bar) {
    Counts out;
    out.bends = bar.bought ? 0 : bar.line.bendCount();
    for (const ResolvedEnd& end : bar.ends) {
        out.copes += end.on == ResolvedEnd::On::member ? 1 : 0;
        out.joints += end.on != ResolvedEnd::On::nothing ? 1 : 0;
    }
    return out;
}

class Pricer {
public:
    Pricer(const Job& job, const CageGeometry& cage, const Order& ordered, std::span<const SheetPlan> laid)
        : job_(job), cage_(cage), ordered_(ordered), laid_(laid), book_(*job.shop) {}

    Quote make() {
        addTube();
        addSheets();
        Counts all;
        for (const ResolvedMember& bar : cage_.members) {
            const Counts one = countsOf(bar);
            all.bends += one.bends;
            all.copes += one.copes;
            all.joints += one.joints;
        }
        work("bends", all.bends, Operation::bend);
        work("copes", all.copes, Operation::cope);
        work("joints", all.joints, Operation::joint);
        work("plates and gussets", static_cast<int>(cage_.plates.size() + cage_.gussets.size()),
             Operation::plate);
        work("bars to fit", static_cast<int>(cage_.members.size()), Operation::fit);
        double squares = 0;
        for (const QuoteLine& line : out_.lines) {
            out_.minutes += line.minutes.value_or(0);
            out_.price += line.price.value_or(0);
            squares += line.spread_minutes.value_or(0) * line.spread_minutes.value_or(0);
        }
        out_.spread_minutes = std::sqrt(squares);
        out_.spread_price = worth(out_.spread_minutes).value_or(0);
        addFinishes();
        addPadding();
        addOptions();
        out_.exclusions = book_.exclusions;
        return std::move(out_);
    }

private:
    const Member& layoutOf(std::size_t m) const {
        return job_.cage.members[static_cast<std::size_t>(cage_.members[m].layout)];
    }
    void lacks(const std::string& sentence) {
        if (std::ranges::find(out_.missing, sentence) == out_.missing.end()) out_.missing.push_back(sentence);
    }

    std::optional<double> worth(double minutes) const {
        return book_.rate_per_hour ? std::optional(minutes / 60 * *book_.rate_per_hour) : std::nullopt;
    }

    void work(const std::string& what, int count, Operation operation) {
        if (count == 0) return;
        QuoteLine line{what, static_cast<double>(count), "", std::nullopt, std::nullopt};
        const TimeFigure each = timeFigure(book_, operation);
        if (each.minutes_each) {
            line.minutes_each = each.minutes_each;
            line.minutes = count * *each.minutes_each;
            line.price = worth(*line.minutes);
            line.times = each.times;
            if (each.spread_minutes) line.spread_minutes = count * *each.spread_minutes;
        } else {
            lacks("The shop's book has no minutes for " + what + ".");
        }
        if (each.minutes_each && !line.price && !said_rate_) {
            said_rate_ = true;
            lacks("The shop's book has no hourly rate.");
        }
        out_.lines.push_back(line);
    }

    void addTube() {
        QuoteLine line{"tube", static_cast<double>(ordered_.sticks), "sticks", std::nullopt, std::nullopt};
        bool priced = ordered_.left_out.empty();
        for (const OrderTube& tube : ordered_.tubes) {
            if (tube.trouble.empty() && tube.nest.price > 0) continue;
            priced = false;
            lacks("There is no price for the sticks of " + tube.stock + ".");
        }
        for (const std::string& each : ordered_.left_out) lacks(each);
        if (priced || ordered_.price > 0) line.price = ordered_.price;
        out_.lines.push_back(line);
        if (ordered_.off_cuts > 0) lacks("What the off-cuts of the rack are worth.");
        if (!ordered_.bought.empty()) lacks("What the tubes bought bent cost is not in the price.");
    }

    /// Of sheets without a price, and of parts that lie on none, it says so.
    void addSheets() {
        QuoteLine line{"sheet for plates and gussets", 0, "sheets", std::nullopt, std::nullopt};
        for (const SheetPlan& plan : laid_) {
            line.count += static_cast<double>(plan.sheets.size());
            for (const std::string& trouble : plan.trouble) lacks(trouble);
            if (plan.price > 0) {
                line.price = line.price.value_or(0) + plan.price;
            } else if (!plan.sheets.empty()) {
                lacks("There is no price for the sheet " + plan.sheet + ".");
            }
        }
        if (!laid_.empty()) out_.lines.push_back(std::move(line));
    }

    void addFinishes() {
        double area_mm2 = 0;
        for (std::size_t m = 0; m < cage_.members.size(); ++m)
            area_mm2 += std::numbers::pi * cage_.members[m].section.od_mm *
                        cutLength(cage_, static_cast<int>(m)).mean_mm;
        const double area = area_mm2 / kMm2_per_m2;
        for (const ShopFinish& finish : book_.finishes)
            out_.finishes.push_back({finish.name, area, "m2", std::nullopt, area * finish.price_per_m2});
    }
    void addPadding() {
        double length = 0;
        for (const ResolvedMember& bar : cage_.members)
            if (bar.padding_mm > 0) length += bar.line.length_mm() / kMmInMetre;
        if (length <= 0) return;
        out_.padding = QuoteLine{"padding", length, "m", std::nullopt, std::nullopt};
        if (book_.padding_price_per_m) out_.padding->price = length * *book_.padding_price_per_m;
    }

    /// The two bars of a pair are one option.
    void addOptions() {
        std::vector<int> layouts;
        for (std::size_t m = 0; m < cage_.members.size(); ++m) {
            if (!layoutOf(m).optional_bar) continue;
            const int layout = cage_.members[m].layout;
            const auto found = std::ranges::find(layouts, layout);
            const auto at = static_cast<std::size_t>(found - layouts.begin());
            if (found == layouts.end()) {
                layouts.push_back(layout);
                out_.options.push_back({cage_.members[m].name, {}, 0, 0.0});
            } else {
                const std::string& name = layoutOf(m).name;
                out_.options[at].name = (name.empty() ? cage_.members[m].name : name) + ", both sides";
            }
            addTo(out_.options[at], m);
        }
    }
    void addTo(QuoteOption& option, std::size_t m) {
        const ResolvedMember& bar = cage_.members[m];
        option.members.push_back(static_cast<int>(m));
        option.mass_kg += bar.mass_kg;
        const Counts one = countsOf(bar);
        std::optional<double> price = tubePrice(bar, cutLength(cage_, static_cast<int>(m)).blank_mm);
        for (const auto& [count, operation] :
             {std::pair(one.bends, Operation::bend), std::pair(one.copes, Operation::cope),
              std::pair(one.joints, Operation::joint), std::pair(1, Operation::fit)}) {
            const std::optional<double> each = timeFigure(book_, operation).minutes_each;
            if (count == 0) continue;
            price = price && each && book_.rate_per_hour ? std::optional(*price + *worth(count * *each))
                                                         : std::nullopt;
        }
        option.price = option.price && price ? std::optional(*option.price + *price) : std::nullopt;
    }
    std::optional<double> tubePrice(const ResolvedMember& bar, double length_mm) const {
        if (bar.stock < 0 || bar.bought) return std::nullopt;
        std::optional<double> best;
        for (const StickLength& stick : job_.stock.tubes[static_cast<std::size_t>(bar.stock)].sticks) {
            if (stick.price <= 0) continue;
            const double price = stick.price / stick.length_mm * length_mm;
            if (!best || price < *best) best = price;
        }
        return best;
    }

    const Job& job_;
    const CageGeometry& cage_;
    const Order& ordered_;
    std::span<const SheetPlan> laid_;
    const ShopBook& book_;
    Quote out_;
    bool said_rate_ = false;
};

}  // namespace

Expected<Quote> quote(const Job& job, const CageGeometry& cage, const Order& ordered,
                      std::span<const SheetPlan> laid) {
    if (!job.shop)
        return Reason{"The cage names no shop's book, so nothing is priced: add shop: FILE to it."};
    return Pricer(job, cage, ordered, laid).make();
}

Expected<Quote> quote(const Job& job, const CageGeometry& cage, const Order& ordered) {
    if (!job.shop) return quote(job, cage, ordered, {});
    const std::vector<PlatePart> parts = plateParts(job, cage, {});
    return quote(job, cage, ordered, layOnSheets(parts, &*job.shop, job.cage.unit));
}

}  // namespace hoopwright
