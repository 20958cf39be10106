// How a quantity is to be measured: what a check says under `with`.
#pragma once

#include <string>
#include <vector>

#include "core/driver/body.h"
#include "core/skin/surface_kind.h"
#include "rules/subject.h"

namespace hoopwright {

enum class SeenFrom { in_space, side, front, plan };
enum class EndChoice { nearest, farthest, upper, lower, front, rear };
enum class TubePart { chord, straights, upper, lower };
enum class Spans { all, straight, bent };
enum class Towards { all, sides, up, sides_and_up };
enum class Direction { up, back, ahead, left, right };
/// Which wall of a tube: as ordered, the least the mill may deliver, as gauged, or what the tightest bend
/// leaves on its outside.
enum class WallKind { nominal, mill_least, measured, bent };

/// One kind of argument, as a bit. Two kinds may share a key in the file ("part" of a tube, "part" of a
/// body).
enum class Arg : unsigned {
    view = 1u << 0,
    upright_view = 1u << 1,  ///< a view in which "vertical" can be seen
    members = 1u << 2,
    place = 1u << 3,
    above = 1u << 4,
    below = 1u << 5,
    from_place = 1u << 6,
    to_place = 1u << 7,
    from_members = 1u << 8,
    to_members = 1u << 9,
    end = 1u << 10,
    along = 1u << 11,
    tube_part = 1u << 12,
    body_part = 1u << 13,
    spans = 1u << 14,
    towards = 1u << 15,
    padded = 1u << 16,
    reference_tube = 1u << 17,
    line = 1u << 18,
    height = 1u << 19,
    away_from_nodes = 1u << 20,
    within = 1u << 21,
    direction = 1u << 22,
    surface = 1u << 23,
    judged_wall = 1u << 24,
    welded = 1u << 25,
};
using ArgSet = unsigned;
constexpr ArgSet operator|(Arg a, Arg b) {
    return static_cast<ArgSet>(a) | static_cast<ArgSet>(b);
}
constexpr ArgSet operator|(ArgSet a, Arg b) {
    return a | static_cast<ArgSet>(b);
}
constexpr ArgSet only(Arg a) {
    return static_cast<ArgSet>(a);
}
constexpr bool has(ArgSet set, Arg a) {
    return (set & static_cast<ArgSet>(a)) != 0;
}

/// Selectors, places and reference tubes are indices into the rule table; -1 = not given.
struct Arguments {
    SeenFrom view = SeenFrom::in_space;
    EndChoice end = EndChoice::nearest;
    TubePart tube_part = TubePart::chord;
    Spans spans = Spans::all;
    Towards towards = Towards::all;
    Direction direction = Direction::up;
    WallKind judged_wall = WallKind::nominal;
    bool welded = false;  ///< strength beside a weld
    bool along_host = false;
    bool padded = false;
    int members = -1;
    int from = -1, to = -1;  ///< places or selectors, as the quantity says
    int place = -1, above = -1, below = -1;
    int reference_tube = -1;
    double height_mm = 0;
    double within_mm = 0;
    double away_from_nodes_mm = -1;  ///< < 0: nodes do not matter
    SurfaceKinds surfaces = 0;       ///< 0: not given
    std::vector<BodyPart> parts;
    std::string line;
    friend bool operator==(const Arguments&, const Arguments&) = default;
};

}  // namespace hoopwright
