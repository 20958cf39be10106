// One place, picked on a scan and on the car.
#pragma once

#include "core/geometry/vec.h"

namespace hoopwright {

struct PickedPair {
    Vec3 scan = Vec3::Zero();  ///< in the scan's own numbers and axes
    Vec3 car = Vec3::Zero();   ///< car axes [mm]
    friend bool operator==(const PickedPair&, const PickedPair&) = default;
};

}  // namespace hoopwright
