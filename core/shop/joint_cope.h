// The copes of a resolved cage.
#pragma once

#include <string>

#include "core/geometry/cope.h"
#include "core/model/cage_geometry.h"

namespace hoopwright {

/// The cut on end `end` (0 or 1) of member `member`, around its host, the members in `also`, or on its plate.
/// Clock: phi = 0 points, at both ends of a tube, along the same generator of the tube: `tubeClock()`.
/// The reason says why there is none (free end, axis along the host).
Expected<CopeProfile> jointCope(const CageGeometry& cage, int member, int end, int stations);
CopeEnd copeEnd(const CageGeometry& cage, int member, int end);

/// A direction square to the tube at its first end, carried along without twist to the last: in the plane of
/// the first bend if there is one (pointing to the outside of the bend), else as near to up as the tube
/// allows.
Vec3 tubeClock(const Centreline& line, int end);
/// What it points to: "the outside of bend 1", "the upper side", "the front".
std::string clockWords(const Centreline& line);

/// What is cut from a stick for one member [mm].
struct CutLength {
    double centre_mm = 0;  ///< centreline from end to end
    double long_to_long_mm =
        0;  ///< from the longest point at one end to the longest at the other, along the centreline
    double short_to_short_mm = 0;
    double blank_mm = 0;  ///< length to saw: long point to long point, developed through the bends
    double mean_mm = 0;   ///< averaged over the metal: what the finished piece weighs as
    std::string trouble;  ///< why an end's cope is not in these lengths (they run to its host's middle
                          ///< there); or empty
};
CutLength cutLength(const CageGeometry& cage, int member);

}  // namespace hoopwright
