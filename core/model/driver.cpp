#include "core/model/driver.h"

#include <cmath>

namespace hoopwright {

Ellipsoid Helmet::ellipsoid() const {
    return {centre, Eigen::Matrix3d::Identity(), 0.5 * Vec3(length_mm, width_mm, height_mm)};
}

Vec3 SteeringWheel::facing() const {
    return {-std::cos(tilt_rad), 0, std::sin(tilt_rad)};
}

Vec3 SteeringWheel::up() const {
    return {std::sin(tilt_rad), 0, std::cos(tilt_rad)};
}

Vec3 sticksOut(const Vec3& root, const Vec3& joint, const Vec3& tip) {
    const Vec3 along = tip - root;
    const double length2 = along.squaredNorm();
    const Vec3 off = joint - root;
    const Vec3 out = length2 > 0 ? Vec3(off - off.dot(along) / length2 * along) : off;
    return out.norm() > 1e-6 ? Vec3(out.normalized()) : Vec3(Vec3::UnitZ());
}

const std::array<PointPair, 5>& pointPairs() {
    static const std::array<PointPair, 5> kPairs = {{
        {"shoulder", &Driver::shoulder_left, &Driver::shoulder_right},
        {"elbow", &Driver::elbow_left, &Driver::elbow_right},
        {"hand", &Driver::hand_left, &Driver::hand_right},
        {"knee", &Driver::knee_left, &Driver::knee_right},
        {"heel", &Driver::heel_left, &Driver::heel_right},
    }};
    return kPairs;
}

std::string crossedPair(const Driver& d) {
    const auto crossed = [](const Vec3& left, const Vec3& right) { return left.y() < right.y(); };
    for (const PointPair& pair : pointPairs())
        if (crossed(d.*pair.left, d.*pair.right)) return pair.name;
    if (d.seat && crossed(d.seat->slot_left, d.seat->slot_right)) return "belt slot";
    const auto& anchors = d.belts.shoulder_anchors;
    return anchors && crossed(anchors->left, anchors->right) ? "shoulder anchor" : "";
}

}  // namespace hoopwright
