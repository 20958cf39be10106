#include <algorithm>
#include <ostream>

#include "app/commands/cage_out.h"
#include "app/commands/check_report.h"
#include "app/commands/command_kit.h"
#include "app/commands/json_parts.h"
#include "app/commands/text_table.h"
#include "app/view/finding_text.h"

namespace hoopwright {
namespace {

/// One failing finding and what would mend it.
struct MendLine {
    Finding finding;
    Mends mends;
};

struct MendReport {
    const Job& job;
    std::vector<MendLine> lines;
    int taken = 0;
    const Mend* mend = nullptr;  ///< the one taken
    std::string written;
};

const Mend* numbered(const std::vector<MendLine>& lines, int number) {
    for (const MendLine& line : lines)
        for (const Mend& mend : line.mends.ways)
            if (--number == 0) return &mend;
    return nullptr;
}

int countOf(const std::vector<MendLine>& lines) {
    int count = 0;
    for (const MendLine& line : lines) count += static_cast<int>(line.mends.ways.size());
    return count;
}

void writeText(std::ostream& out, const MendReport& report) {
    const LengthStyle style{report.job.cage.unit};
    if (report.lines.empty()) out << "No rule fails: there is nothing to mend.\n";
    int number = 0;
    for (const MendLine& line : report.lines) {
        const Finding& f = line.finding;
        out << wrapped(f.clause + (f.clause.empty() ? "" : " ") + f.title +
                           (f.subject_name.empty() ? "" : ": " + f.subject_name),
                       0);
        const std::string outcome = outcomeText(f, style);
        if (!outcome.empty()) out << wrapped(outcome, 4);
        for (const Mend& mend : line.mends.ways) {
            std::string words = std::to_string(++number) + ". " + mend.name + ". " + mend.says + ". " +
                                costText(mend.adds_kg, mend.adds_price, report.job);
            if (mend.meets.size() > 1) words += "; mends " + std::to_string(mend.meets.size()) + " findings";
            out << wrapped(words, 4, kPageWidth, 3);
        }
        if (line.mends.ways.empty()) out << wrapped(line.mends.none, 4);
    }
    if (report.mend)
        out << "\n" << wrapped("Took " + std::to_string(report.taken) + ": " + report.mend->says, 0);
    if (!report.written.empty()) out << wrapped("Wrote " + report.written, 0);
    out << "\n" << wrapped(std::string(caution()), 0);
}

void writeJson(std::ostream& out, const MendReport& report) {
    JsonWriter json(out);
    const auto top = json.object();
    json.text("hoopwright", "mend");
    json.whole("version", 1);
    json.text("cage", report.job.cage.name);
    json.text("currency", report.job.stock.currency);
    json.whole("taken", report.taken);
    json.text("written", report.written);
    {
        int number = 0;
        const auto list = json.list("findings");
        for (const MendLine& line : report.lines) {
            const auto each = json.object();
            json.text("table", line.finding.table);
            json.text("rule", line.finding.rule);
            json.text("clause", line.finding.clause);
            json.text("title", line.finding.title);
            json.text("subject", line.finding.subject);
            json.text("subject_name", line.finding.subject_name);
            json.text("none", line.mends.none);
            const auto ways = json.list("ways");
            for (const Mend& mend : line.mends.ways) {
                const auto one = json.object();
                json.whole("number", ++number);
                writeMendJson(json, mend);
            }
        }
    }
    json.text("caution", caution());
}

int runMend(const CommandLine& line, Streams streams) {
    const std::optional<JobResult> opened = openJob(line.files()[0], streams);
    if (!opened) return kExitBadInput;
    const auto tables = openTables(line, *opened, streams);
    if (!tables) return kExitBadInput;
    if (tables->empty())
        return refuse(streams, "mend",
                      "the cage names no class table; add one under `rules:` or with --rules FILE");
    const std::string out = line.value("--out"), wanted = line.files().size() > 1 ? line.files()[1] : "";
    if (line.has("--out")) {
        if (const std::string wrong = wrongOut(out); !wrong.empty()) return refuse(streams, "mend", wrong);
        if (!line.has("--take")) return refuse(streams, "mend", "--take N is missing: say which way to take");
    }
    Mender mender(*tables, *opened->job);
    MendReport report{*opened->job, {}, 0, nullptr, {}};
    bool known = wanted.empty();
    for (const int i : worstFirst(mender.report())) {
        const Finding& finding = mender.report().findings[static_cast<std::size_t>(i)];
        known |= finding.rule == wanted;
        if (finding.answer != Answer::fails || (!wanted.empty() && finding.rule != wanted)) continue;
        report.lines.push_back({finding, mender.waysOut(finding)});
    }
    if (!known)
        return refuse(streams, "mend",
                      "no table in use has a rule '" + wanted + "'; hoopwright check --json names them");
    if (line.has("--take")) {
        const int count = countOf(report.lines);
        if (count == 0)
            return refuse(streams, "mend", "--take: no way out was found, so there is none to take");
        const Expected<int> take = wholeNumber("--take", line.value("--take"), 1, count);
        if (!take) return refuse(streams, "mend", take.reason());
        report.taken = *take;
        report.mend = numbered(report.lines, *take);
    }
    if (!out.empty() && report.mend) {
        if (const std::optional<Problem> problem = writeCageAs(out, *opened, report.mend->cage)) {
            print(streams.err, {*problem});
            return kExitBadInput;
        }
        report.written = out;
    }
    if (line.has("--json")) {
        writeJson(streams.out, report);
    } else {
        writeText(streams.out, report);
    }
    const bool all =
        std::ranges::none_of(report.lines, [](const MendLine& one) { return one.mends.ways.empty(); });
    return all ? kExitGood : kExitFallsShort;
}

}  // namespace

Command mendCommand() {
    return {
        "mend",
        {"CAGE", "[RULE]"},
        "ways out of what fails: tube, moves, bars and sizes that meet every table",
        "For each rule that fails, or the one named: the lightest and the cheapest tube of the shop's "
        "list, the least move of a landing, a corner or a plate, the bar a starter would have, the least "
        "plate. Each was held against every rule of every table and against the shape of the cage before "
        "it is offered: nothing that is good now gets worse. Prices are of tube by the metre. --take with "
        "--out writes the cage that makes. Ends with 1 if for something no way out was found.",
        "hoopwright mend data/cages/hillclimb_saloon.yaml",
        {{"--rules", "FILE", "a class table in place of those the cage names", true},
         {"--take", "N", "which way, as numbered in the list"},
         {"--json", "", "for programs; every key says its unit (app/commands/JSON.md)"},
         {"--out", "FILE", "the cage that makes; never a file that is there"}},
        &runMend};
}

}  // namespace hoopwright
