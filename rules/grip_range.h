// How far something may be pulled before a rule that holds now fails.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "core/edit/grip.h"
#include "rules/check.h"

namespace hoopwright {

/// One end of what a grip may do.
struct GripLimit {
    Vec3 at = Vec3::Zero();  ///< the last place that is as good as where it is now, to kGripRange_mm
    std::string why;  ///< what is wrong just beyond: a rule's title or a sentence; empty: it goes no farther
};

struct GripRange {
    GripLimit low, high;
    std::vector<Vec3> track;  ///< from low to high, for drawing
    /// Of each required rule that fails now and holds somewhere in the range: the nearest such place, to
    /// kGripRange_mm, and the rule's title.
    std::vector<GripLimit> mends;
};
inline constexpr double kGripRange_mm = 0.1;

/// Of a landing or node along its host, of a bar 300 mm either way, of a lean 20 degrees either way; nothing
/// of a grip with more than one way to go. A place is as good as now when no required rule fails that does
/// not fail now, and the cage has no new kind of trouble. Method: the full check at steps outward from where
/// it is, the first that is worse then halved: a stretch of trouble narrower than a step (a twelfth of the
/// way, 40 mm at most) may be stepped over.
std::optional<GripRange> gripRange(std::span<const RuleTableRef> tables, const Job& job,
                                   const CageGeometry& now, const Grip& grip);

}  // namespace hoopwright
