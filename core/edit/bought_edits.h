// Tubes bought bent are moved as rigid bodies: their bends stay, their ends follow. Plain functions; no Qt.
#pragma once

#include <string_view>

#include "core/base/expected.h"
#include "core/model/cage_geometry.h"

namespace hoopwright {

/// That member moved by `by`. An end on a plate or bar stays on it, where its leg now meets it; a free end
/// keeps its length of leg. `now` is the geometry of `job`.
/// @param resolved  of a pair, the left one. Refuses a tube that is not bought bent, has no shape, or whose
/// leg does not meet what it stands on any more.
Expected<Member> movedAsBought(const Job& job, const CageGeometry& now, std::string_view resolved,
                               const Eigen::Isometry3d& by);

/// That member made, or taped again, with another shape: laid where it is nearest to how it lies now, least
/// squares of its bends. Refuses as movedAsBought(), and a shape that is no good.
Expected<Member> tapedAgain(const Job& job, const CageGeometry& now, std::string_view resolved,
                            const BentShape& shape);

/// The taped shape of a bar as it lies now, to the tenth of a millimetre and of a degree: what to begin from.
/// @pre the bar has a bend
BentShape shapeOf(const ResolvedMember& bar);

}  // namespace hoopwright
