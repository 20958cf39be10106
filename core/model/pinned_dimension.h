// A dimension the builder pins to the cage: what is measured, from where to where.
#pragma once

#include <string>

#include "core/model/member.h"

namespace hoopwright {

/// It says places and bars by name, so that it follows them; what it reads now is measured anew each time
/// (core/model/measure_dimension.h).
struct PinnedDimension {
    enum class Kind {
        distance,  ///< from one place to another, straight
        gap,       ///< least distance between the outsides of two bars
        centres,   ///< least distance between two centrelines
        angle,     ///< between two bars, each at a place on it
        height     ///< of a place over a datum, straight up
    };
    enum class Over { ground, sill, floor };  ///< sill: z = 0, where the car's heights are taken from
    std::string id;                           ///< [a-z][a-z0-9_]*
    std::string name;                         ///< shown; empty: made from what it measures
    Kind kind = Kind::distance;
    Place3 from, to;           ///< distance, angle; height: `from` alone. Bars by resolved id
    std::string bar_a, bar_b;  ///< gap, centres: resolved ids
    Over over = Over::ground;  ///< height
    friend bool operator==(const PinnedDimension&, const PinnedDimension&) = default;
};

}  // namespace hoopwright
