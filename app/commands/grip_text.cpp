#include <ostream>

#include "app/commands/command_kit.h"
#include "app/commands/grip_report.h"
#include "app/commands/json_parts.h"
#include "app/commands/text_table.h"
#include "core/base/text.h"

namespace hoopwright {
namespace {

std::string words(Grip::Kind kind) {
    switch (kind) {
        case Grip::Kind::landing:
            return "where it lands";
        case Grip::Kind::node:
            return "what lands on it";
        case Grip::Kind::corner:
            return "bend or free end";
        case Grip::Kind::bar:
            return "the whole bar";
        case Grip::Kind::lean:
            return "its lean";
        case Grip::Kind::plate:
            break;
    }
    return "the plate";
}

std::string said(const GripNumber& number, const LengthStyle& style) {
    const std::string value = number.dimension == Dimension::length ? showLength(number.value, style)
                              : number.dimension == Dimension::angle
                                  ? fixed(degrees(number.value), 1) + " deg"
                                  : fixed(number.value, 3);
    return number.name + " " + value;
}

std::string saidAll(const std::vector<GripNumber>& numbers, const LengthStyle& style) {
    std::string out;
    for (const GripNumber& one : numbers) out += (out.empty() ? "" : ", ") + said(one, style);
    return out;
}

/// "as far as 512.0 (Belt bar height)".
std::string limit(const std::vector<GripNumber>& at, const GripLimit& end, const LengthStyle& style) {
    return (at.empty() ? "" : saidAll(at, style)) + (end.why.empty() ? "" : ": " + end.why);
}

}  // namespace

void writeGripText(std::ostream& out, const GripReport& report) {
    LengthStyle style;
    style.unit = report.job.cage.unit;
    out << wrapped("What can be taken hold of on " + report.part + " of " + report.job.cage.name + ".", 0)
        << "\n";
    TextTable table({Align::right, Align::left, Align::left, Align::left});
    for (std::size_t i = 0; i < report.grips.size(); ++i) {
        const GripReport::Line& one = report.grips[i];
        table.add({std::to_string(i + 1), words(one.grip.kind),
                   one.grip.host.empty() || one.grip.host == report.part ? "" : "on " + one.grip.host,
                   saidAll(one.numbers, style)});
    }
    out << table.text(2);
    for (std::size_t i = 0; i < report.grips.size(); ++i) {
        const GripReport::Line& one = report.grips[i];
        if (!one.range) continue;
        out << "\n" << wrapped(std::to_string(i + 1) + " may go, and no rule gets worse", 0);
        std::string low = limit(one.low, one.range->low, style),
                    high = limit(one.high, one.range->high, style);
        const bool falls = !one.low.empty() && !one.high.empty() && one.low[0].name == one.high[0].name &&
                           one.low[0].value > one.high[0].value;
        if (falls) std::swap(low, high);  // a bar that is counted from its top
        out << wrapped("from " + low, 2) << wrapped("to " + high, 2);
        for (std::size_t k = 0; k < one.mends.size(); ++k)
            out << wrapped("at " + saidAll(one.mends[k], style) + " this holds: " + one.range->mends[k].why,
                           2);
    }
    if (report.taken > 0) {
        out << "\n"
            << wrapped(
                   "Pulled " + std::to_string(report.taken) + " to " + saidAll(report.pulled_to, style) + ".",
                   0);
        for (const std::string& title : report.worse) out << wrapped("Now falls short: " + title, 2);
    }
    if (!report.written.empty()) out << "\n" << wrapped("Wrote " + report.written + ".", 0);
    out << "\n" << wrapped(std::string(caution()), 0);
}

}  // namespace hoopwright
