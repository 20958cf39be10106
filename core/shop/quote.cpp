#include "core/shop/quote.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/model/shop_book.h"

namespace hoopwright {
namespace {

constexpr double kMm_per_m = 1000, kMm2_per_m2 = 1e6, kSameSheet_mm = 0.05;

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
    Pricer(const Job& job, const CageGeometry& cage, const Order& ordered)
        : job_(job), cage_(cage), ordered_(ordered), book_(*job.shop) {}

    Quote make() {
        addTube();
        addPlates();
        Counts all;
        for (const ResolvedMember& bar : cage_.members) {
            const Counts one = countsOf(bar);
            all.bends += one.bends;
            all.copes += one.copes;
            all.joints += one.joints;
        }
        work("bends", all.bends, book_.minutes.bend);
        work("copes", all.copes, book_.minutes.cope);
        work("joints", all.joints, book_.minutes.joint);
        work("plates and gussets", static_cast<int>(cage_.plates.size() + cage_.gussets.size()),
             book_.minutes.plate);
        work("bars to fit", static_cast<int>(cage_.members.size()), book_.minutes.fit);
        for (const QuoteLine& line : out_.lines) {
            out_.minutes += line.minutes.value_or(0);
            out_.price += line.price.value_or(0);
        }
        addFinishes();
        addPadding();
        for (std::size_t m = 0; m < cage_.members.size(); ++m)
            if (layoutOf(m).optional_bar) addOption(m);
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

    void work(const std::string& what, int count, const std::optional<double>& each) {
        if (count == 0) return;
        QuoteLine line{what, static_cast<double>(count), "", std::nullopt, std::nullopt};
        if (each) {
            line.minutes = count * *each;
            line.price = worth(*line.minutes);
        } else {
            lacks("The shop's book has no minutes for " + what + ".");
        }
        if (each && !line.price && !said_rate_) {
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
        if (!ordered_.bought.empty()) lacks("What the tubes bought bent cost is not in the price.");
    }

    const SheetStock* sheetFor(double thickness_mm) const {
        const auto found = std::ranges::find_if(book_.sheets, [&](const SheetStock& sheet) {
            return std::abs(sheet.thickness_mm - thickness_mm) < kSameSheet_mm && sheet.price > 0;
        });
        return found == book_.sheets.end() ? nullptr : &*found;
    }
    void addSheet(double area_mm2, double thickness_mm, const std::string& name) {
        area_ += area_mm2;
        if (const SheetStock* sheet = sheetFor(thickness_mm)) {
            sheet_price_ += area_mm2 / (sheet->length_mm * sheet->width_mm) * sheet->price;
        } else {
            lacks("The shop's book has no priced sheet as thick as " + name + ".");
        }
    }
    void addPlates() {
        for (const ResolvedPlate& plate : cage_.plates)
            addSheet(plate.area_mm2, plate.thickness_mm, plate.name);
        for (const ResolvedGusset& gusset : cage_.gussets)
            addSheet(gusset.area_mm2, gusset.thickness_mm, "gusset " + gusset.id);
        if (area_ > 0)
            out_.lines.push_back(
                {"sheet for plates and gussets", area_ / kMm2_per_m2, "m2", std::nullopt, sheet_price_});
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
            if (bar.padding_mm > 0) length += bar.line.length_mm() / kMm_per_m;
        if (length <= 0) return;
        out_.padding = QuoteLine{"padding", length, "m", std::nullopt, std::nullopt};
        if (book_.padding_price_per_m) out_.padding->price = length * *book_.padding_price_per_m;
    }

    void addOption(std::size_t m) {
        const ResolvedMember& bar = cage_.members[m];
        QuoteOption option{static_cast<int>(m), bar.mass_kg, std::nullopt};
        const Counts one = countsOf(bar);
        const ShopMinutes& each = book_.minutes;
        const std::optional<double> tube = tubePrice(bar, cutLength(cage_, static_cast<int>(m)).blank_mm);
        if (tube && each.bend && each.cope && each.joint && each.fit && book_.rate_per_hour)
            option.price = *tube + *worth(one.bends * *each.bend + one.copes * *each.cope +
                                          one.joints * *each.joint + *each.fit);
        out_.options.push_back(option);
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
    const ShopBook& book_;
    Quote out_;
    double area_ = 0, sheet_price_ = 0;
    bool said_rate_ = false;
};

}  // namespace

Expected<Quote> quote(const Job& job, const CageGeometry& cage, const Order& ordered) {
    if (!job.shop)
        return Reason{"The cage names no shop's book, so nothing is priced: add shop: FILE to it."};
    return Pricer(job, cage, ordered).make();
}

}  // namespace hoopwright
