// How near the nearest bar comes to each part of a person.
#pragma once

#include <string>
#include <vector>

#include "core/model/cage_geometry.h"

namespace hoopwright {

struct Clearance {
    std::string part;      ///< "helmet", "shoulder_left" ...
    int member = -1;       ///< the nearest bar, or -1 if there is none
    double bare_mm = 0;    ///< from the part to the metal; negative: it is in it
    double padded_mm = 0;  ///< to the padding of the bar that is nearest with its padding on
    int padded_member = -1;
    Vec3 on_person = Vec3::Zero(),
         on_bar = Vec3::Zero();  ///< the two nearest points, bare; on_bar on the metal
};

/// Helmet (as an ellipsoid), then shoulders, elbows, hands, knees and heels, left before right.
std::vector<Clearance> clearances(const Driver& driver, const CageGeometry& cage);

}  // namespace hoopwright
