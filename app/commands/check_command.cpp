#include <ostream>

#include "app/commands/check_report.h"
#include "app/commands/command_kit.h"
#include "core/model/resolve.h"

namespace hoopwright {
namespace {

int runCheck(const CommandLine& line, Streams streams) {
    const std::optional<JobResult> opened = openJob(line.files()[0], streams);
    if (!opened) return kExitBadInput;
    const std::optional<std::vector<RuleTableRef>> tables = openTables(line, *opened, streams);
    if (!tables) return kExitBadInput;
    if (tables->empty()) {
        return refuse(streams, "check",
                      "the cage names no rule table; add one under `rules:` or with --rules FILE");
    }
    const CageGeometry cage = resolve(*opened->job);
    const CheckReport report = check(*tables, *opened->job, cage);
    const CheckedJob checked{*opened->job, cage, report};
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
            "the cage against its rule tables, worst first",
            "Checks a cage against the rule tables it names. Ends with 0 if everything that could be judged "
            "meets, 1 if "
            "something fails, could not be told or does not fit together, 2 if a file or the command line is "
            "wrong. "
            "Questions only a person can answer are listed, and do not change how it ends.",
            "hoopwright check data/cages/hillclimb_saloon.yaml",
            {{"--rules", "FILE", "check against this table instead of those the cage names", true},
             {"--json", "", "for programs; every key says its unit (app/commands/JSON.md)"}},
            &runCheck};
}

}  // namespace hoopwright
