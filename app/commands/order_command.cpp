#include <ostream>

#include "app/commands/command_kit.h"
#include "app/commands/order_report.h"
#include "app/commands/text_table.h"
#include "core/files/shop_file.h"
#include "core/model/resolve.h"
#include "core/model/shop_book.h"
#include "core/shop/order.h"

namespace hoopwright {
namespace {

/// A length of zero or more, or nothing after it was said what is wrong.
bool takeLength(const CommandLine& line, Streams streams, const std::string& option, LengthUnit in,
                std::optional<double>& out) {
    if (!line.has(option)) return true;
    const std::string given = line.value(option);
    const Expected<Unit> unit = unitNamed(in == LengthUnit::in ? "in" : "mm");
    const Expected<double> read = readMeasure(given, *unit);
    if (!read) {
        refuse(streams, "order", option + ": " + read.reason());
        return false;
    }
    if (*read < 0) {
        refuse(streams, "order", option + ": '" + given + "' is negative: write 0 or more");
        return false;
    }
    out = *read;
    return true;
}

/// What the command line says otherwise than the files.
std::optional<OrderWishes> wishesOf(const CommandLine& line, Streams streams, LengthUnit unit) {
    OrderWishes wishes;
    if (!takeLength(line, streams, "--allowance", unit, wishes.bend_long_mm)) return {};
    if (!takeLength(line, streams, "--kerf", unit, wishes.kerf_mm)) return {};
    if (const std::string at = line.value("--kerf-at"); line.has("--kerf-at")) {
        if (at != "every_cut" && at != "between_pieces") {
            refuse(streams, "order", "--kerf-at: '" + at + "': write every_cut or between_pieces");
            return {};
        }
        wishes.kerf_at = at == "every_cut" ? KerfAt::every_cut : KerfAt::between_pieces;
    }
    if (const std::string first = line.value("--off-cuts"); line.has("--off-cuts")) {
        if (first != "first" && first != "no") {
            refuse(streams, "order", "--off-cuts: '" + first + "': write first or no");
            return {};
        }
        wishes.off_cuts_first = first == "first";
    }
    wishes.spares = !line.has("--no-spares");
    return wishes;
}

/// Writes the rack as it is once all is cut into the shop's book, every other line as it was. False after it
/// was said what is wrong; then nothing is written.
bool putToRack(const JobResult& opened, const Order& ordered, Streams streams) {
    const Job& job = *opened.job;
    const auto no = [&](const std::string& why) {
        refuse(streams, "order", "--to-rack: " + why);
        return false;
    };
    if (!job.shop) return no("the cage names no shop's book: add shop: FILE to it");
    if (!ordered.rack_from_mm)
        return no(
            "the shop's book does not say from which length on what is left goes back: add rack_from: "
            "LENGTH to it");
    if (!ordered.whole()) return no("not every piece can be cut as planned, so the rack is left as it is");
    ShopBook book = *job.shop;
    book.rack = ordered.rack_after;
    const std::string text = writeShop(book, opened.files.shop_text, job.cage.unit);
    if (const std::optional<Problem> problem = saveText(opened.files.shop, text)) {
        print(streams.err, {*problem});
        return false;
    }
    return true;
}

int runOrder(const CommandLine& line, Streams streams) {
    const std::optional<JobResult> opened = openJob(line.files()[0], streams);
    if (!opened) return kExitBadInput;
    const Job& job = *opened->job;
    const std::optional<OrderWishes> wishes = wishesOf(line, streams, job.cage.unit);
    if (!wishes) return kExitBadInput;
    const CageGeometry cage = resolve(job);
    const Order ordered = order(job, cage, *wishes);
    if (line.has("--to-rack") && !putToRack(*opened, ordered, streams)) return kExitBadInput;
    if (line.has("--json")) {
        writeOrderJson(streams.out, job, cage, ordered);
    } else {
        writeOrderText(streams.out, job, cage, ordered);
        if (line.has("--to-rack"))
            streams.out << wrapped("That is now the rack in " + opened->files.shop.string() + ".", 0);
    }
    return ordered.whole() ? kExitGood : kExitFallsShort;
}

}  // namespace

Command orderCommand() {
    return {
        "order",
        {"CAGE"},
        "what tube to buy, and which piece comes from which stick",
        "Cut length, bends and mass of every piece, by stock; the sticks to buy and how the pieces lie "
        "in them, in the order they are cut; what is left; heats and certificates. Lengths are from the "
        "longest point of one end to the longest of the other, developed through the bends. The kerf, "
        "where it is lost, off-cuts first and how long bends are left are as the stock list and the "
        "shop's book say, if nothing else is said here. Ends with 0 if every piece can be cut from what "
        "is listed, 1 if some cannot.",
        "hoopwright order data/cages/mile_pickup.yaml --off-cuts first --kerf-at every_cut",
        {{"--json", "", "for programs; every key says its unit (app/commands/JSON.md)"},
         {"--off-cuts", "first|no", "what lies on the shop's rack is cut before anything is bought, or not"},
         {"--kerf", "LENGTH", "width of a saw cut; a bare number is in the cage's unit"},
         {"--kerf-at", "WHERE",
          "every_cut: a kerf behind every piece; between_pieces: none behind a stick's last"},
         {"--allowance", "LENGTH",
          "added to every blank that has bends; a bare number is in the cage's unit"},
         {"--no-spares", "", "without the spare pieces the cage asks for"},
         {"--to-rack", "",
          "once it is cut: what is left becomes the rack in the shop's book, every other line as it was"}},
        &runOrder};
}

}  // namespace hoopwright
