// Changes to a cage that make bars of bars. Plain functions on a Job; no Qt.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "core/base/expected.h"
#include "core/model/cage_geometry.h"

namespace hoopwright {

/// Cuts a bar in two where it crosses another that runs through; both halves land on that one, and what
/// landed on the bar lands on the half it is on. `now` is the geometry of `job`. The id of the second half;
/// the first keeps its own. Refuses bars that do not touch.
/// @param id  layout id; of a pair both sides are cut
/// @param through  resolved id of the bar that stays whole
Expected<std::string> splitBar(Job& job, const CageGeometry& now, std::string_view id,
                               std::string_view through);

/// A bar the other way between the same two bars, in two halves cut to the first: a single diagonal becomes
/// a cross. Across the car it is the mirror image; on one side its ends change heights, or places fore and
/// aft where the bars it stands between run level. The ids of the halves. Refuses a bar that does not stand
/// between two bars.
Expected<std::vector<std::string>> crossBar(Job& job, const CageGeometry& now, std::string_view id);

/// Makes one bar of two whose ends meet, end on end or side by side on the bar both land on: what cutting
/// took apart. The first keeps its id and goes on along the second; where they do not lie in line the corner
/// becomes a bend. What landed on the second lands on it. The stretch between bends must leave room for the
/// bend, or the cage says so. Refuses bars whose ends do not meet, and of two tubes.
Expected<std::string> joinBars(Job& job, const CageGeometry& now, std::string_view first,
                               std::string_view second);

/// Lengthens a bar from one end along its axis to the next bar it meets within 3 m, and lands it there. The
/// resolved id of that bar.
/// @param resolved  id of a bar; of a pair both sides are lengthened
/// @param end  0 the first, 1 the last
Expected<std::string> extendBar(Job& job, const CageGeometry& now, std::string_view resolved, int end);

}  // namespace hoopwright
