#include "app/commands/command_kit.h"

#include <ostream>

#include "core/files/scan_files.h"

namespace hoopwright {

void print(std::ostream& err, const Problems& problems) {
    for (const Problem& problem : problems) err << problem.text() << "\n";
}

int refuse(Streams streams, const std::string& command, const std::string& sentence) {
    streams.err << "hoopwright " << command << ": " << sentence << "\n";
    return kExitBadInput;
}

std::optional<JobResult> openJob(const std::string& cage_file, Streams streams) {
    JobResult result = readJob(cage_file);
    if (result.job) {
        ScanLoad scans = loadScans(result.job->car, result.files.car);
        result.job->scan_meshes = std::move(scans.meshes);
        result.problems = std::move(scans.problems);
        if (result.problems.empty()) return result;
    }
    print(streams.err, result.problems);
    return std::nullopt;
}

std::string_view caution() {
    return "This program plans and checks; it certifies nothing. The rule book in force and the inspector "
           "have the last "
           "word.";
}

}  // namespace hoopwright
