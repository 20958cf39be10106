// The demo jobs as a test sees them.
#pragma once

#include <string>
#include <vector>

#include "core/files/job_file.h"
#include "core/model/resolve.h"
#include "rules/check.h"

namespace hoopwright {

/// A cage of data/cages, everything it names, and what the program makes of it.
struct DemoJob {
    Job job;
    std::vector<RuleTableRef> tables;
    CageGeometry cage;
    CheckReport report;
    std::vector<std::string> troubles;  ///< what kept any of it from being read
};
DemoJob demoJob(const std::string& cage_file);

}  // namespace hoopwright
