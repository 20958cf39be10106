// The demo cages for a second look at what the program makes of them.
#pragma once

#include <gtest/gtest.h>

#include <stdexcept>
#include <string>

#include "core/files/job_file.h"
#include "core/model/resolve.h"

namespace hoopwright {

struct DemoCage {
    Job job;
    CageGeometry cage;
};

/// @param name  of a file in data/cages, without .yaml. Throws if it can't be read.
inline DemoCage demoCage(const std::string& name) {
    const JobResult read = readJob(std::string(HOOPWRIGHT_SOURCE_DIR) + "/data/cages/" + name + ".yaml");
    if (!read.job) throw std::runtime_error(read.problems.front().text());
    return {*read.job, resolve(*read.job)};
}

/// A test of each demo cage.
class OutsideDemo : public testing::TestWithParam<std::string> {
protected:
    const DemoCage demo = demoCage(GetParam());
    const CageGeometry& cage = demo.cage;
};

}  // namespace hoopwright

#define HOOPWRIGHT_EACH_DEMO(suite)                                                           \
    INSTANTIATE_TEST_SUITE_P(Jobs, suite, testing::Values("hillclimb_saloon", "mile_pickup"), \
                             [](const auto& it) { return it.param; })
