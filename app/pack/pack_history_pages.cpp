// As built against the plan, what has changed since the last inspection, dates, photographs, the declaration.
#include <QImageReader>
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <map>

#include "app/pack/pack_pages.h"
#include "app/view/finding_text.h"
#include "app/view/palette.h"
#include "core/base/text.h"

namespace hoopwright {
namespace {

constexpr double kPhotoWide_mm = 89, kPhotoHigh_mm = 64;
constexpr int kPhotoPixels = 1100;  // across: about 300 to the inch

std::string plannedWords(const AsBuilt& one, const LengthStyle& style) {
    if (!one.planned) return "";
    const std::string low = measuredText(one, *one.planned, style),
                      high = measuredText(one, one.planned_to, style);
    return low == high ? low : low + " to " + high;
}

std::string readWords(const AsBuilt& one, const LengthStyle& style) {
    if (!one.low) return "";
    const std::string low = measuredText(one, *one.low, style), high = measuredText(one, *one.high, style);
    return low == high ? low : low + " to " + high;
}

std::string tableName(const PackInHand& in, const std::string& id) {
    for (const RuleTableInfo& table : in.pack.report.tables)
        if (table.id == id) return table.title;
    return id;
}

/// Tables that were not used then, or are not now: said in one sentence each, their answers are no news.
std::vector<std::string> otherTables(PackInHand& in, const std::vector<FindingChange>& changes) {
    std::map<std::string, int> added, gone, now;
    for (const FindingChange& change : changes) {
        if (change.kind == FindingChange::Kind::added) ++added[change.table];
        if (change.kind == FindingChange::Kind::gone) ++gone[change.table];
    }
    for (const Finding& finding : in.pack.report.findings) ++now[finding.table];
    std::vector<std::string> out;
    const auto say = [&](const std::string& table, const std::string& words) {
        out.push_back(table);
        in.pages.sheet().words(tableName(in, table) + words, 9);
    };
    for (const auto& [table, count] : added)
        if (count == now[table])
            say(table, " was not used then: all its " + std::to_string(count) + " answers are new.");
    for (const auto& [table, count] : gone)
        if (!now.contains(table)) say(table, " was used then and is not now.");
    return out;
}

}  // namespace

std::string measuredText(const AsBuilt& one, double value, const LengthStyle& style) {
    LengthStyle fine = style;
    if (one.dimension == Dimension::length && std::abs(value) < 100) fine.decimals = 2;
    return withSigns(showQuantity(value, one.dimension, baseUnit(one.dimension), fine));
}

std::string measureWords(const AsBuilt& one) {
    std::string words = one.quantity;
    if (!one.how.empty()) words += ", " + one.how;
    std::ranges::replace(words, '_', ' ');
    return one.rules.empty() ? words : one.rules.front() + ": " + words;
}

std::string wantedWords(const AsBuilt& one) {
    std::string out;
    for (auto limit = one.limits.begin(); limit != one.limits.end(); ++limit)
        if (std::find(one.limits.begin(), limit, *limit) == limit)
            out += (out.empty() ? "" : "; ") + withSigns(*limit);
    return out;
}

namespace {

void asBuiltTable(PackInHand& in) {
    const InspectorPack& pack = in.pack;
    const auto right = DrawnText::Align::right;
    in.pages.page("As built", "What was measured on the cage against the plan; what is measured is judged");
    const std::string rest =
        "Answers that rest on measurement: " + std::to_string(pack.resting(RestsOn::measured)) +
        "; on the plan alone: " + std::to_string(pack.resting(RestsOn::plan)) + ".";
    in.pages.sheet().words(rest, 10, true);
    in.pages.sheet().gap(1.5);
    in.pages.table({{"Of", 0.18},
                    {"What", 0.21},
                    {"Wanted", 0.13},
                    {"Planned", 0.11, right},
                    {"Measured", 0.12, right, true},
                    {"Drift", 0.09, right},
                    {"By, when", 0.16, DrawnText::Align::left, true}},
                   7.5);
    const Palette palette = paletteOf(Tone::light);
    // What was measured first, then what can be.
    for (const bool read : {true, false}) {
        const auto any = std::ranges::any_of(
            pack.to_measure, [&](const AsBuilt& one) { return one.readings.empty() != read; });
        if (any) in.pages.band(read ? "Measured" : "Not measured yet");
        for (const AsBuilt& one : pack.to_measure) {
            if (one.readings.empty() == read) continue;
            // Wall and OD of every bar have their own sheets.
            if (!read && (one.quantity == "measured_wall" || one.quantity == "od") && one.rules.empty())
                continue;
            std::string by;
            if (read) {
                const BuiltReading& last =
                    pack.job->cage.readings[static_cast<std::size_t>(one.readings.back())];
                by = last.who + (last.when.empty() ? "" : ", " + last.when);
                if (!last.note.empty()) by += "; " + last.note;
            }
            in.pages.row(
                {one.of_name, measureWords(one), wantedWords(one), plannedWords(one, in.style),
                 readWords(one, in.style),
                 one.drift ? (*one.drift > 0 ? "+" : "") + measuredText(one, *one.drift, in.style) : "",
                 one.answer == Answer::fails ? "FAILS. " + by : by},
                false, one.answer ? palette.of(*one.answer) : QColor());
        }
    }
}

}  // namespace

void addAsBuilt(PackInHand& in) {
    in.pages.closingUp([&in] { asBuiltTable(in); });
}

void addHistory(PackInHand& in) {
    const InspectorPack& pack = in.pack;
    in.pages.page("Dates and inspections", "On " + pack.made);
    in.pages.sheet().heading("Papers with a date on them");
    if (pack.dates.empty()) {
        in.pages.sheet().words("None is kept with the job: belts, seat, nets, log book.", 9, false, true);
    } else {
        in.pages.table({{"What", 0.26}, {"Number", 0.18}, {"Issued", 0.12}, {"Next due", 0.12}, {"", 0.32}},
                       8);
        for (const PackDate& one : pack.dates) {
            std::string left = timeLeftWords(one.days_left);
            if (!one.note.empty()) left += (left.empty() ? "" : "; ") + one.note;
            in.pages.row({one.what, one.number, one.issued, one.due, left});
        }
    }
    in.pages.sheet().heading("Certificates of the tube");
    std::vector<const PackTube*> with;
    int without = 0;
    for (const PackTube& tube : pack.tubes)
        if (tube.heat.empty() && tube.certificate.empty()) {
            ++without;
        } else {
            with.push_back(&tube);
        }
    if (!with.empty()) {
        in.pages.table({{"Tube", 0.4}, {"Heat", 0.2}, {"Certificate", 0.2}, {"Dated", 0.2}}, 8);
        for (const PackTube* tube : with)
            in.pages.row({std::to_string(tube->number()) + "  " + in.member(tube->member).name, tube->heat,
                          tube->certificate, tube->certified});
    }
    if (without > 0)
        in.pages.sheet().words(std::to_string(without) + " of " + std::to_string(pack.tubes.size()) +
                                   " tubes have no certificate kept with the job.",
                               9, true);
    in.pages.sheet().heading("Since the last inspection");
    if (pack.inspections.empty()) {
        in.pages.sheet().words("No inspection is kept with the job.", 9, false, true);
        return;
    }
    bool last = true;
    for (const PackInspection& one : pack.inspections) {
        in.pages.sheet().words(one.was.when + ", " + one.was.who + ": " + one.was.outcome +
                                   (one.was.note.empty() ? "" : ". " + one.was.note),
                               9.5, true);
        if (!last) continue;  // earlier ones for the record
        last = false;
        if (!one.trouble.empty()) {
            in.pages.sheet().words(one.trouble, 9, false, true);
            continue;
        }
        if (one.changes.empty()) {
            in.pages.sheet().words("Every answer is as it was then.", 9);
            continue;
        }
        const std::vector<std::string> other = otherTables(in, one.changes);
        const auto isOther = [&](const FindingChange& change) {
            return std::ranges::find(other, change.table) != other.end();
        };
        if (std::ranges::all_of(one.changes, isOther)) {
            in.pages.sheet().words("Every answer of the tables that were used then is as it was.", 9);
            continue;
        }
        in.pages.table({{"What", 0.5}, {"Was", 0.25}, {"Is", 0.25}}, 8);
        std::string table;
        for (const FindingChange& change : one.changes) {
            if (isOther(change)) continue;
            if (pack.report.tables.size() > 1 && change.table != table)
                in.pages.band(tableName(in, change.table));
            table = change.table;
            const auto words = [&](const std::string& answer, const std::optional<double>& margin) {
                if (answer.empty()) return std::string("not asked");
                return change.kind == FindingChange::Kind::by_how_much && margin
                           ? answer + " by " +
                                 showQuantity(std::abs(*margin), change.dimension, baseUnit(change.dimension),
                                              in.style)
                           : answer;
            };
            in.pages.row({change.title + (change.subject_name.empty() ? "" : ": " + change.subject_name),
                          words(change.was, change.was_margin), words(change.is, change.margin)});
        }
    }
}

void addPhotos(PackInHand& in) {
    if (in.pack.photos.empty()) return;
    SheetPages& sheet = in.pages.sheet();
    in.pages.page("Photographs", "Kept with the answers; the files stay beside the cage file");
    for (std::size_t i = 0; i < in.pack.photos.size(); ++i) {
        const PackPhoto& photo = in.pack.photos[i];
        if (i % 2 == 0) sheet.need(kPhotoHigh_mm + 14);
        const Vec2 corner(sheet.left() + (i % 2 == 0 ? 0 : kPhotoWide_mm + 5), sheet.y() + 1);
        QImage image;
        if (photo.there) {
            QImageReader reader(QString::fromStdString((in.pack.folder / photo.file).string()));
            reader.setAutoTransform(true);
            image = reader.read();
        }
        if (image.isNull()) {
            sheet.box(corner, Vec2(kPhotoWide_mm, kPhotoHigh_mm));
            sheet.text(corner + Vec2(kPhotoWide_mm / 2, kPhotoHigh_mm / 2),
                       photo.there ? "This file is no picture" : "This file is not there", 8.5,
                       DrawnText::Align::centre, false, true);
        } else {
            if (image.width() > kPhotoPixels)
                image = image.scaledToWidth(kPhotoPixels, Qt::SmoothTransformation);
            const double scale = std::max(image.width() / kPhotoWide_mm, image.height() / kPhotoHigh_mm);
            in.pages.image(corner, Vec2(image.width() / scale, image.height() / scale), image);
        }
        sheet.text(corner + Vec2(0, kPhotoHigh_mm + 4), std::to_string(i + 1) + "  " + photo.of, 8.5,
                   DrawnText::Align::left, true);
        // Where it lies on the builder's machine is nobody's business.
        const std::string file = std::filesystem::path(photo.file).filename().string();
        const std::vector<std::string> says = brokenInto(photo.says + " (" + file + ")", kPhotoWide_mm, 7.5);
        for (std::size_t l = 0; l < std::min<std::size_t>(2, says.size()); ++l)
            sheet.text(corner + Vec2(0, kPhotoHigh_mm + 7.4 + 3.2 * static_cast<double>(l)), says[l], 7.5,
                       DrawnText::Align::left, false, true);
        if (i % 2 == 1 || i + 1 == in.pack.photos.size()) sheet.gap(kPhotoHigh_mm + 16);
    }
}

void addDeclaration(PackInHand& in) {
    SheetPages& sheet = in.pages.sheet();
    in.pages.page("Declaration",
                  "For the builder to read, to fill in and to sign; the program signs nothing");
    sheet.gap(2);
    sheet.words(kPackSays, 10);
    sheet.gap(3);
    sheet.words("I built the cage this pack is of. It is as the drawings and the schedules say, but for:",
                10.5);
    sheet.gap(1);
    for (int i = 0; i < 5; ++i) {
        sheet.gap(9);
        sheet.line({sheet.left(), sheet.y()}, {sheet.right(), sheet.y()});
    }
    sheet.gap(6);
    sheet.words(
        "The tube is of the heats and certificates the schedule names. The walls and lengths entered as "
        "measured were measured by those named, on this cage.",
        10.5);
    const auto place = [&](const std::string& left, const std::string& right) {
        sheet.gap(18);
        const double middle = sheet.left() + 0.62 * sheet.width();
        sheet.line({sheet.left(), sheet.y()}, {middle - 6, sheet.y()});
        sheet.line({middle, sheet.y()}, {sheet.right(), sheet.y()});
        sheet.text({sheet.left(), sheet.y() + 4}, left, 8.5, DrawnText::Align::left, false, true);
        sheet.text({middle, sheet.y() + 4}, right, 8.5, DrawnText::Align::left, false, true);
    };
    place("Builder: name and signature", "Place and day");
    place("Entrant: name and signature", "Place and day");
    sheet.gap(12);
    sheet.heading("For the inspector");
    place("Inspector: name and number", "Place and day");
    place("Found", "Next inspection due");
}

}  // namespace hoopwright
