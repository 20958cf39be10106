// A scan of the car: the file it is in, what its numbers mean, and where it belongs.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/mesh/picked_pair.h"
#include "core/mesh/scan_unit.h"

namespace hoopwright {

/// Cuts a scan: kept is the side of the plane through `at` that `keep` points to.
struct ScanCut {
    Vec3 at = Vec3::Zero();     ///< car axes
    Vec3 keep = Vec3::UnitX();  ///< any length > 0
    friend bool operator==(const ScanCut&, const ScanCut&) = default;
};

/// What lies outside is left out of the scan. Car axes.
struct ScanBox {
    Vec3 low = Vec3::Zero(), high = Vec3::Zero();
    friend bool operator==(const ScanBox&, const ScanBox&) = default;
};

struct CarScan {
    std::string file;  ///< as written: from the car file's folder, in it or below
    ScanUnit unit = ScanUnit::guess;
    std::vector<PickedPair> pairs;  ///< places picked on scan and car; none: the scan is in car axes already
    std::optional<ScanBox> box;
    std::vector<ScanCut> cuts;
    std::string how;  ///< free text: scanner, date, what was in the way
    friend bool operator==(const CarScan&, const CarScan&) = default;
};

/// The meshes of a car's scans by CarScan::file. Beside the car, not in it: a mesh is big, never changes, and
/// is shared by every copy of a job, so that copies and undo stay light.
struct ScanMesh;
using ScanMeshRef = std::shared_ptr<const ScanMesh>;
using ScanMeshes = std::map<std::string, ScanMeshRef, std::less<>>;

}  // namespace hoopwright
