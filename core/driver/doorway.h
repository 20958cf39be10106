// What the tubes leave of a door opening for getting in and out.
#pragma once

#include <string>
#include <vector>

#include "core/base/expected.h"
#include "core/model/cage_geometry.h"

namespace hoopwright {

/// The longest clear stretch across the opening at one height, or up it at one station.
struct ClearSpan {
    std::string at;  ///< what it is level with or over: "shoulder", "knee"
    bool upright = false;
    bool there = false;  ///< false: the opening does not reach that far
    Vec3 from = Vec3::Zero(), to = Vec3::Zero();
    int from_member = -1, to_member = -1;  ///< the bars that end it; -1: the edge of the opening
    double length_mm = 0;
};

/// All seen from the side, square to the car's length: a door that leans in at the top is a little longer
/// than that. Bars count, bare, where their middle is within kDoorwayReach_mm of the opening.
struct Doorway {
    std::string line;  ///< the car's line: "door_opening.left"
    bool left = true;
    double clear_round_mm = 0;  ///< diameter of the largest ball that fits through between edge and bars
    Vec3 round_at = Vec3::Zero();
    std::vector<int> round_members;  ///< bars it touches
    std::vector<ClearSpan> spans;    ///< level with the shoulder and the knee, then up at each
    double shoulder_width_mm = 0;    ///< of the driver, across: what has to pass
    double chest_mm = 0;             ///< of the driver, front to back
};
inline constexpr double kDoorwayReach_mm = 250;
/// On the driver's side. `name` of the car's line, without the side: "door_opening". The reason says what is
/// missing.
Expected<Doorway> doorway(const Driver& driver, const Car& car, const CageGeometry& cage,
                          const std::string& name = "door_opening");

}  // namespace hoopwright
