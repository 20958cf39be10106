#include "core/model/two_link.h"

#include <algorithm>
#include <cmath>

namespace hoopwright {

MiddleJoint middleJoint(const Vec3& root, const Vec3& tip, double upper_mm, double lower_mm,
                        const Vec3& towards) {
    const Vec3 arm = tip - root;
    const double reach = arm.norm(), sum = upper_mm + lower_mm;
    if (reach >= sum) {
        const double share = sum > 0 ? upper_mm / sum : 0.5;
        return {root + share * arm, reach - sum};
    }
    const Vec3 along = reach > 0 ? Vec3(arm / reach) : Vec3::UnitX();
    Vec3 aside = towards - towards.dot(along) * along;
    aside = aside.norm() > 1e-9 ? aside.normalized() : along.unitOrthogonal();
    // Closer than the links differ, the joint folds flat; it can be no nearer than that.
    const double apart = std::max(reach, std::abs(upper_mm - lower_mm));
    const double forward =
        apart > 0 ? (upper_mm * upper_mm - lower_mm * lower_mm + apart * apart) / (2 * apart) : 0;
    const double out = std::sqrt(std::max(0.0, upper_mm * upper_mm - forward * forward));
    return {root + forward * along + out * aside, 0};
}

}  // namespace hoopwright
