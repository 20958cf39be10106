#include <QDate>
#include <algorithm>
#include <array>
#include <ostream>
#include <set>

#include "app/commands/command_kit.h"
#include "app/commands/json_parts.h"
#include "app/commands/text_table.h"
#include "core/base/text.h"
#include "core/files/shop_file.h"
#include "core/files/yaml_map.h"
#include "core/shop/springback.h"
#include "core/shop/work_times.h"

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

constexpr std::array kOperations = {Operation::bend, Operation::cope, Operation::joint, Operation::plate,
                                    Operation::fit};
constexpr int kMostCounted = 100'000;

/// "JOB, OPERATION, COUNT, MINUTES" and, if it is not today, ", WHEN".
Expected<WorkTime> timeFrom(const std::string& given) {
    std::vector<std::string> parts(1);
    for (const char c : given) {
        if (c == ',') {
            parts.emplace_back();
        } else if (c != ' ' || !parts.back().empty()) {
            parts.back() += c;
        }
    }
    for (std::string& part : parts)
        while (part.ends_with(' ')) part.pop_back();
    if (parts.size() < 4 || parts.size() > 5 || parts[0].empty())
        return Reason{"'" + given +
                      "': write it as \"JOB, OPERATION, COUNT, MINUTES\", and the day behind it "
                      "if it was not today"};
    WorkTime out;
    out.job = parts[0];
    const auto operation =
        std::ranges::find_if(kOperations, [&](Operation one) { return operationWord(one) == parts[1]; });
    if (operation == kOperations.end())
        return Reason{"'" + parts[1] + "' is no operation: write bend, cope, joint, plate or fit"};
    out.operation = *operation;
    const Expected<int> count = wholeNumber("COUNT", parts[2], 1, kMostCounted);
    if (!count) return Reason{count.reason()};
    out.count = *count;
    const std::optional<double> minutes = plainNumber(parts[3]);
    if (!minutes || !(*minutes > 0))
        return Reason{"'" + parts[3] + "' minutes: write a number above 0, of all of them together"};
    out.minutes = *minutes;
    out.when = parts.size() == 5 ? parts[4] : QDate::currentDate().toString(Qt::ISODate).toStdString();
    if (!isDate(out.when)) return Reason{"'" + out.when + "' is no date; write it as 2026-03-02"};
    return out;
}

std::string shownTime(const ShopBook& book, Operation operation) {
    const TimeFigure figure = timeFigure(book, operation);
    if (!figure.minutes_each) return "not known";
    std::string says = fixed(*figure.minutes_each, 1) + " min";
    if (figure.times == 0) {
        const int entered = learned(book.times, operation).times;
        return says + ", the shop's figure" +
               (entered > 0 ? "; " + std::to_string(entered) + " of the " + std::to_string(kLeastTimes) +
                                  " entered times it takes to learn from them"
                            : "");
    }
    if (figure.spread_minutes) says += " ±" + fixed(*figure.spread_minutes, 1);
    return says + " from " + std::to_string(figure.times) +
           (figure.times == 1 ? " entered time" : " entered times");
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
    for (const SheetFold& fold : book.folds)
        rows.add({"fold in " + shown(fold.thickness_mm),
                  "inside radius " + shown(fold.radius_mm) +
                      (fold.k ? ", k " + shortest(*fold.k) : ", k is not known: no flat is worked out") +
                      (fold.least_leg_mm ? ", leg " + shown(*fold.least_leg_mm) + " or more" : "")});
    if (book.cutting_table)
        rows.add({"cutting table", "kerf " + shown(book.cutting_table->kerf_mm) + ", " +
                                       shown(book.cutting_table->gap_mm) + " between cuts, " +
                                       shown(book.cutting_table->edge_mm) + " to the sheet's edge"});
    for (const RackPiece& piece : book.rack)
        rows.add(
            {"on the rack", piece.stock + ", " + shown(piece.length_mm) +
                                (piece.heat.empty() ? "" : ", heat " + piece.heat) +
                                (piece.certificate.empty() ? "" : ", certificate " + piece.certificate)});
    if (book.rack_from_mm) rows.add({"back to the rack", "from " + shown(*book.rack_from_mm) + " on"});
    rows.add({"kerf", book.kerf_at == KerfAt::every_cut ? "behind every piece" : "between two pieces"});
    rows.add({"off-cuts", book.off_cuts_first ? "first" : "stay where they are"});
    for (const Operation operation : kOperations)
        rows.add({"a " + std::string(operationWord(operation)), shownTime(book, operation)});
    if (book.rate_per_hour) rows.add({"an hour", fixed(*book.rate_per_hour, 2)});
    out << rows.text(2);
}

