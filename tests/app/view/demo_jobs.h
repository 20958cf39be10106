// The demo jobs as they are, resolved and checked: the view is tested on cages of a real size.
#pragma once

#include <gtest/gtest.h>

#include <filesystem>
#include <string>
#include <vector>

#include "core/files/job_file.h"
#include "core/model/resolve.h"
#include "rules/check.h"

namespace hoopwright {

struct DemoJob {
    Job job;
    CageGeometry cage;
    CheckReport report;
    Box bounds;  ///< of the cage
};

/// `name`: "hillclimb_saloon", "faults/mile_pickup" ...
inline DemoJob demoJob(const std::string& name) {
    namespace fs = std::filesystem;
    const fs::path file = fs::path(HOOPWRIGHT_SOURCE_DIR) / "data" / "cages" / (name + ".yaml");
    const JobResult read = readJob(file);
    EXPECT_TRUE(read.job) << name;
    DemoJob demo;
    if (!read.job) return demo;
    demo.job = *read.job;
    demo.cage = resolve(demo.job);
    std::vector<RuleTableRef> tables;
    for (const std::string& one : demo.job.cage.rule_files) {
        const RuleTableResult table = readRuleTable((file.parent_path() / one).lexically_normal());
        EXPECT_TRUE(table.table) << one;
        tables.push_back(table.table);
    }
    demo.report = check(tables, demo.job, demo.cage);
    for (const auto& member : demo.cage.members) demo.bounds.extend(member.line.bounds());
    return demo;
}

inline std::vector<std::string> demoNames() {
    return {"hillclimb_saloon", "mile_pickup", "faults/hillclimb_saloon", "faults/mile_pickup"};
}

}  // namespace hoopwright
