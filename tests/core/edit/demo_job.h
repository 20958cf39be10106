// The demo jobs as values, and parts made from nothing but an id.
#pragma once

#include <gtest/gtest.h>

#include <filesystem>
#include <string>

#include "core/files/job_file.h"

namespace hoopwright {

/// A bar or plate that is only its id.
template <class Part>
Part called(const std::string& id) {
    Part part;
    part.id = id;
    return part;
}

inline Job demoJobValue(const char* cage = "hillclimb_saloon.yaml") {
    const JobResult read = readJob(std::filesystem::path(HOOPWRIGHT_SOURCE_DIR) / "data" / "cages" / cage);
    EXPECT_TRUE(read.job) << (read.problems.empty() ? "" : read.problems.front().text());
    return read.job.value_or(Job{});
}

}  // namespace hoopwright
