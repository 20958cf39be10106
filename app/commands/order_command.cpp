#include <ostream>

#include "app/commands/command_kit.h"
#include "app/commands/order_report.h"
#include "core/model/resolve.h"
#include "core/shop/order.h"

namespace hoopwright {
namespace {

int runOrder(const CommandLine& line, Streams streams) {
    const std::optional<JobResult> opened = openJob(line.files()[0], streams);
    if (!opened) return kExitBadInput;
    const Job& job = *opened->job;
    const std::string allowance = line.value("--allowance", "0");
    const Expected<Unit> unit = unitNamed(job.cage.unit == LengthUnit::in ? "in" : "mm");
    const Expected<double> extra = readMeasure(allowance, *unit);
    if (!extra) return refuse(streams, "order", "--allowance: " + extra.reason());
    if (*extra < 0)
        return refuse(streams, "order", "--allowance: '" + allowance + "' is negative: write 0 or more");
    const CageGeometry cage = resolve(job);
    const Order ordered = order(job, cage, *extra);
    if (line.has("--json")) {
        writeOrderJson(streams.out, job, cage, ordered);
    } else {
        writeOrderText(streams.out, job, cage, ordered);
    }
    return ordered.whole() ? kExitGood : kExitFallsShort;
}

}  // namespace

Command orderCommand() {
    return {"order",
            {"CAGE"},
            "what tube to buy, and which piece comes from which stick",
            "Cut length, bends and mass of every piece, by stock; the sticks to buy and how the pieces lie "
            "in them. Lengths "
            "are from the longest point of one end to the longest of the other, developed through the bends. "
            "Ends with 0 if every piece can be cut from what is listed, 1 if some cannot.",
            "hoopwright order data/cages/mile_pickup.yaml --allowance 2",
            {{"--json", "", "for programs; every key says its unit (app/commands/JSON.md)"},
             {"--allowance", "LENGTH",
              "added to every blank that has bends; a bare number is in the cage's unit"}},
            &runOrder};
}

}  // namespace hoopwright
