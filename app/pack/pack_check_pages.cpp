// The people in the cage, each table's checklist in its own order, and pictures of what is to be looked at.
#include <algorithm>

#include "app/pack/pack_pages.h"
#include "app/view/finding_text.h"
#include "app/view/palette.h"
#include "core/base/text.h"

namespace hoopwright {
namespace {

std::string barName(const PackInHand& in, int member) {
    return member < 0 ? "none" : in.member(member).name + " (" + std::to_string(member + 1) + ")";
}

std::string spaced(std::string words) {
    std::ranges::replace(words, '_', ' ');
    return words;
}

void belts(PackInHand& in, const PackDriver& person, const Driver& driver) {
    const auto right = DrawnText::Align::right;
    const DriverReport& report = person.report;
    in.pages.sheet().heading("Belts");
    if (!report.straps && report.lap.empty()) {
        in.pages.sheet().words("Not drawn: " + report.straps.reason() + ".", 8.5, false, true);
        return;
    }
    in.pages.table({{"Strap", 0.2},
                    {"Over", 0.28},
                    {"Angle to level", 0.12, right},
                    {"In plan", 0.1, right},
                    {std::string("Run ") + in.unitWord(), 0.1, right},
                    {"As measured", 0.2, right, true}},
                   8);
    if (report.straps)
        for (const ShoulderStrap& strap : report.straps->both)
            in.pages.row({strap.side > 0 ? "Shoulder, left" : "Shoulder, right",
                          strap.bar >= 0 ? barName(in, strap.bar) : "to its anchor",
                          showAngle(strap.angle_rad), showAngle(strap.plan_rad), in.bare(strap.run_mm, 0),
                          ""});
    else
        in.pages.row({"Shoulder", "can't be told: " + report.straps.reason(), "", "", "", ""});
    for (const LapStrap& strap : report.lap)
        in.pages.row({isLeft(strap, driver) ? "Lap, left" : "Lap, right", "to its anchor",
                      showAngle(strap.angle_rad), "", in.bare(strap.run_mm, 0), ""});
}

std::string subjectWords(const Finding& finding) {
    if (!finding.subject_name.empty()) return finding.subject_name;
    return finding.subject.empty() ? "" : finding.subject;
}

/// What can't be told of one thing after another for want of the same is one row of the checklist.
std::size_t lastOfSame(const CheckReport& report, std::size_t first) {
    const Finding& f = report.findings[first];
    if (f.answer != Answer::cannot_tell) return first;
    std::size_t last = first;
    while (last + 1 < report.findings.size()) {
        const Finding& next = report.findings[last + 1];
        if (next.table != f.table || next.rule != f.rule || next.answer != f.answer ||
            next.missing != f.missing)
            break;
        ++last;
    }
    return last;
}

std::string subjectsWords(const CheckReport& report, std::size_t first, std::size_t last) {
    std::string out;
    for (std::size_t i = first; i <= last; ++i) {
        const std::string of = subjectWords(report.findings[i]);
        if (!of.empty()) out += (out.empty() ? "" : "; ") + of;
    }
    return out;
}

std::string answerCell(const PackInHand& in, std::size_t index) {
    const Finding& finding = in.pack.report.findings[index];
    std::string out(answerWord(finding.answer));
    if (!finding.confirmed) out += ", UNCONFIRMED";
    if (finding.answered) {
        out += ": " + finding.answered->who + ", " + finding.answered->when;
        if (!finding.answered->note.empty()) out += ", " + finding.answered->note;
    } else if (in.pack.rests[index] == RestsOn::measured) {
        out += ", measured";
    }
    return out;
}

}  // namespace

void addPeople(PackInHand& in) {
    const auto right = DrawnText::Align::right;
    for (const PackDriver& person : in.pack.drivers) {
        const Driver& driver = in.pack.job->drivers[static_cast<std::size_t>(person.driver)];
        in.pages.page(driver.name,
                      "How near the bars come: to the metal, and with the padding the plan has on");
        in.pages.table({{"Part", 0.16},
                        {"Nearest bar", 0.28},
                        {std::string("Bare ") + in.unitWord(), 0.1, right},
                        {"Nearest with padding", 0.24},
                        {std::string("Padded ") + in.unitWord(), 0.1, right},
                        {"As measured", 0.12, right, true}},
                       8);
        for (const Clearance& part : person.report.clearances.parts)
            in.pages.row({spaced(part.name), barName(in, part.bare.member), in.bare(part.bare.gap_mm, 0),
                          barName(in, part.padded.member), in.bare(part.padded.gap_mm, 0), ""});
        if (!person.report.top_lines.empty()) {
            in.pages.sheet().heading("Helmet under a straightedge over the hoops");
            in.pages.table({{"From", 0.34},
                            {"To", 0.34},
                            {std::string("Under it ") + in.unitWord(), 0.16, right},
                            {"As measured", 0.16, right, true}},
                           8);
            for (const TopLine& line : person.report.top_lines)
                in.pages.row(
                    {barName(in, line.from), barName(in, line.to), in.bare(line.helmet.gap_mm, 0), ""});
        }
        belts(in, person, driver);
    }
}

namespace {

void checklistOf(PackInHand& in, const RuleTableInfo& table) {
    const CheckReport& report = in.pack.report;
    const std::vector<int> pictured = in.pack.pictured();
    const Palette palette = paletteOf(Tone::light);
    in.pages.page(table.title, "Edition " + table.edition + ", in the table's own order");
    if (!table.advice.empty()) in.pages.sheet().words(table.advice, 9, true);
    if (std::ranges::any_of(report.findings,
                            [&](const Finding& f) { return f.table == table.id && !f.confirmed; }))
        in.pages.sheet().words("UNCONFIRMED: nobody has held the number against the book in force.", 8, false,
                               true);
    in.pages.sheet().gap(1.5);
    in.pages.table({{"Clause", 0.07},
                    {"What", 0.3},
                    {"Has", 0.085, DrawnText::Align::right},
                    {"Limit", 0.185},
                    {"Margin", 0.13, DrawnText::Align::right},
                    {"Answer", 0.135},
                    {"Inspector", 0.095, DrawnText::Align::left, true}},
                   7.5);
    for (std::size_t i = 0; i < report.findings.size(); ++i) {
        const Finding& f = report.findings[i];
        if (f.table != table.id) continue;
        std::string what = f.title;
        const std::size_t last = lastOfSame(report, i);
        if (const std::string of = subjectsWords(report, i, last); !of.empty()) what += ": " + of;
        if (f.things > 1) what += ", the nearest of " + std::to_string(f.things);
        if (f.severity == Severity::recommended) what += " (recommended)";
        if (f.answer == Answer::ask_person || f.answer == Answer::cannot_tell ||
            f.answer == Answer::does_not_apply)
            what += ". " + f.missing;
        if (!f.beware.empty()) what += " Beware: " + f.beware;
        if (const auto at = std::ranges::find(pictured, static_cast<int>(i)); at != pictured.end())
            what += " (picture " + std::to_string(at - pictured.begin() + 1) + ")";
        const std::string value = valueText(f, in.style);
        in.pages.row(
            {f.clause, what, value.empty() && !f.answered ? spaced(f.found) : withSigns(value),
             withSigns(limitText(f, in.style)), withSigns(marginText(f, in.style)), answerCell(in, i), ""},
            false, f.answer == Answer::does_not_apply ? QColor() : palette.of(f.answer));
        i = last;
    }
}

}  // namespace

void addChecklist(PackInHand& in) {
    for (const RuleTableInfo& table : in.pack.report.tables)
        in.pages.closingUp([&] { checklistOf(in, table); });
}

void addFindingPictures(PackInHand& in) {
    const std::vector<int> pictured = in.pack.pictured();
    if (pictured.empty()) return;
    SheetPages& sheet = in.pages.sheet();
    in.pages.page(
        "Pictures of findings",
        "What fails, what is asked of a thing, and what meets with under a twentieth of its limit to spare");
    constexpr double kHigh_mm = 44, kWords_mm = 12, kBetween_mm = 5;
    const double wide = (sheet.width() - kBetween_mm) / 2;
    for (std::size_t i = 0; i < pictured.size(); ++i) {
        if (i % 2 == 0) sheet.need(kHigh_mm + kWords_mm + 2);
        const Finding& f = in.pack.report.findings[static_cast<std::size_t>(pictured[i])];
        const Vec2 corner(sheet.left() + (i % 2 == 0 ? 0 : wide + kBetween_mm), sheet.y() + 1);
        in.drawer.finding(in.pages, corner, Vec2(wide, kHigh_mm), f, in.style);
        const std::string of = subjectWords(f);
        std::string first = std::to_string(i + 1) + "  " + f.title + (of.empty() ? "" : ": " + of);
        double size = 8.5;
        while (size > 6 && wordsWidth_mm(first, size, true) > wide) size -= 0.25;
        sheet.text(corner + Vec2(0, kHigh_mm + 4), first, size, DrawnText::Align::left, true);
        std::string second = answerPhrase(f);
        if (const std::string value = valueText(f, in.style); !value.empty())
            second += ": " + value + ", wanted " + withSigns(limitText(f, in.style));
        else if (!f.missing.empty())
            second += ": " + f.missing;
        const std::vector<std::string> lines = brokenInto(second + " (" + f.clause + ")", wide, 7.5);
        for (std::size_t l = 0; l < std::min<std::size_t>(2, lines.size()); ++l)
            sheet.text(corner + Vec2(0, kHigh_mm + 7.4 + 3.2 * static_cast<double>(l)), lines[l], 7.5,
                       DrawnText::Align::left, false, true);
        if (i % 2 == 1 || i + 1 == pictured.size()) sheet.gap(kHigh_mm + kWords_mm + 3);
    }
}

}  // namespace hoopwright
