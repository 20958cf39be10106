// The weld where a coped tube sits on its host: a fillet along the true edge of the cut.
#pragma once

#include <functional>
#include <vector>

#include "render/tube_mesh.h"

namespace hoopwright {

/// The surface a bead lies on, at the point of it nearest to p: its unit normal, out of the metal. The
/// distance of p from the surface lets several hosts be told apart.
struct HostSurface {
    Vec3 normal = Vec3::UnitZ();
    double distance_mm = 0;
};
using HostSurfaces = std::function<HostSurface(const Vec3& p)>;

/// A fillet of leg `leg_mm` between the tube's skin and the host along the outer edge of the cut at `end`;
/// left out where the cut misses every host. MeshCorner::around is the distance along the bead.
Mesh weldBead(const TubeSweep& sweep, double tube_radius_mm, const TubeCut& cut, int end,
              const HostSurfaces& host, double leg_mm);

}  // namespace hoopwright
