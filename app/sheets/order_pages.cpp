// What to buy, which piece from which stick, heats and certificates, on paper.
#include <algorithm>

#include "app/sheets/shop_sheets.h"
#include "core/base/text.h"

namespace hoopwright {
namespace {

constexpr double kTable_pt = 11, kBuy_pt = 12;

class OrderPager {
public:
    OrderPager(const SheetHead& head, const ShopSheets& sheets)
        : sheets_(sheets), order_(sheets.order), unit_(head.unit), pages_(head, "Order") {}

    std::vector<Drawing> make() {
        pages_.page(sheets_.job->cage.name, std::to_string(order_.sticks) + " sticks to buy, " +
                                                allOf(order_.length_mm) + " of tube, " +
                                                showMass(order_.mass_kg, unit_) + " in the cage" +
                                                money(order_.price));
        buyAll();
        for (const OrderTube& tube : order_.tubes) cuts(tube);
        certificates();
        rack();
        for (const std::string& each : order_.left_out) pages_.words("Left out: " + each, 10, true);
        return pages_.take();
    }

private:
    std::string plain(double mm) const {
        return showLength(mm, {unit_, 1, unit_ == LengthUnit::in ? 16 : 0});
    }
    /// A length no one tapes.
    std::string allOf(double mm) const {
        return unit_ == LengthUnit::in ? fixed(mm / 304.8, 0) + " ft" : fixed(mm / 1000, 1) + " m";
    }
    std::string money(double price) const {
        return price > 0 ? ", " + fixed(price, 2) + " " + sheets_.job->stock.currency : "";
    }
    const std::string& name(int member) const {
        return sheets_.cage->members[static_cast<std::size_t>(member)].name;
    }
    std::string nameOf(const TubeSource& source) const {
        OrderPiece piece;
        piece.member = source.member;
        piece.spare = source.spare;
        return loudName(pieceName(*sheets_.cage, piece));
    }

    void buyAll() {
        pages_.heading("To the merchant");
        const std::vector<double> shares = {0.4, 0.22, 0.12, 0.13, 0.13};
        pages_.row({"tube", "stick", "count", "each", "together"}, shares, true, false, 10);
        for (const OrderTube& tube : order_.tubes) buy(tube, shares);
        pages_.rule();
        pages_.gap(1);
        for (const OrderTube& tube : order_.tubes) proved(tube);
        for (const OrderBought& one : order_.bought)
            pages_.words(name(one.member) + ": bought bent, " + one.stock + ", " + plain(one.bought_mm) + ".",
                         kTable_pt);
        pages_.words("With a certificate of each heat. A kerf of " + showLength(order_.kerf_mm, {unit_}) +
                         (order_.kerf_at == KerfAt::every_cut ? " behind every piece; bent tubes "
                                                              : " between two pieces; bent tubes ") +
                         showLength(order_.bend_long_mm, {unit_}) + " long.",
                     10, false, true);
        for (const OrderApart& apart : order_.apart) {
            if (!apart.says.empty()) pages_.words(apart.says, kTable_pt, true);
            if (!apart.trouble.empty()) pages_.words("Wrong: " + apart.trouble, kTable_pt, true);
        }
    }
    void buy(const OrderTube& tube, const std::vector<double>& shares) {
        const TubeStock* stock = sheets_.job->stock.find(tube.stock);
        const Material* material = stock ? sheets_.job->stock.material(stock->material) : nullptr;
        std::string what = tube.stock;
        if (material) what += ", " + material->name;
        if (stock && !stock->standard.empty()) what += ", " + stock->standard;
        if (!tube.trouble.empty()) {
            pages_.words(what + ": " + tube.trouble, kBuy_pt, true);
            return;
        }
        for (const auto& [stick, count] : tube.toBuy())
            pages_.row({what, plain(stick.length_mm), std::to_string(count),
                        stick.price > 0 ? fixed(stick.price, 2) : "no price",
                        stick.price > 0 ? fixed(stick.price * count, 2) : "no price"},
                       shares, false, false, kBuy_pt);
    }
    void proved(const OrderTube& tube) {
        if (!tube.trouble.empty()) return;
        pages_.words(tube.stock + ": " +
                         (tube.nest.proved ? "no plan takes less, proved."
                                           : "a better cut may be possible; this one takes at most " +
                                                 fixed(100 * tube.nest.gap(), 1) + " % more than the least."),
                     10, false, true);
        if (!tube.note.empty()) pages_.words(tube.note, 10, true);
    }

