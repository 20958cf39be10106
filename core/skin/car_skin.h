// The skin of a car to measure against: what was taped, and what was scanned.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "core/mesh/rigid_fit.h"
#include "core/mesh/tube_gap.h"
#include "core/model/car.h"
#include "core/skin/surface_kind.h"

namespace hoopwright {

/// All of the car's surfaces of one kind; of scans, one each.
struct SkinSurface {
    SurfaceKind kind = SurfaceKind::shell;
    PlacedMesh mesh;
    /// The names in it and the first triangle of each, ascending: lines of the car, "shell", a scan's file.
    std::vector<std::pair<std::string, std::uint32_t>> parts;
    const std::string& partAt(std::uint32_t triangle) const;
};

/// What came of a scan of the car.
struct PlacedScan {
    ScanUnit unit = ScanUnit::mm;
    bool unit_guessed = false;
    std::optional<RigidFit> fit;  ///< nothing: no pairs are given, it stands in car axes
    MeshPlacement placement;      ///< without a fit: in its unit alone, as its numbers say
    int surface = -1;             ///< index into CarSkin::surfaces
    std::string problem;  ///< why it has no surface, a sentence: not loaded, two pairs only, no likely unit
};
/// The same of one scan, without a surface: where to draw it. `mesh` may be null: not loaded.
PlacedScan placedScan(const CarScan& scan, const ScanMesh* mesh);
/// What is kept of a scan: its box and its cuts, in car axes.
std::vector<HalfSpace> keptOf(const CarScan& scan);

struct CarSkin {
    std::vector<SkinSurface> surfaces;
    std::vector<PlacedScan> scans;  ///< for each of Car::scans
    /// Nothing is missing that the car names? Else the first problem of a scan: distances to the rest are
    /// then greatest values only.
    std::string missing() const;
};

/// Cheap but for the shell (some ms): scans are not copied. Never throws.
CarSkin carSkin(const Car& car, const ScanMeshes& meshes);

}  // namespace hoopwright
