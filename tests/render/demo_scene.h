// The demo jobs as scenes, each read and baked once a test program.
#pragma once

#include <gtest/gtest.h>

#include <memory>
#include <string>

#include "core/files/job_file.h"
#include "core/model/resolve.h"
#include "render/scene.h"

namespace hoopwright::testing_render {

struct DemoCage {
    const char* name;  ///< as tests print it
    const char* file;  ///< in data/cages
};
inline constexpr DemoCage kDemoCages[] = {{"HillclimbSaloon", "hillclimb_saloon.yaml"},
                                          {"MilePickup", "mile_pickup.yaml"},
                                          {"HillclimbSaloonWithFaults", "faults/hillclimb_saloon.yaml"},
                                          {"MilePickupWithFaults", "faults/mile_pickup.yaml"}};

inline std::string nameOf(const ::testing::TestParamInfo<DemoCage>& info) {
    return info.param.name;
}
/// So that a failure names the cage.
inline void PrintTo(const DemoCage& cage, std::ostream* out) {
    *out << cage.file;
}

struct DemoScene {
    Job job;
    CageGeometry cage;
    CageScene scene;
};
/// Null where the file cannot be read.
inline std::unique_ptr<DemoScene> demoScene(const DemoCage& which) {
    const JobResult read = readJob(std::string(HOOPWRIGHT_SOURCE_DIR "/data/cages/") + which.file);
    if (!read.job) return nullptr;
    auto made = std::make_unique<DemoScene>();
    made->job = *read.job;
    made->cage = resolve(made->job);
    made->scene.set(made->job, made->cage);
    made->scene.bake();
    return made;
}

}  // namespace hoopwright::testing_render
