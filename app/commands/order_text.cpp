#include <algorithm>
#include <ostream>

#include "app/commands/order_report.h"
#include "app/commands/text_table.h"
#include "core/base/text.h"

namespace hoopwright {
namespace {

class OrderPageText {
public:
    OrderPageText(std::ostream& out, const Job& job, const CageGeometry& cage)
        : out_(out), job_(job), cage_(cage) {
        style_.unit = job.cage.unit;
        // Inches as decimals to a thousandth; the tape reads the sixteenth beside it.
        if (style_.unit == LengthUnit::in) style_.fraction = 16;
    }

    void write(const Order& order) {
        std::string rack;
        if (order.off_cuts > 0)
            rack = std::to_string(order.off_cuts) + (order.off_cuts == 1 ? " off-cut" : " off-cuts") +
                   " of the rack, ";
        out_ << wrapped(job_.cage.name + ": " + std::to_string(order.sticks) + " sticks, " + rack +
                            showLength(order.length_mm, style_) + " of tube; " +
                            showMass(order.mass_kg, style_.unit) + " in the cage" + price(order.price),
                        0);
        out_ << wrapped(how(order), 0);
        for (const OrderTube& tube : order.tubes) writeTube(order, tube);
        writeBought(order);
        writeApart(order);
        writeSources(order);
        writeRack(order);
        if (order.left_out.empty()) return;
        out_ << "\nLeft out\n";
        for (const std::string& each : order.left_out) out_ << wrapped(each, 2);
    }

private:
    std::string name(int piece, const OrderTube& tube) const {
        return pieceName(cage_, tube.pieces[static_cast<std::size_t>(piece)]);
    }
    std::string how(const Order& order) const {
        std::string says =
            "Kerf " + showLength(order.kerf_mm, {style_.unit}) +
            (order.kerf_at == KerfAt::every_cut ? " behind every piece" : " between two pieces") +
            ", bends " + showLength(order.bend_long_mm, {style_.unit}) + " long, ";
        return says + (order.off_cuts_first ? "off-cuts first." : "all from bought sticks.");
    }
    std::string price(double amount) const {
        return amount > 0 ? ", " + fixed(amount, 2) + " " + job_.stock.currency : "";
    }

    void writeBought(const Order& order) {
        if (order.bought.empty()) return;
        out_ << "\nBought bent: sawn and coped, not bent here\n";
        TextTable rows({Align::left, Align::left, Align::right, Align::right, Align::right, Align::right});
        rows.add({"piece", "tube", "as bought", "saw off first leg", "off last leg", "mass"});
        for (const OrderBought& one : order.bought) {
            const ResolvedMember& made = cage_.members[static_cast<std::size_t>(one.member)];
            rows.add({made.name, one.stock, showLength(one.bought_mm, style_), sawn(made.bought->saw_mm[0]),
                      sawn(made.bought->saw_mm[1]), showMass(one.mass_kg, style_.unit)});
        }
        out_ << rows.text(2);
        for (const OrderBought& one : order.bought) {
            const ResolvedMember& made = cage_.members[static_cast<std::size_t>(one.member)];
            out_ << wrapped(made.name + ", as taped: " + shownBentShape(made.bought->shape, style_.unit) +
                                ", radius " + showLength(made.bought->shape.bend_radius_mm, {style_.unit}),
                            2);
        }
    }
    std::string sawn(double mm) const {
        return mm < -kTaped_mm ? showLength(-mm, style_) + " too short"
                               : showLength(std::max(0.0, mm), style_);
    }