void writeTimes(JsonWriter& json, const ShopBook& book) {
    {
        const auto list = json.list("operations");
        for (const Operation operation : kOperations) {
            const TimeFigure figure = timeFigure(book, operation);
            const auto each = json.object();
            json.text("operation", operationWord(operation));
            if (figure.minutes_each) json.number("minutes_each", *figure.minutes_each);
            if (figure.spread_minutes) json.number("spread_minutes", *figure.spread_minutes);
            json.whole("from_times", figure.times);
            json.whole("entered_times", learned(book.times, operation).times);
        }
    }
    const auto list = json.list("times");
    for (const WorkTime& time : book.times) {
        const auto each = json.object();
        json.text("job", time.job);
        json.text("operation", operationWord(time.operation));
        json.whole("count", time.count);
        json.number("minutes", time.minutes);
        json.text("when", time.when);
    }
}

void writeJson(std::ostream& out, const ShopBook& book) {
    JsonWriter json(out);
    const auto top = json.object();
    json.text("hoopwright", "shop");
    json.whole("version", 1);
    json.text("name", book.name);
    json.text("words", book.words);
    json.text("mark", book.mark);
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
        const auto list = json.list("sheets");
        for (const SheetStock& sheet : book.sheets) {
            const auto each = json.object();
            json.text("id", sheet.id);
            json.text("material", sheet.material);
            json.number("thickness_mm", sheet.thickness_mm);
            json.number("length_mm", sheet.length_mm);
            json.number("width_mm", sheet.width_mm);
            json.number("price", sheet.price);
        }
    }
    {
        const auto list = json.list("folds");
        for (const SheetFold& fold : book.folds) {
            const auto each = json.object();
            json.number("thickness_mm", fold.thickness_mm);
            json.number("radius_mm", fold.radius_mm);
            if (fold.k) json.number("k", *fold.k);
            if (fold.least_leg_mm) json.number("least_leg_mm", *fold.least_leg_mm);
        }
    }
    if (book.cutting_table) {
        const auto object = json.object("cutting_table");
        json.number("kerf_mm", book.cutting_table->kerf_mm);
        json.number("gap_mm", book.cutting_table->gap_mm);
        json.number("edge_mm", book.cutting_table->edge_mm);
    }
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
    json.text("kerf_at", book.kerf_at == KerfAt::every_cut ? "every_cut" : "between_pieces");
    json.yesNo("off_cuts_first", book.off_cuts_first);
    if (book.rack_from_mm) json.number("rack_from_mm", *book.rack_from_mm);
    writeTimes(json, book);
    json.texts("exclusions", book.exclusions);
}

/// Puts entered times into the file, every other line as it was.
bool addTimes(const CommandLine& line, Streams streams, ReadResult<ShopBook>& read) {
    ShopBook book = *read.value;
    for (const std::string& given : line.values("--add-time")) {
        const Expected<WorkTime> time = timeFrom(given);
        if (!time) {
            refuse(streams, "shop", "--add-time: " + time.reason());
            return false;
        }
        book.times.push_back(*time);
    }
    const std::string text = writeShop(book, read.text, unitOf(read.text));
    if (const std::optional<Problem> problem = saveText(line.files()[0], text)) {
        print(streams.err, {*problem});
        return false;
    }
    read.value = std::move(book);
    return true;
}

int runShop(const CommandLine& line, Streams streams) {
    ReadResult<ShopBook> read = readShop(line.files()[0]);
    if (!read.value) {
        print(streams.err, read.problems);
        return kExitBadInput;
    }
    if (line.has("--add-time") && !addTimes(line, streams, read)) return kExitBadInput;
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
        "Reads a shop's book and says what it knows, with what its trial bends come to for a right angle and "
        "what the times entered say of its work. With --add-time it writes a time into the file, every other "
        "line as it was.",
        "hoopwright shop data/stock/shop_metric.yaml --add-time \"Saloon, cope, 22, 352\"",
        {{"--json", "", "for programs; every key says its unit (app/commands/JSON.md)"},
         {"--add-time", "TIME",
          "\"JOB, OPERATION, COUNT, MINUTES\", for a day that is not today also \", WHEN\"; OPERATION: bend, "
          "cope, joint, plate, fit; MINUTES: of all of them together",
          true}},
        &runShop};
}

}  // namespace hoopwright
