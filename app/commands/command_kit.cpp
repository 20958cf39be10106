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

std::optional<std::vector<RuleTableRef>> openTables(const CommandLine& line, const JobResult& job,
                                                    Streams streams) {
    std::vector<std::filesystem::path> files = job.files.rules;
    if (line.has("--rules")) {
        const std::vector<std::string> given = line.values("--rules");
        files.assign(given.begin(), given.end());
    } else if (!job.missing_rules.empty()) {
        print(streams.err, job.missing_rules);
        return std::nullopt;
    }
    std::vector<RuleTableRef> tables;
    for (const std::filesystem::path& file : files) {
        RuleTableResult result = readRuleTable(file);
        print(streams.err, result.problems);
        if (result.table) tables.push_back(std::move(result.table));
    }
    if (tables.size() < files.size()) return std::nullopt;
    return tables;
}

std::string_view caution() {
    return "This program plans and checks; it certifies nothing. The rule book in force and the inspector "
           "have the last "
           "word.";
}

}  // namespace hoopwright
