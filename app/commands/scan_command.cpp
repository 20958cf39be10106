#include <ostream>

#include "app/commands/command_kit.h"
#include "app/commands/scan_report.h"
#include "app/commands/text_table.h"
#include "core/mesh/scan_mesh.h"

namespace hoopwright {
namespace {

int runScan(const CommandLine& line, Streams streams) {
    MeshResult read = readMesh(line.files()[0]);
    if (!read.value) {
        print(streams.err, {*read.problem});
        return kExitBadInput;
    }
    const ScanMesh mesh(*std::move(read.value));
    const std::optional<ScanUnit> guess = guessedUnit(mesh.tree->bounds());
    if (line.has("--json")) {
        JsonWriter json(streams.out);
        const auto top = json.object();
        json.text("hoopwright", "scan");
        json.whole("version", 1);
        json.text("file", line.files()[0]);
        writeScanMesh(json, mesh);
        json.text("likely_unit", guess ? scanUnitWord(*guess) : "");
        return kExitGood;
    }
    streams.out << wrapped(scanMeshWords(mesh) + ".", 0);
    if (guess) {
        streams.out << wrapped("Likely in " + std::string(scanUnitWord(*guess)) + ": " +
                                   sizeWords(mesh.tree->bounds(), *guess) + ".",
                               0);
    } else {
        streams.out << "The size of a car in no unit.\n";
    }
    return kExitGood;
}

}  // namespace

Command scanCommand() {
    return {"scan",
            {"SCAN"},
            "what a scan of the car holds",
            "Reads a scan (.stl, .obj, .ply; text or binary) and says how many triangles and points it has, "
            "whether they "
            "make one skin, and in which unit it is likely to be. A damaged file is refused with the place.",
            "hoopwright scan cab.stl",
            {{"--json", "", "for programs; every key says its unit (app/commands/JSON.md)"}},
            &runScan};
}

}  // namespace hoopwright
