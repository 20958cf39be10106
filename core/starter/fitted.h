// Corners of hoops and side bars that keep a gap to the skin. The one place where bars are fitted to the
// shell. Not for use outside core/starter.
#pragma once

#include <vector>

#include "core/starter/car_places.h"

namespace hoopwright::starting {

/// The tube a bar is bent from. Lengths [mm].
struct BentTube {
    double od_mm = 0, radius_mm = 0;  ///< radius of the bend
    double half_mm() const { return od_mm / 2; }
};

/// Left corners of the main hoop in the plane x: waist and roof corner, as far out as `gap_mm` allows.
struct HoopCorners {
    Vec3 waist = Vec3::Zero(), top = Vec3::Zero();
};
HoopCorners hoopCorners(const CarPlaces& places, const BentTube& tube, const Vec3& left_foot, double gap_mm);

/// Corners along the left windshield pillar: under the roof's front corner, and ahead of the pillar's foot.
struct PillarCorners {
    Vec3 top = Vec3::Zero(), knee = Vec3::Zero();
};
/// @param from  where the bar comes from; of a front hoop, its other top corner
PillarCorners pillarCorners(const CarPlaces& places, const BentTube& tube, const Vec3& from, const Vec3& foot,
                            double gap_mm);

/// Setback of the bend at `corner`.
double setback(const Vec3& before, const Vec3& corner, const Vec3& after, double radius_mm);
Centreline bent(const std::vector<Vec3>& path, double radius_mm);

}  // namespace hoopwright::starting
