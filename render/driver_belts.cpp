// The belts: shoulder straps, lap straps and the buckle.
#include <algorithm>
#include <cmath>

#include "core/driver/straps.h"
#include "core/geometry/curve.h"
#include "render/driver_figure.h"
#include "render/ribbon.h"
#include "render/turn.h"

namespace hoopwright {
namespace {

constexpr Rgb kStrap{0.80f, 0.78f, 0.735f}, kBuckle{0.62f, 0.62f, 0.60f};

/// Straps lie on the body: `out` at a point is away from the trunk's axis.
Mesh strap(const std::vector<Vec3>& knots, const std::vector<Vec3>& out_at, double width) {
    constexpr int kSteps = 10;
    const std::vector<Vec3> points = smoothCurve(knots, kSteps, false);
    std::vector<Vec3> outs;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const double at = static_cast<double>(i) / kSteps;
        const std::size_t k = std::min(static_cast<std::size_t>(at), out_at.size() - 1),
                          next = std::min(k + 1, out_at.size() - 1);
        const double share = at - static_cast<double>(k);
        outs.push_back((1 - share) * out_at[k] + share * out_at[next]);
    }
    return ribbonMesh(points, outs, width, 2.5, kStrap);
}

/// From where the strap comes to the bar, round it as far as it lies on it: at most once over to the front
/// again.
struct Round {
    std::vector<Vec3> points, outs;
};
Round roundBar(const ShoulderStrap& strap, const ResolvedMember& bar) {
    Round round;
    const Vec3 axis = bar.line.tangent(strap.station_mm), out = strap.on_bar.out;
    const Vec3 coming = strap.support - strap.shoulder;
    const double way = out.cross(coming).dot(axis) >= 0 ? 1 : -1;
    const double turn = std::min(strap.wrap_rad, 1.25 * kPi), radius = bar.radius_mm() + 1;
    const int steps = std::max(2, static_cast<int>(std::ceil(turn / 0.33)));
    for (int i = 0; i <= steps; ++i) {
        const Vec3 now = Eigen::AngleAxisd(way * turn * i / steps, axis) * out;
        round.points.push_back(strap.on_bar.axis_at + radius * now);
        round.outs.push_back(now);
    }
    return round;
}

/// A curve and the side of it that shows.
struct Course {
    std::vector<Vec3> knots, outs;
    void add(const Vec3& knot, const Vec3& out) {
        knots.push_back(knot);
        outs.push_back(out.normalized());
    }
};

/// The trunk the straps lie on: its measured axis, and the thickness of an ordinary adult.
class BeltedTrunk {
public:
    explicit BeltedTrunk(const Driver& driver)
        : driver_(driver),
          shoulders_(driver.shoulders()),
          up_((shoulders_ - driver.hip).normalized()),
          ahead_(left_.cross(up_)),
          torso_mm_((shoulders_ - driver.hip).norm()),
          scale_(std::clamp(torso_mm_ / 540, 0.7, 1.25)),
          buckle_(at(0.18, 134, 0)) {}

    /// From the buckle over the shoulder, through the seat's slot, to its first support and on.
    Course shoulderStrap(double side, const ShoulderStrap* strap, const ResolvedMember* bar) const {
        const Vec3& shoulder = side > 0 ? driver_.shoulder_left : driver_.shoulder_right;
        const Vec3 aside = (shoulder - shoulders_).dot(left_) * left_;
        Course course;
        course.add(buckle_ + side * 22 * left_ + 26 * up_, ahead_);
        course.add(at(0.45, 112, 0) + 0.55 * aside, ahead_);
        course.add(at(0.74, 110, 0) + 0.82 * aside, ahead_ + 0.1 * up_);
        course.add(at(0.93, 66, 0) + 0.96 * aside, ahead_ + 0.8 * up_);
        course.add(shoulder + 6 * up_, up_ + 0.1 * ahead_);
        if (driver_.seat) course.add(side > 0 ? driver_.seat->slot_left : driver_.seat->slot_right, up_);
        if (!strap) return course;
        if (bar) {
            const Round round = roundBar(*strap, *bar);
            for (std::size_t i = 0; i < round.points.size(); ++i) course.add(round.points[i], round.outs[i]);
        }
        if (strap->anchor) course.add(*strap->anchor, bar ? course.outs.back() : up_);
        return course;
    }

    Course lapStrap(const Vec3& anchor) const {
        const double side = anchor.y() > driver_.hip.y() ? 1 : -1;
        Course course;
        course.add(buckle_ + side * 26 * left_, ahead_);
        course.add(at(0.06, 124, side * 104) + 40 * up_, ahead_ + 0.7 * side * left_);
        course.add(at(0, 44, side * 194) + 22 * up_, side * left_);
        course.add(anchor, side * left_);
        return course;
    }

    Mesh buckle() const {
        std::vector<Vec3> ring;
        for (int i = 0; i < 24; ++i) {
            const double angle = 2 * kPi * i / 24;
            ring.push_back(buckle_ + 20 * (std::cos(angle) * left_ + std::sin(angle) * up_) + 6 * ahead_);
        }
        return rodMesh(ring, 12, 10, true, kBuckle);
    }

private:
    /// A share of the way from hip to shoulders, then forward and left on a person of this size [mm].
    Vec3 at(double share, double forward_mm, double left_mm) const {
        return driver_.hip + share * torso_mm_ * up_ + scale_ * (forward_mm * ahead_ + left_mm * left_);
    }

    const Driver& driver_;
    const Vec3 left_ = Vec3::UnitY();
    Vec3 shoulders_, up_, ahead_;
    double torso_mm_, scale_;
    Vec3 buckle_;
};

}  // namespace

Mesh beltStraps(const Driver& driver, const CageGeometry& cage) {
    const BeltedTrunk trunk(driver);
    const Expected<ShoulderStraps> straps = shoulderStraps(driver, cage);
    const double width = std::max(20.0, driver.belts.strap_width_mm);
    Mesh mesh;
    for (const double side : {1.0, -1.0}) {
        const ShoulderStrap* one = straps ? &straps->both[side > 0 ? 0 : 1] : nullptr;
        const ResolvedMember* bar =
            one && one->bar >= 0 ? &cage.members[static_cast<std::size_t>(one->bar)] : nullptr;
        const Course course = trunk.shoulderStrap(side, one, bar);
        mesh.append(strap(course.knots, course.outs, width));
    }
    for (const Vec3& anchor : driver.belts.lap_anchors) {
        const Course course = trunk.lapStrap(anchor);
        mesh.append(strap(course.knots, course.outs, 0.66 * width));
    }
    mesh.append(trunk.buckle());
    return mesh;
}

}  // namespace hoopwright
