// A cage without some of its bars: what an option is worth is the difference.
#pragma once

#include <string>
#include <vector>

#include "core/model/cage_geometry.h"

namespace hoopwright {

struct LeftOut {
    Job job;
    CageGeometry cage;
    /// Layout ids of members that stood on what was left out, and so are out as well; in build order.
    std::vector<std::string> goes_too;
};
/// Without these layout members (both of a pair), and without what stood on them. Nothing else moves.
LeftOut leaveOut(const Job& job, const CageGeometry& cage, const std::vector<std::string>& ids);

}  // namespace hoopwright