    std::string headOf(const OrderTube& tube, std::size_t i) const {
        const CutStick& stick = tube.nest.sticks[i];
        const std::string length = plain(tube.stickLength_mm(stick));
        if (stick.owned < 0)
            return "Stick " + std::to_string(i + 1) + ", new, " + length +
                   ".  Heat ______________  Certificate ______________";
        const RackPiece& rack = tube.owned[static_cast<std::size_t>(stick.owned)];
        return "Stick " + std::to_string(i + 1) + ", FROM THE RACK, " + length + ".  Heat " +
               (rack.heat.empty() ? "______________" : rack.heat) + "  Certificate " +
               (rack.certificate.empty() ? "______________" : rack.certificate);
    }
    void cuts(const OrderTube& tube) {
        if (!tube.trouble.empty()) return;
        pages_.heading(tube.stock + ": which piece from which stick, in the order they are cut");
        // A length in inches is said twice, and both must be read at the saw.
        const std::vector<double> shares = unit_ == LengthUnit::in ? std::vector{0.36, 0.34, 0.14, 0.16}
                                                                   : std::vector{0.46, 0.22, 0.16, 0.16};
        for (std::size_t i = 0; i < tube.nest.sticks.size(); ++i) {
            const CutStick& stick = tube.nest.sticks[i];
            pages_.need(16);
            pages_.gap(1.5);
            pages_.words(headOf(tube, i), kTable_pt, true);
            for (const int piece : stick.pieces) {
                const OrderPiece& one = tube.pieces[static_cast<std::size_t>(piece)];
                pages_.row({"  " + loudName(pieceName(*sheets_.cage, one)), plain(one.cut.blank_mm),
                            one.bends > 0 ? std::to_string(one.bends) + (one.bends == 1 ? " bend" : " bends")
                                          : "straight",
                            ""},
                           shares, false, true, kTable_pt);
            }
            pages_.words(plain(stick.left_mm) + " left" +
                             (order_.back(stick)    ? ": back to the rack, its heat written on it."
                              : order_.rack_from_mm ? ": too short for the rack."
                                                    : ".") +
                             " Mark the end that is not cut.",
                         10, false, true, 2);
        }
    }

    void certificates() {
        if (order_.sources.empty()) return;
        pages_.need(40);
        pages_.heading("Heat and certificate of each tube");
        const std::vector<double> shares = {0.44, 0.2, 0.18, 0.18};
        pages_.tableHead({"bar", "stick", "heat", "certificate"}, shares);
        for (const TubeSource& source : order_.sources) {
            std::string stick = "bought bent";
            if (source.tube >= 0)
                stick = order_.tubes[static_cast<std::size_t>(source.tube)].stock + "  /  " +
                        std::to_string(source.stick + 1);
            pages_.row({nameOf(source), stick, source.heat.empty() ? "__________" : source.heat,
                        source.certificate.empty() ? "__________" : source.certificate},
                       shares, false, false, kTable_pt);
        }
        pages_.endTable();
        for (const TubeSource& source : order_.sources)
            if (!source.trouble.empty()) pages_.words("Wrong: " + source.trouble, kTable_pt, true);
    }
    void rack() {
        if (!sheets_.job->shop) return;
        pages_.heading("On the rack once it is cut");
        if (!order_.rack_from_mm)
            pages_.words("The shop's book does not say from which length on what is left goes back.", 10,
                         false, true);
        const std::vector<double> shares = {0.18, 0.34, 0.26, 0.22};
        for (const RackPiece& piece : order_.rack_after)
            pages_.row({piece.stock, plain(piece.length_mm),
                        piece.heat.empty() ? "heat __________" : "heat " + piece.heat, piece.certificate},
                       shares, false, false, kTable_pt);
        if (order_.rack_after.empty()) pages_.words("Nothing.", kTable_pt);
        if (order_.rack_from_mm)
            pages_.words(
                "The shop's book takes it in once it is cut: What is left to the rack, in the order's "
                "page of the window, or hoopwright order CAGE --to-rack.",
                9.5, false, true);
    }

    const ShopSheets& sheets_;
    const Order& order_;
    LengthUnit unit_;
    SheetPages pages_;
};

}  // namespace

std::vector<Drawing> orderPages(const SheetHead& head, const ShopSheets& sheets) {
    return OrderPager(head, sheets).make();
}

std::vector<std::vector<std::string>> orderRows(const ShopSheets& sheets) {
    std::vector<std::vector<std::string>> rows = {{"stock", "stick", "stick_mm", "from", "bar", "spare",
                                                   "blank_mm", "bends", "mass_kg", "left_mm", "heat",
                                                   "certificate"}};
    for (const TubeSource& source : sheets.order.sources) {
        if (source.tube < 0) continue;
        const OrderTube& tube = sheets.order.tubes[static_cast<std::size_t>(source.tube)];
        const CutStick& stick = tube.nest.sticks[static_cast<std::size_t>(source.stick)];
        const auto piece = std::ranges::find_if(tube.pieces, [&](const OrderPiece& one) {
            return one.member == source.member && one.spare == source.spare;
        });
        rows.push_back({tube.stock, std::to_string(source.stick + 1), shortest(tube.stickLength_mm(stick)),
                        stick.owned < 0 ? "bought" : "rack",
                        sheets.cage->members[static_cast<std::size_t>(source.member)].id,
                        std::to_string(source.spare), shortest(piece->cut.blank_mm),
                        std::to_string(piece->bends), shortest(piece->mass_kg), shortest(stick.left_mm),
                        source.heat, source.certificate});
    }
    return rows;
}

}  // namespace hoopwright
