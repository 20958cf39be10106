// The scans a car names, read from disk.
#pragma once

#include <filesystem>

#include "core/base/problem.h"
#include "core/files/job_file.h"
#include "core/mesh/triangle_mesh.h"
#include "core/model/car_scan.h"

namespace hoopwright {

struct ScanLoad {
    ScanMeshes meshes;  ///< as far as there was no problem
    Problems problems;  ///< with the place in the scan, or in the car file where that names what is not there
    bool stopped = false;
};

/// Reads every scan of the car that `have` does not hold yet; a scan already there is taken over as it is.
/// The folder is the car file's; what leads out of it, by a link too, is a problem. Takes seconds for a big
/// scan: run it where nobody waits, with a progress that can stop it. Never throws.
ScanLoad loadScans(const Car& car, const std::filesystem::path& car_file, const ScanMeshes& have = {},
                   const Progress& progress = {});

}  // namespace hoopwright
