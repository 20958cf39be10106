#include <QDateTime>
#include <QFile>
#include <QFileInfo>
#include <ostream>

#include "app/commands/check_report.h"
#include "app/commands/command_kit.h"
#include "app/view/report_file.h"
#include "core/model/resolve.h"

namespace hoopwright {
namespace {

/// Against --since FILE; the reason names the file.
Expected<SinceReport> sinceReport(const std::string& file, const CheckReport& now) {
    QFile old(QString::fromStdString(file));
    if (!old.open(QIODevice::ReadOnly))
        return Reason{"--since: '" + file + "' cannot be read: " + old.errorString().toStdString()};
    const Expected<ReportSummary> before = readReport(old.readAll());
    if (!before) return Reason{"--since: '" + file + "': " + before.reason()};
    const QDateTime then = QFileInfo(old).lastModified();
    return SinceReport{file, agoWords(then, QDateTime::currentDateTime()).toStdString(),
                       changesSince(*before, summaryOf(now))};
}

/// The tables of --as, or else those of the job; nothing after what is wrong has been printed.
std::optional<std::vector<RuleTableRef>> tablesFor(const CommandLine& line, const JobResult& job,
                                                   Streams streams) {
    if (!line.has("--as")) return openTables(line, job, streams);
    std::vector<RuleTableRef> tables;
    for (const std::string& file : line.values("--as")) {
        RuleTableResult result = readRuleTable(file);
        print(streams.err, result.problems);
        if (!result.table) return std::nullopt;
        tables.push_back(std::move(result.table));
    }
    return tables;
}

int runCheck(const CommandLine& line, Streams streams) {
    const std::optional<JobResult> opened = openJob(line.files()[0], streams);
    if (!opened) return kExitBadInput;
    if (line.has("--as") && line.has("--rules"))
        return refuse(streams, "check", "--as and --rules both name tables: give one of them");
    const std::optional<std::vector<RuleTableRef>> tables = tablesFor(line, *opened, streams);
    if (!tables) return kExitBadInput;
    if (tables->empty()) {
        return refuse(streams, "check",
                      "the cage names no class table; add one under `rules:` or with --rules FILE");
    }
    const Job& job = *opened->job;
    const CageGeometry cage = resolve(job);
    const CheckReport report = check(*tables, job, cage);
    CheckedJob checked{job, cage, report};
    checked.folder = opened->files.cage.parent_path();
    checked.several = sharedLimits(*tables, job, cage);
    checked.editions = editionNews(*tables, job.cage);
    checked.in_order = line.has("--in-order");
    checked.rests = restsOn(*tables, job, cage, report);
    checked.as_built = asBuiltList(*tables, job, cage, true);
    if (line.has("--since")) {
        Expected<SinceReport> since = sinceReport(line.value("--since"), report);
        if (!since) return refuse(streams, "check", since.reason());
        checked.since = *std::move(since);
    }
    if (line.has("--as")) checked.move = mendAll(*tables, job);
    if (line.has("--json")) {
        writeCheckJson(streams.out, checked);
    } else {
        writeCheckText(streams.out, checked);
    }
    return report.allMeet() && cage.problems.empty() ? kExitGood : kExitFallsShort;
}

}  // namespace

Command checkCommand() {
    return {"check",
            {"CAGE"},
            "the cage against its class tables, worst first",
            "Checks a cage against the class tables it names. Ends with 0 if everything that could be judged "
            "meets, 1 if something fails, could not be told, meets only by a number nobody has confirmed, or "
            "does not fit together, 2 if a file or the command line is wrong. Questions only a person can "
            "answer are listed, and do not change how it ends. With several tables it says what they ask of "
            "the same thing, and what cannot be met at once.",
            "hoopwright check data/cages/hillclimb_saloon.yaml",
            {{"--rules", "FILE", "check against this table instead of those the cage names", true},
             {"--as", "FILE", "as a car of this class: what would have to change, its mass and price", true},
             {"--since", "FILE", "what has changed since that report, written by check --json"},
             {"--in-order", "", "as the tables have them, not worst first"},
             {"--json", "", "for programs; every key says its unit (app/commands/JSON.md)"}},
            &runCheck};
}

}  // namespace hoopwright
