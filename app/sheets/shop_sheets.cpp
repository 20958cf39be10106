#include "app/sheets/shop_sheets.h"

#include "core/base/text.h"

namespace hoopwright {
namespace {

class OrderPager {
public:
    OrderPager(const SheetHead& head, const ShopSheets& sheets)
        : sheets_(sheets), order_(sheets.order), unit_(head.unit), pages_(head, "Order") {}

    std::vector<Drawing> make() {
        pages_.page(sheets_.job->cage.name, std::to_string(order_.sticks) + " sticks, " +
                                                plain(order_.length_mm) + " of tube, " +
                                                showMass(order_.mass_kg, unit_) + money(order_.price));
        pages_.heading("What to buy");
        for (const OrderTube& tube : order_.tubes) buy(tube);
        for (const OrderBought& one : order_.bought)
            pages_.words(name(one.member) + ": bought bent, " + one.stock + ", " + plain(one.bought_mm) + ".",
                         10);
        for (const OrderTube& tube : order_.tubes) cuts(tube);
        for (const std::string& each : order_.left_out) pages_.words("Left out: " + each, 9.5, true);
        return pages_.take();
    }

private:
    std::string plain(double mm) const {
        return showLength(mm, {unit_, 1, unit_ == LengthUnit::in ? 16 : 0});
    }
    std::string money(double price) const {
        return price > 0 ? ", " + fixed(price, 2) + " " + sheets_.job->stock.currency : "";
    }
    const std::string& name(int member) const {
        return sheets_.cage->members[static_cast<std::size_t>(member)].name;
    }

    void buy(const OrderTube& tube) {
        if (!tube.trouble.empty()) {
            pages_.words(tube.stock + ": " + tube.trouble, 10, true);
            return;
        }
        std::string say = tube.stock + ": ";
        for (std::size_t k = 0; k < tube.sticks.size(); ++k) {
            int count = 0;
            for (const CutStick& stick : tube.nest.sticks)
                count += stick.stick == static_cast<int>(k) ? 1 : 0;
            if (count > 0) say += std::to_string(count) + " of " + plain(tube.sticks[k].length_mm) + ", ";
        }
        say.resize(say.size() - 2);
        pages_.words(
            say + money(tube.nest.price) +
                (tube.nest.proved ? "; no cheaper cut is possible." : "; a better cut may be possible."),
            12, true);
    }

    void cuts(const OrderTube& tube) {
        if (!tube.trouble.empty()) return;
        pages_.heading(tube.stock + ": which piece from which stick, in the order they are cut");
        for (std::size_t i = 0; i < tube.nest.sticks.size(); ++i) {
            const CutStick& stick = tube.nest.sticks[i];
            pages_.need(12);
            pages_.words("Stick " + std::to_string(i + 1) + " of " +
                             plain(tube.sticks[static_cast<std::size_t>(stick.stick)].length_mm) +
                             ", heat and certificate:  "
                             "____________________",
                         10, true);
            const std::vector<double> shares = {0.5, 0.3, 0.2};
            for (const int piece : stick.pieces) {
                const OrderPiece& one = tube.pieces[static_cast<std::size_t>(piece)];
                pages_.row({loudName(name(one.member)), plain(one.cut.blank_mm),
                            one.bends > 0 ? std::to_string(one.bends) + " bends" : ""},
                           shares);
            }
            pages_.words(plain(stick.left_mm) + " left. Mark the end that is not cut.", 9, false, true, 2);
        }
    }

    const ShopSheets& sheets_;
    const Order& order_;
    LengthUnit unit_;
    SheetPages pages_;
};

}  // namespace

ShopSheets shopSheets(const Job& job, const CageGeometry& cage) {
    ShopSheets out;
    out.job = &job;
    out.cage = &cage;
    for (std::size_t m = 0; m < cage.members.size(); ++m) {
        const auto member = static_cast<int>(m);
        if (cage.members[m].line.bendCount() > 0 && !cage.members[m].bought) {
            Expected<BendSheet> sheet = bendSheet(job, cage, member);
            if (sheet) {
                out.bends.push_back(*std::move(sheet));
            } else {
                out.left_out.push_back(sheet.reason());
            }
        }
        Expected<CopeSheet> sheet = copeSheet(job, cage, member);
        if (sheet) {
            out.copes.push_back(*std::move(sheet));
        } else {
            out.left_out.push_back(sheet.reason());
        }
    }
    out.order = order(job, cage, job.shop ? job.shop->bend_long_mm : 0);
    if (Expected<Quote> priced = quote(job, cage, out.order)) {
        out.quote = *std::move(priced);
    } else {
        out.no_quote = priced.reason();
    }
    return out;
}

std::vector<Drawing> orderPages(const SheetHead& head, const ShopSheets& sheets) {
    return OrderPager(head, sheets).make();
}

std::vector<std::vector<std::string>> orderRows(const ShopSheets& sheets) {
    std::vector<std::vector<std::string>> rows = {
        {"stock", "stick", "stick_mm", "bar", "blank_mm", "bends", "mass_kg", "left_mm"}};
    for (const OrderTube& tube : sheets.order.tubes) {
        for (std::size_t i = 0; i < tube.nest.sticks.size(); ++i) {
            const CutStick& stick = tube.nest.sticks[i];
            for (const int piece : stick.pieces) {
                const OrderPiece& one = tube.pieces[static_cast<std::size_t>(piece)];
                rows.push_back({tube.stock, std::to_string(i + 1),
                                shortest(tube.sticks[static_cast<std::size_t>(stick.stick)].length_mm),
                                sheets.cage->members[static_cast<std::size_t>(one.member)].id,
                                shortest(one.cut.blank_mm), std::to_string(one.bends), shortest(one.mass_kg),
                                shortest(stick.left_mm)});
            }
        }
    }
    return rows;
}

}  // namespace hoopwright
