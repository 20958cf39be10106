// What parts that a person adds are at first: round figures of the unit the job is in. Common practice, no
// source.
#pragma once

#include "core/model/plate.h"
#include "core/units/measure.h"

namespace hoopwright {

struct UsualSizes {
    double plate_length_mm = 0, plate_width_mm = 0, plate_thickness_mm = 0;
    double tie_length_mm = 0, tie_width_mm = 0, tie_thickness_mm = 0;  ///< a plate on a rail
    double gusset_leg_mm = 0, gusset_thickness_mm = 0;
    Riser riser;
    Bolts foot_bolts, tie_bolts;
};
const UsualSizes& usualSizes(LengthUnit unit);
/// A flap as it is at first: folded up square.
Flap usualFlap(LengthUnit unit, PlateEdge edge);

}  // namespace hoopwright
