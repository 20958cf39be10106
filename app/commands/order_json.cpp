#include "app/commands/json_parts.h"
#include "app/commands/order_report.h"

namespace hoopwright {
namespace {

const ResolvedMember& barOf(const CageGeometry& cage, const OrderPiece& piece) {
    return cage.members[static_cast<std::size_t>(piece.member)];
}

void writePieces(JsonWriter& json, const CageGeometry& cage, const OrderTube& tube) {
    const auto list = json.list("pieces");
    for (const OrderPiece& piece : tube.pieces) {
        const auto each = json.object();
        json.text("member", barOf(cage, piece).id);
        json.number("blank_mm", piece.cut.blank_mm);
        json.number("centre_mm", piece.cut.centre_mm);
        json.number("long_to_long_mm", piece.cut.long_to_long_mm);
        json.number("short_to_short_mm", piece.cut.short_to_short_mm);
        json.whole("bends", piece.bends);
        json.number("mass_kg", piece.mass_kg);
        if (!piece.cut.trouble.empty()) json.text("no_cut", piece.cut.trouble);
    }
}

void writeSticks(JsonWriter& json, const CageGeometry& cage, const OrderTube& tube) {
    {
        const auto list = json.list("sticks");
        for (const CutStick& stick : tube.nest.sticks) {
            const auto each = json.object();
            const StickLength& bought = tube.sticks[static_cast<std::size_t>(stick.stick)];
            json.number("length_mm", bought.length_mm);
            json.number("price", bought.price);
            std::vector<std::string> members;
            for (const int piece : stick.pieces) {
                members.push_back(barOf(cage, tube.pieces[static_cast<std::size_t>(piece)]).id);
            }
            json.texts("members", members);
            json.number("left_mm", stick.left_mm);
        }
    }
    json.number("bought_mm", tube.nest.bought_mm);
    json.number("price", tube.nest.price);
    json.yesNo("proved_best", tube.nest.proved);
}

}  // namespace

void writeOrderJson(std::ostream& out, const Job& job, const CageGeometry& cage, const Order& order) {
    JsonWriter json(out);
    const auto top = json.object();
    json.text("hoopwright", "order");
    json.whole("version", 1);
    json.text("cage", job.cage.name);
    json.text("currency", job.stock.currency);
    json.number("kerf_mm", job.stock.kerf_mm);
    {
        const auto list = json.list("tubes");
        for (const OrderTube& tube : order.tubes) {
            const auto each = json.object();
            json.text("stock", tube.stock);
            json.number("length_mm", tube.length_mm);
            json.number("mass_kg", tube.mass_kg);
            writePieces(json, cage, tube);
            if (tube.trouble.empty()) {
                writeSticks(json, cage, tube);
            } else {
                json.text("trouble", tube.trouble);
            }
        }
    }
    {
        const auto list = json.list("bought_bent");
        for (const OrderBought& one : order.bought) {
            const ResolvedMember& made = cage.members[static_cast<std::size_t>(one.member)];
            const auto each = json.object();
            json.text("member", made.id);
            json.text("stock", one.stock);
            writeBentShape(json, made.bought->shape);
            json.number("bought_mm", one.bought_mm);
            json.number("saw_first_mm", made.bought->saw_mm[0]);
            json.number("saw_last_mm", made.bought->saw_mm[1]);
            json.number("mass_kg", one.mass_kg);
        }
    }
    {
        const auto object = json.object("totals");
        json.whole("sticks", order.sticks);
        json.number("length_mm", order.length_mm);
        json.number("mass_kg", order.mass_kg);
        json.number("price", order.price);
    }
    json.texts("left_out", order.left_out);
    writeGeometryProblems(json, cage);
}

}  // namespace hoopwright
