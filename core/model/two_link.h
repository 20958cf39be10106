// A limb of two links: where its middle joint is when both ends are held.
#pragma once

#include "core/geometry/vec.h"

namespace hoopwright {

/// The middle joint of a limb from `root` to `tip` with those link lengths [mm, >= 0], on the side `towards`
/// points to. Law of cosines.
struct MiddleJoint {
    Vec3 at = Vec3::Zero();
    double short_by_mm = 0;  ///< > 0: the limb does not reach; `at` then lies on the straight line, in
                             ///< proportion to the links
};
MiddleJoint middleJoint(const Vec3& root, const Vec3& tip, double upper_mm, double lower_mm,
                        const Vec3& towards);

}  // namespace hoopwright
