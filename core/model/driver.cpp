#include "core/model/driver.h"

namespace hoopwright {

Ellipsoid Helmet::ellipsoid() const {
    return {centre, Eigen::Matrix3d::Identity(), 0.5 * Vec3(length_mm, width_mm, height_mm)};
}

}  // namespace hoopwright
