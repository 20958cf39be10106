// The gap between bars and the skin of the car.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "core/model/cage_geometry.h"
#include "core/skin/car_skin.h"

namespace hoopwright {

/// So many diameters of a bar at a foot are left out: there it comes down to what it stands on, and is meant
/// to.
inline constexpr double kFootLeftOut_od = 2;

struct GapToSkin {
    TubeGap gap;       ///< see there: of the bare tube, all along it but at its feet; not `mesh`: `surface`
    int surface = -1;  ///< index into CarSkin::surfaces, of the nearest place
    std::string part;  ///< its name: "shell", "windshield", "cab.stl"
    /// The least gap to each surface asked for, in the order of CarSkin::surfaces.
    struct OfSurface {
        int surface = -1;
        std::string part;
        double least_mm = 0, station_mm = 0;
    };
    std::vector<OfSurface> surfaces;
};

/// Nothing where no surface of these kinds has anything left.
std::optional<GapToSkin> gapToSkin(const ResolvedMember& member, const CarSkin& skin,
                                   SurfaceKinds kinds = kAllSurfaces, double step_mm = kGapStep_mm);
/// For each of these members, on as many threads as the machine has.
std::vector<std::optional<GapToSkin>> gapsToSkin(std::span<const ResolvedMember* const> members,
                                                 const CarSkin& skin, SurfaceKinds kinds = kAllSurfaces,
                                                 double step_mm = kGapStep_mm);
/// For each member of the cage.
std::vector<std::optional<GapToSkin>> gapsToSkin(const CageGeometry& cage, const CarSkin& skin,
                                                 SurfaceKinds kinds = kAllSurfaces,
                                                 double step_mm = kGapStep_mm);

}  // namespace hoopwright
