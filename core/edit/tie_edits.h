// Feet tied to the rails of the car, and raised on boxes. Plain functions; no Qt.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "core/base/expected.h"
#include "core/model/cage_geometry.h"

namespace hoopwright {

struct MadeTie {
    std::string plate;  ///< layout id of the plate on the rail
    std::string bar;    ///< of the return between; empty: the foot stood on the rail already
    std::string rail;
};

/// Ties a foot to the nearest rail: of the frame where the body lifts off it, else any. A plate that lies on
/// the rail is fixed to it as it is; from any other a return goes from the bar above the foot to a new plate
/// on the rail, where nothing new is against it. A pair gets a pair. `now` is the geometry of `job`.
/// @param resolved  id of a plate that a bar stands on, or of a bar with a foot on a plate
/// Refuses, with the reason: no such foot, no rail within 1 m.
Expected<MadeTie> tieToRail(Job& job, const CageGeometry& now, std::string_view resolved, Fixing fixing);

/// Puts a plate on a box, takes it off, or changes it: what is under the box stays where it is, and plate and
/// feet are lifted.
void putOnRiser(Plate& plate, const std::optional<Riser>& riser);

}  // namespace hoopwright