    void writeTube(const Order& order, const OrderTube& tube) {
        out_ << "\n"
             << tube.stock << ": " << showLength(tube.length_mm, style_) << ", "
             << showMass(tube.mass_kg, style_.unit) << price(tube.nest.price) << "\n";
        TextTable rows({Align::left, Align::right, Align::right, Align::right});
        rows.add({"piece", "saw to", "bends", "mass"});
        for (std::size_t i = 0; i < tube.pieces.size(); ++i) {
            const OrderPiece& piece = tube.pieces[i];
            rows.add({name(static_cast<int>(i), tube), showLength(piece.cut.blank_mm, style_),
                      std::to_string(piece.bends), showMass(piece.mass_kg, style_.unit)});
        }
        out_ << rows.text(2);
        for (const OrderPiece& piece : tube.pieces) {
            if (!piece.cut.trouble.empty())
                out_ << wrapped("Not cut to fit, so too long: " + piece.cut.trouble, 2);
        }
        if (!tube.trouble.empty()) {
            out_ << wrapped("No sticks: " + tube.trouble, 2);
            return;
        }
        for (const auto& [stick, count] : tube.toBuy())
            out_ << wrapped("buy " + std::to_string(count) + " of " + showLength(stick.length_mm, style_) +
                                (stick.price > 0 ? " at " + fixed(stick.price, 2) : ""),
                            2);
        for (std::size_t i = 0; i < tube.nest.sticks.size(); ++i) writeStick(i, order, tube);
        out_ << wrapped(provedWords(tube), 2);
        if (!tube.note.empty()) out_ << wrapped(tube.note, 2);
    }
    static std::string provedWords(const OrderTube& tube) {
        if (tube.nest.proved) return "No plan takes less: proved.";
        return "A better cut may be possible; this one takes at most " + fixed(100 * tube.nest.gap(), 1) +
               " % more than the least.";
    }

    void writeStick(std::size_t index, const Order& order, const OrderTube& tube) {
        const CutStick& stick = tube.nest.sticks[index];
        std::string pieces;
        for (const int piece : stick.pieces) pieces += (pieces.empty() ? "" : " + ") + name(piece, tube);
        std::string from = "stick " + std::to_string(index + 1) + " of ";
        from += showLength(tube.stickLength_mm(stick), style_);
        if (stick.owned >= 0) {
            const RackPiece& rack = tube.owned[static_cast<std::size_t>(stick.owned)];
            from += " from the rack" + (rack.heat.empty() ? "" : ", heat " + rack.heat);
        }
        out_ << wrapped(from + ": " + pieces + "; " + showLength(stick.left_mm, style_) + " left" +
                            (order.back(stick) ? ", back to the rack" : ""),
                        2);
    }

    void writeApart(const Order& order) {
        if (order.apart.empty()) return;
        out_ << "\nMust not share a heat\n";
        for (const OrderApart& each : order.apart) {
            out_ << wrapped(each.says, 2);
            if (!each.trouble.empty()) out_ << wrapped("Wrong: " + each.trouble, 2);
        }
    }
    void writeSources(const Order& order) {
        out_ << "\nCertificates\n";
        TextTable rows({Align::left, Align::left, Align::left, Align::left});
        rows.add({"piece", "from", "heat", "certificate"});
        int open = 0;
        for (const TubeSource& source : order.sources) {
            if (source.from == TubeSource::From::nowhere) {
                ++open;
                continue;
            }
            OrderPiece piece;
            piece.member = source.member;
            piece.spare = source.spare;
            rows.add({pieceName(cage_, piece),
                      source.from == TubeSource::From::rack ? "the rack" : "the cage's certificates",
                      source.heat, source.certificate});
        }
        if (open < static_cast<int>(order.sources.size())) out_ << rows.text(2);
        if (open > 0)
            out_ << wrapped("Of " + std::to_string(open) + (open == 1 ? " piece" : " pieces") +
                                " no heat is written down yet: take it from the stick before it is cut.",
                            2);
        for (const TubeSource& source : order.sources)
            if (!source.trouble.empty()) out_ << wrapped("Wrong: " + source.trouble, 2);
    }
    void writeRack(const Order& order) {
        if (!job_.shop) return;
        out_ << "\nOn the rack once it is cut\n";
        if (!order.rack_from_mm)
            out_ << wrapped(
                "The shop's book does not say from which length on what is left goes back "
                "(rack_from).",
                2);
        for (const RackPiece& piece : order.rack_after)
            out_ << wrapped(piece.stock + ", " + showLength(piece.length_mm, style_) +
                                (piece.heat.empty() ? "" : ", heat " + piece.heat),
                            2);
        if (order.rack_after.empty()) out_ << wrapped("Nothing.", 2);
    }

    std::ostream& out_;
    const Job& job_;
    const CageGeometry& cage_;
    LengthStyle style_;
};

}  // namespace

void writeOrderText(std::ostream& out, const Job& job, const CageGeometry& cage, const Order& order) {
    OrderPageText(out, job, cage).write(order);
}

}  // namespace hoopwright
