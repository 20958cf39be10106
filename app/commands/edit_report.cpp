#include "app/commands/edit_report.h"

#include <ostream>

#include "app/commands/command_kit.h"
#include "app/commands/json_parts.h"
#include "app/commands/text_table.h"
#include "core/base/text.h"

namespace hoopwright {
namespace {

void list(std::ostream& out, const char* words, const std::vector<std::string>& ids) {
    std::string all;
    for (const std::string& id : ids) all += (all.empty() ? "" : ", ") + id;
    if (!all.empty()) out << wrapped(words + all, 2);
}

double massOf(const CageGeometry& cage) {
    return cage.totals.tube_mass_kg + cage.totals.plate_mass_kg;
}

}  // namespace

void writeEditText(std::ostream& out, const EditReport& report) {
    LengthStyle style;
    style.unit = report.after.cage.unit;
    out << wrapped(report.done, 0);
    list(out, "New: ", report.made);
    list(out, "Changed: ", report.changed);
    list(out, "Gone: ", report.gone);
    const double more = massOf(report.is) - massOf(report.was);
    out << wrapped("Mass " + fixed(massOf(report.is), 2) + " kg (" + (more < 0 ? "" : "+") + fixed(more, 2) +
                       " kg), " + std::to_string(report.is.members.size()) + " bars.",
                   2);
    if (report.refit) {
        const FitGoodness &was = report.refit->fit.bar.before, &is = report.refit->fit.bar.after;
        const auto gaps = [&](const FitGoodness& fit) {
            return "least " + showLength(fit.least_mm, style) + ", mean " + showLength(fit.mean_mm, style) +
                   ", greatest " + showLength(fit.greatest_mm, style);
        };
        out << wrapped("Gap on the left, least: " + showLength(report.refit->gap_mm, style) + ".", 2)
            << wrapped("Gap on the right as mirrored: " + gaps(was) + ".", 2)
            << wrapped("Gap on the right as fitted: " + gaps(is) + ".", 2);
        if (!report.refit->fit.bar.trouble.empty()) out << wrapped(report.refit->fit.bar.trouble, 2);
    }
    for (const std::string& trouble : report.troubles) out << wrapped("Now wrong: " + trouble, 2);
    for (const std::string& title : report.worse) out << wrapped("Now falls short: " + title, 2);
    if (!report.written.empty()) out << "\n" << wrapped("Wrote " + report.written + ".", 0);
    out << "\n" << wrapped(std::string(caution()), 0);
}

void writeEditJson(std::ostream& out, const EditReport& report) {
    JsonWriter json(out);
    const auto top = json.object();
    json.text("hoopwright", "edit");
    json.whole("version", 1);
    json.text("cage", report.after.cage.name);
    json.text("done", report.done);
    json.texts("made", report.made);
    json.texts("changed", report.changed);
    json.texts("gone", report.gone);
    json.whole("bars", static_cast<int>(report.is.members.size()));
    json.number("mass_before_kg", massOf(report.was));
    json.number("mass_kg", massOf(report.is));
    if (report.refit) {
        const auto refit = json.object("refit");
        json.text("right", report.refit->right);
        json.number("left_least_gap_mm", report.refit->gap_mm);
        const auto gaps = [&](std::string_view key, const FitGoodness& fit) {
            const auto each = json.object(key);
            json.number("least_mm", fit.least_mm);
            json.number("mean_mm", fit.mean_mm);
            json.number("greatest_mm", fit.greatest_mm);
        };
        gaps("mirrored_gap", report.refit->fit.bar.before);
        gaps("fitted_gap", report.refit->fit.bar.after);
        json.number("short_by_mm", report.refit->fit.bar.short_by_mm);
        json.text("trouble", report.refit->fit.bar.trouble);
    } else {
        json.nothing("refit");
    }
    json.texts("troubles", report.troubles);
    json.texts("worse", report.worse);
    json.text("written", report.written);
    json.text("caution", caution());
}

}  // namespace hoopwright
