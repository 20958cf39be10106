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
        out_ << wrapped(job_.cage.name + ": " + std::to_string(order.sticks) + " sticks, " +
                            showLength(order.length_mm, style_) + " of tube in " +
                            showMass(order.mass_kg, style_.unit) + price(order.price),
                        0);
        for (const OrderTube& tube : order.tubes) writeTube(tube);
        writeBought(order);
        if (order.left_out.empty()) return;
        out_ << "\nLeft out\n";
        for (const std::string& each : order.left_out) out_ << wrapped(each, 2);
    }

private:
    const ResolvedMember& bar(int piece, const OrderTube& tube) const {
        return cage_.members[static_cast<std::size_t>(tube.pieces[static_cast<std::size_t>(piece)].member)];
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

    void writeTube(const OrderTube& tube) {
        out_ << "\n"
             << tube.stock << ": " << showLength(tube.length_mm, style_) << ", "
             << showMass(tube.mass_kg, style_.unit) << price(tube.nest.price) << "\n";
        TextTable rows({Align::left, Align::right, Align::right, Align::right});
        rows.add({"piece", "saw to", "bends", "mass"});
        for (std::size_t i = 0; i < tube.pieces.size(); ++i) {
            const OrderPiece& piece = tube.pieces[i];
            rows.add({bar(static_cast<int>(i), tube).name, showLength(piece.cut.blank_mm, style_),
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
        for (std::size_t i = 0; i < tube.nest.sticks.size(); ++i) writeStick(i, tube);
        if (!tube.nest.proved) out_ << wrapped("A better cut may be possible; the search was broken off.", 2);
    }

    void writeStick(std::size_t index, const OrderTube& tube) {
        const CutStick& stick = tube.nest.sticks[index];
        const StickLength& bought = tube.sticks[static_cast<std::size_t>(stick.stick)];
        std::string pieces;
        for (const int piece : stick.pieces) pieces += (pieces.empty() ? "" : " + ") + bar(piece, tube).name;
        out_ << wrapped("stick " + std::to_string(index + 1) + " of " + showLength(bought.length_mm, style_) +
                            ": " + pieces + "; " + showLength(stick.left_mm, style_) + " left",
                        2);
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
