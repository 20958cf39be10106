#include <ostream>
#include <set>

#include "app/commands/command_kit.h"
#include "app/commands/json_parts.h"
#include "app/commands/text_table.h"
#include "core/base/text.h"
#include "core/files/shop_file.h"
#include "core/shop/springback.h"

namespace hoopwright {
namespace {

/// Every stock and die there are trial bends of.
std::vector<Springback> springs(const ShopBook& book) {
    std::vector<Springback> out;
    std::set<std::pair<std::string, std::string>> done;
    for (const BendSample& sample : book.samples)
        if (done.insert({sample.stock, sample.die}).second)
            out.push_back(springback(book.samples, sample.stock, sample.die));
    return out;
}

constexpr double kRightAngle_rad = 3.14159265358979323846 / 2;

void writeText(std::ostream& out, const ShopBook& book, LengthUnit unit) {
    const auto shown = [&](double mm) { return showLength(mm, {unit}); };
    out << wrapped(book.name + (book.words.empty() ? "" : ": " + book.words), 0);
    TextTable rows({Align::left, Align::left});
    for (const Bender& bender : book.benders) {
        std::string says = "axis " + shown(bender.height_mm) + " over the floor";
        if (bender.tail_mm) says += ", " + shown(*bender.tail_mm) + " behind";
        if (bender.stroke_rad) says += ", " + showAngle(*bender.stroke_rad) + " a stroke";
        rows.add({"bender " + (bender.name.empty() ? bender.id : bender.name), says});
    }
    for (const Springback& spring : springs(book)) {
        std::string says =
            std::to_string(spring.samples) + (spring.samples == 1 ? " trial bend" : " trial bends");
        if (spring.known()) {
            says += ": dial " + showAngle(spring.dial_rad(kRightAngle_rad)) + " ±" +
                    showAngle(spring.interval_rad(kRightAngle_rad)) + " for 90.0°";
            if (spring.radius_mm) says += ", radius " + shown(*spring.radius_mm);
        } else {
            says += "; " + std::to_string(kLeastSamples) + " are needed before it says what to dial";
        }
        rows.add({spring.stock + " on " + spring.die, says});
    }
    std::string saws;
    for (const double size : book.hole_saws_mm)
        saws += (saws.empty() ? "" : ", ") + showLength(size, {unit, 1, 0, false});
    rows.add({"hole saws", saws.empty() ? "none" : saws + (unit == LengthUnit::in ? " in" : " mm")});
    for (const Saw& saw : book.saws)
        rows.add({"saw " + (saw.name.empty() ? saw.id : saw.name),
                  "kerf " + shown(saw.kerf_mm) + ", swings to " + showAngle(saw.greatest_swing_rad)});
    for (const SheetStock& sheet : book.sheets)
        rows.add({"sheet " + sheet.id, sheet.material + ", " + shown(sheet.thickness_mm) + ", " +
                                           shown(sheet.length_mm) + " by " + shown(sheet.width_mm) +
                                           (sheet.price > 0 ? ", " + fixed(sheet.price, 2) : "")});
    for (const RackPiece& piece : book.rack)
        rows.add(
            {"on the rack", piece.stock + ", " + shown(piece.length_mm) +
                                (piece.heat.empty() ? "" : ", heat " + piece.heat) +
                                (piece.certificate.empty() ? "" : ", certificate " + piece.certificate)});
    if (book.rate_per_hour) rows.add({"an hour", fixed(*book.rate_per_hour, 2)});
    out << rows.text(2);
}

void writeJson(std::ostream& out, const ShopBook& book) {
    JsonWriter json(out);
    const auto top = json.object();
    json.text("hoopwright", "shop");
    json.whole("version", 1);
    json.text("name", book.name);
    json.text("words", book.words);
    {
        const auto list = json.list("benders");
        for (const Bender& bender : book.benders) {
            const auto each = json.object();
            json.text("id", bender.id);
            json.number("height_mm", bender.height_mm);
            if (bender.tail_mm) json.number("tail_mm", *bender.tail_mm);
            if (bender.stroke_rad) json.number("stroke_deg", degrees(*bender.stroke_rad));
            json.whole("blocks", static_cast<long long>(bender.frame.size()));
        }
    }
    {
        const auto list = json.list("springback");
        for (const Springback& spring : springs(book)) {
            const auto each = json.object();
            json.text("stock", spring.stock);
            json.text("die", spring.die);
            json.whole("samples", spring.samples);
            json.yesNo("enough", spring.known());
            if (spring.known()) {
                json.number("play_deg", degrees(spring.play_rad));
                json.number("gain", spring.gain);
                json.number("dial_for_90_deg", degrees(spring.dial_rad(kRightAngle_rad)));
                json.number("interval_deg", degrees(spring.interval_rad(kRightAngle_rad)));
            }
            if (spring.radius_mm) json.number("radius_got_mm", *spring.radius_mm);
        }
    }
    json.numbers("hole_saws_mm", book.hole_saws_mm);
    json.number("bend_long_mm", book.bend_long_mm);
    {
        const auto list = json.list("rack");
        for (const RackPiece& piece : book.rack) {
            const auto each = json.object();
            json.text("stock", piece.stock);
            json.number("length_mm", piece.length_mm);
            json.text("heat", piece.heat);
            json.text("certificate", piece.certificate);
        }
    }
    json.texts("exclusions", book.exclusions);
}

int runShop(const CommandLine& line, Streams streams) {
    const ReadResult<ShopBook> read = readShop(line.files()[0]);
    if (!read.value) {
        print(streams.err, read.problems);
        return kExitBadInput;
    }
    if (line.has("--json")) {
        writeJson(streams.out, *read.value);
    } else {
        writeText(streams.out, *read.value, unitOf(read.text));
    }
    return kExitGood;
}

}  // namespace

Command shopCommand() {
    return {
        "shop",
        {"SHOP"},
        "the shop's own book: benders, trial bends, saws, rack, rates",
        "Reads a shop's book and says what it knows, with what its trial bends come to for a right angle.",
        "hoopwright shop data/stock/shop_metric.yaml",
        {{"--json", "", "for programs; every key says its unit (app/commands/JSON.md)"}},
        &runShop};
}

}  // namespace hoopwright
