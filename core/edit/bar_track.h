// The straight way a whole bar slides on, parallel to itself.
#pragma once

#include "core/edit/grip.h"

namespace hoopwright {

/// Unit: in the plane of the grip, square to the line between the bar's ends. @pre the grip's bar is in `now`
Vec3 acrossBar(const CageGeometry& now, const Grip& grip);

/// The place of the track through `at` along `along` (unit) that is nearest to a line of sight through `from`
/// along `way` (unit); `at` where the track is seen end on.
Vec3 nearestOnTrack(const Vec3& at, const Vec3& along, const Vec3& from, const Vec3& way);

}  // namespace hoopwright
