// A tube bought bent, as the cage file says it.
#pragma once

#include "core/files/fields.h"
#include "core/model/bent_shape.h"

namespace hoopwright {

/// `{radius: 135, straights: [900, 1010, 900], angles: [75, 75], rotations: [180]}`: as many angles as bends,
/// one straight more, one rotation fewer; rotations left out: all in one plane.
BentShape readBent(const YamlValue& value);
OutNode outBent(const BentShape& shape, LengthUnit unit);

}  // namespace hoopwright
