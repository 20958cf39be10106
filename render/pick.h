// What a ray through a pixel meets.
#pragma once

#include "core/model/cage_geometry.h"
#include "render/look.h"

namespace hoopwright {

/// What a ray meets first among tubes and plates.
struct Picked {
    int member = -1;  ///< index into CageGeometry::members
    int plate = -1;
    Vec3 at = Vec3::Zero();
    double station_mm = 0;  ///< on the member's centreline
    explicit operator bool() const { return member >= 0 || plate >= 0; }
};

/// On the geometry itself (round-ended straights and arcs, plates as slabs), to a micrometre, not on
/// triangles; `slack_mm` widens thin tubes for the hand. `direction` of any length > 0. With a look, only
/// what it shows and its section leaves is met: a cut face is met where the ray comes through the section.
Picked pick(const CageGeometry& cage, const Vec3& origin, const Vec3& direction, double slack_mm = 0,
            const SceneLook* look = nullptr);

}  // namespace hoopwright
