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
        json.whole("spare", piece.spare);
        json.number("blank_mm", piece.cut.blank_mm);
        json.number("centre_mm", piece.cut.centre_mm);
        json.number("long_to_long_mm", piece.cut.long_to_long_mm);
        json.number("short_to_short_mm", piece.cut.short_to_short_mm);
        json.whole("bends", piece.bends);
        json.number("mass_kg", piece.mass_kg);
        if (!piece.cut.trouble.empty()) json.text("no_cut", piece.cut.trouble);
    }
}

void writeSticks(JsonWriter& json, const CageGeometry& cage, const Order& order, const OrderTube& tube) {
    {
        const auto list = json.list("to_buy");
        for (const auto& [stick, count] : tube.toBuy()) {
            const auto each = json.object();
            json.number("length_mm", stick.length_mm);
            json.whole("count", count);
            json.number("price_each", stick.price);
        }
    }
    {
        const auto list = json.list("sticks");
        for (const CutStick& stick : tube.nest.sticks) {
            const auto each = json.object();
            json.number("length_mm", tube.stickLength_mm(stick));
            json.yesNo("bought", stick.owned < 0);
            json.number("price",
                        stick.owned < 0 ? tube.sticks[static_cast<std::size_t>(stick.stick)].price : 0);
            if (stick.owned >= 0) {
                const RackPiece& rack = tube.owned[static_cast<std::size_t>(stick.owned)];
                json.whole("rack", tube.rack[static_cast<std::size_t>(stick.owned)]);
                json.text("heat", rack.heat);
                json.text("certificate", rack.certificate);
            }
            std::vector<std::string> members;
            std::vector<double> blanks;
            for (const int piece : stick.pieces) {
                const OrderPiece& one = tube.pieces[static_cast<std::size_t>(piece)];
                members.push_back(barOf(cage, one).id);
                blanks.push_back(one.cut.blank_mm);
            }
            json.texts("members", members);
            json.numbers("blanks_mm", blanks);
            json.number("left_mm", stick.left_mm);
            json.yesNo("back_to_rack", order.back(stick));
        }
    }
    json.number("bought_mm", tube.nest.bought_mm);
    json.number("price", tube.nest.price);
    json.yesNo("proved_best", tube.nest.proved);
    json.number("gap_ratio", tube.nest.gap());
    json.whole("different_lengths", tube.nest.different);
    json.text("note", tube.note);
}

std::string_view fromWord(TubeSource::From from) {
    return from == TubeSource::From::rack ? "rack" : from == TubeSource::From::cage ? "cage" : "nowhere";
}

void writeSources(JsonWriter& json, const CageGeometry& cage, const Order& order) {
    {
        const auto list = json.list("sources");
        for (const TubeSource& source : order.sources) {
            const auto each = json.object();
            json.text("member", cage.members[static_cast<std::size_t>(source.member)].id);
            json.whole("spare", source.spare);
            if (source.tube >= 0) {
                json.text("stock", order.tubes[static_cast<std::size_t>(source.tube)].stock);
                json.whole("stick", source.stick);
            }
            json.text("from", std::string(fromWord(source.from)));
            json.text("heat", source.heat);
            json.text("certificate", source.certificate);
            json.text("when", source.when);
            json.text("trouble", source.trouble);
        }
    }
    {
        const auto list = json.list("apart");
        for (const OrderApart& apart : order.apart) {
            const auto each = json.object();
            std::vector<std::string> members;
            for (const int member : apart.members)
                members.push_back(cage.members[static_cast<std::size_t>(member)].id);
            json.texts("members", members);
            json.text("note", apart.note);
            json.text("says", apart.says);
            json.text("trouble", apart.trouble);
        }
    }
    const auto list = json.list("rack_after");
    for (const RackPiece& piece : order.rack_after) {
        const auto each = json.object();
        json.text("stock", piece.stock);
        json.number("length_mm", piece.length_mm);
        json.text("heat", piece.heat);
        json.text("certificate", piece.certificate);
    }
}

}  // namespace

void writeOrderJson(std::ostream& out, const Job& job, const CageGeometry& cage, const Order& order) {
    JsonWriter json(out);
    const auto top = json.object();
    json.text("hoopwright", "order");
    json.whole("version", 1);
    json.text("cage", job.cage.name);
    json.text("currency", job.stock.currency);
    json.number("kerf_mm", order.kerf_mm);
    json.text("kerf_at", order.kerf_at == KerfAt::every_cut ? "every_cut" : "between_pieces");
    json.number("bend_long_mm", order.bend_long_mm);
    json.yesNo("off_cuts_first", order.off_cuts_first);
    if (order.rack_from_mm) json.number("rack_from_mm", *order.rack_from_mm);
    {
        const auto list = json.list("tubes");
        for (const OrderTube& tube : order.tubes) {
            const auto each = json.object();
            json.text("stock", tube.stock);
            json.number("length_mm", tube.length_mm);
            json.number("mass_kg", tube.mass_kg);
            writePieces(json, cage, tube);
            if (tube.trouble.empty()) {
                writeSticks(json, cage, order, tube);
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
        json.whole("off_cuts", order.off_cuts);
        json.number("length_mm", order.length_mm);
        json.number("mass_kg", order.mass_kg);
        json.number("price", order.price);
    }
    writeSources(json, cage, order);
    json.texts("left_out", order.left_out);
    json.yesNo("whole", order.whole());
    writeGeometryProblems(json, cage);
}

}  // namespace hoopwright
