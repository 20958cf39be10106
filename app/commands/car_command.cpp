#include <ostream>

#include "app/commands/car_page.h"
#include "app/commands/command_kit.h"

namespace hoopwright {
namespace {

int runCar(const CommandLine& line, Streams streams) {
    ReadResult<Car> read = readCar(line.files()[0]);
    if (!read.value) {
        print(streams.err, read.problems);
        return kExitBadInput;
    }
    const CarReport report = carReport(*std::move(read.value), unitOf(read.text));
    if (line.has("--json")) {
        writeCarJson(streams.out, report);
    } else {
        writeCarText(streams.out, report);
    }
    return report.hasDoubts() ? kExitFallsShort : kExitGood;
}

}  // namespace

Command carCommand() {
    return {"car",
            {"CAR"},
            "a measured car: where its points are, how far to trust them, how uneven it is",
            "Every point with how it was measured, what it is good to and what each tape says; left against "
            "right; "
            "which lines and which figures of the measuring sheet are missing; lessons. Ends with 1 where a "
            "reading "
            "should be looked at again.",
            "hoopwright car data/cars/saloon.yaml",
            {{"--json", "", "for programs; every key says its unit (app/commands/JSON.md)"}},
            &runCar};
}

}  // namespace hoopwright
