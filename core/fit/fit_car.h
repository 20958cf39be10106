// What a bar is fitted to: the surfaces of a car, its lines, and how places on them are called.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "core/skin/car_skin.h"
#include "core/skin/shell.h"

namespace hoopwright {

/// In car axes and mm. Floors are left out unless asked for: feet stand on them.
inline constexpr SurfaceKinds kFittedSurfaces =
    bitOf(SurfaceKind::shell) | bitOf(SurfaceKind::glass) | bitOf(SurfaceKind::scan);

class FitCar {
public:
    FitCar(const Car& car, const ScanMeshes& meshes, SurfaceKinds kinds = kFittedSurfaces);

    std::span<const PlacedMesh> meshes() const { return meshes_; }
    const std::vector<SmoothLine>& lines() const { return lines_; }
    const SmoothLine* line(std::string_view called) const;
    /// Why some of the skin is not there; empty where all is. See CarSkin::missing().
    const std::string& missing() const { return missing_; }

    /// Nearest place of the skin that is nearer than `within_mm`, or nothing.
    struct Near {
        Vec3 at = Vec3::Zero();
        double distance_mm = 0;
        int mesh = -1;  ///< index into meshes()
        std::uint32_t triangle = 0;
    };
    std::optional<Near> nearest(const Vec3& p, double within_mm = MeshTree::kAnyDistance) const;
    /// Does the way from one place to another go through a surface?
    bool isBetween(const Vec3& from, const Vec3& to) const;
    /// How far one can go from a place along a unit direction before the skin; at most `farthest_mm`.
    double clearAlong(const Vec3& from, const Vec3& direction, double farthest_mm) const;

    /// What a place of the skin is called, seen from `from`: the glass or scan it belongs to, a pillar or
    /// rail within 70 mm, else "roof", "left side", ...
    std::string nameAt(const Near& place, const Vec3& from) const;

private:
    std::vector<PlacedMesh> meshes_;
    std::vector<SkinSurface> surfaces_;  ///< of each mesh
    std::vector<SmoothLine> lines_;
    std::string missing_;
};

/// A name of a car's file as it is read aloud: "a_pillar.left" is "left a pillar".
std::string spokenName(std::string_view called);

}  // namespace hoopwright
