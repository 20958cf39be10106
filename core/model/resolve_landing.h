// Where a landing falls on its host. Used by resolve().
#pragma once

#include <string>

#include "core/geometry/centreline.h"
#include "core/model/member.h"
#include "core/units/measure.h"

namespace hoopwright::resolving {

/// A landing's question without its names, ready to be turned to the other side.
struct Ask {
    Landing::By by = Landing::By::height;
    double value = 0;
    bool from_last_end = false;
    Side side = Side::centre;
};
Ask askOf(const Landing& landing);
/// The same landing as the right-hand copy means it: sides and y change over; on a single host that crosses
/// the car's centre plane, distances, fractions and ends count from the other end.
Ask forRightHand(const Ask& ask, const Centreline& host, bool host_is_single);

/// The place found. Always on the host, also when it is only the nearest there is.
struct Spot {
    enum class Trouble { none, misses, ambiguous };
    double station_mm = 0;
    Trouble trouble = Trouble::none;
    std::string what;  ///< how the sentence goes on after "lands on HOST "; empty without trouble
    std::string remedy;
};
/// @pre host is not empty and ask.value is finite
Spot spotOn(const Centreline& host, const Ask& ask, LengthUnit unit);

}  // namespace hoopwright::resolving
