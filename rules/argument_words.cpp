#include "rules/argument_words.h"

namespace hoopwright {
namespace {

constexpr ArgumentWords kWords[] = {
    {Arg::view, "view", "true, side, front or plan"},
    {Arg::upright_view, "view", "true, side or front"},
    {Arg::members, "members", "a selector of bars"},
    {Arg::place, "place", "a place"},
    {Arg::above, "above", "a place"},
    {Arg::below, "below", "a place"},
    {Arg::from_place, "from", "a place"},
    {Arg::to_place, "to", "a place"},
    {Arg::from_members, "from", "a selector of bars"},
    {Arg::to_members, "to", "a selector of bars"},
    {Arg::end, "end", "nearest, farthest, upper, lower, front or rear"},
    {Arg::along, "along", "straight or host"},
    {Arg::tube_part, "part", "chord, straights, upper or lower"},
    {Arg::body_part, "part", "a part of the body, or a list of them"},
    {Arg::spans, "spans", "all, straight or bent"},
    {Arg::towards, "towards", "all, sides, up or sides_and_up"},
    {Arg::padded, "padded", "yes or no"},
    {Arg::reference_tube, "tube", "a reference tube"},
    {Arg::line, "line", "a line of the car"},
    {Arg::height, "height", "a length"},
    {Arg::away_from_nodes, "away_from_nodes", "a length"},
    {Arg::within, "within", "a length"},
    {Arg::direction, "direction", "up, back, ahead, left or right"},
    {Arg::surface, "surface", "shell, glass, floor or scan, or a list of them"},
    {Arg::judged_wall, "judged_wall", "nominal, mill_least, measured or bent"},
    {Arg::welded, "welded", "yes or no"},
};

}  // namespace

std::span<const ArgumentWords> argumentWords() {
    return kWords;
}

}  // namespace hoopwright
