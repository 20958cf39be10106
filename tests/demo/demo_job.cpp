#include "demo_job.h"

namespace hoopwright {

namespace {
void keep(const Problems& problems, std::vector<std::string>& troubles) {
    for (const Problem& problem : problems) troubles.push_back(problem.text());
}
}  // namespace

DemoJob demoJob(const std::string& cage_file) {
    DemoJob demo;
    const JobResult read = readJob(std::string(HOOPWRIGHT_SOURCE_DIR) + "/data/cages/" + cage_file);
    keep(read.problems, demo.troubles);
    if (!read.job) return demo;
    demo.job = *read.job;
    for (const auto& file : read.files.rules) {
        const RuleTableResult table = readRuleTable(file);
        keep(table.problems, demo.troubles);
        if (table.table) demo.tables.push_back(table.table);
    }
    demo.cage = resolve(demo.job);
    demo.report = check(demo.tables, demo.job, demo.cage);
    return demo;
}

}  // namespace hoopwright
