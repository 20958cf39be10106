#include <ostream>

#include "app/commands/command_kit.h"
#include "app/commands/geometry_report.h"
#include "core/model/resolve.h"

namespace hoopwright {
namespace {

int runGeometry(const CommandLine& line, Streams streams) {
    const Expected<int> stations = wholeNumber("--stations", line.value("--stations", "36"), 8, 3600);
    if (!stations) return refuse(streams, "geometry", stations.reason());
    const std::optional<JobResult> opened = openJob(line.files()[0], streams);
    if (!opened) return kExitBadInput;
    const CageGeometry cage = resolve(*opened->job);
    if (line.has("--json")) {
        writeGeometryJson(streams.out, *opened->job, cage, *stations);
    } else {
        writeGeometryText(streams.out, *opened->job, cage, *stations);
    }
    return kExitGood;
}

}  // namespace

Command geometryCommand() {
    return {"geometry",
            {"CAGE"},
            "every bar, bend, joint and cut in numbers",
            "What the cage is in space: bars with their straights and bends, the bend table of each, joints "
            "with angle, offset "
            "and the cut on the end, plates, nodes, gussets, how near the nearest bar is to each person, and "
            "totals. What "
            "does not fit together is listed, and the rest is given all the same.",
            "hoopwright geometry data/cages/hillclimb_saloon.yaml --json --stations 72",
            {{"--json", "", "for programs; every key says its unit (app/commands/JSON.md)"},
             {"--stations", "N", "points of each cut, evenly round the tube: 8 to 3600, else 36"}},
            &runGeometry};
}

}  // namespace hoopwright
