#include "render/view.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "render/turn.h"

namespace hoopwright {
namespace {

constexpr double kMargin = 1.07;  // room round a fitted box
constexpr double kSteepest_rad = 89.9 * kPi / 180;

/// Right, up and forward of a camera as rows.
Eigen::Matrix3d axesOf(const View& view) {
    const Vec3 forward = view.forward();
    Vec3 right = forward.cross(view.isUpright() ? Vec3(Vec3::UnitZ()) : view.up);
    // Looking along `up`: any right will do, as long as it is always the same.
    if (right.squaredNorm() < 1e-18) right = forward.unitOrthogonal();
    right.normalize();
    Eigen::Matrix3d axes;
    axes.row(0) = right;
    axes.row(1) = right.cross(forward);
    axes.row(2) = forward;
    return axes;
}

/// Millimetres a pixel, at unit depth for a perspective.
double pixelSize(const View& view, int height_px) {
    const double height = view.orthographic_height_mm > 0 ? view.orthographic_height_mm
                                                          : 2 * std::tan(view.vertical_angle_rad / 2);
    return height / height_px;
}

struct Standard {
    const char* name;
    double azimuth_deg, elevation_deg;
    bool orthographic;
};
// Azimuth of the camera about z from +x (in front of the car) to +y (the driver's left).
constexpr std::array<Standard, 7> kStandards = {{{"front", 0, 0, true},
                                                 {"rear", 180, 0, true},
                                                 {"left", 90, 0, true},
                                                 {"right", -90, 0, true},
                                                 {"top", 90, 90, true},
                                                 {"three_quarter", 44, 16, false},
                                                 {"three_quarter_rear", 146, 21, false}}};

/// The driver's own seat: inside, a little behind the middle, looking forward over the dash.
View fromTheSeat(const Box& box) {
    View view;
    const Vec3 size = box.sizes();
    view.eye = box.min() + Vec3(0.32 * size.x(), 0.66 * size.y(), 0.70 * size.z());
    view.target = view.eye + Vec3(0.40 * size.x(), -0.02 * size.y(), -0.07 * size.z());
    view.vertical_angle_rad = 62 * kPi / 180;
    return view;
}

}  // namespace

bool View::isUpright() const {
    const Vec3 way = target - eye;
    return upright && orthographic_height_mm <= 0 &&
           std::abs(way.z()) <= kSteepestUpright * std::hypot(way.x(), way.y()) + 1e-9;
}

Vec3 View::forward() const {
    if (!isUpright()) return sight();
    return Vec3(target.x() - eye.x(), target.y() - eye.y(), 0).normalized();
}

double View::shift() const {
    if (!isUpright()) return 0;
    return (target.z() - eye.z()) / std::hypot(target.x() - eye.x(), target.y() - eye.y());
}

Vec3 View::project(const Vec3& p, int width_px, int height_px) const {
    const Vec3 seen = axesOf(*this) * (p - eye);
    double scale = pixelSize(*this, height_px), up_mm = seen.y();
    if (orthographic_height_mm <= 0) {
        scale *= seen.z();
        up_mm -= shift() * seen.z();
    }
    return {0.5 * width_px + seen.x() / scale, 0.5 * height_px - up_mm / scale, seen.z()};
}

std::pair<Vec3, Vec3> View::ray(double x_px, double y_px, int width_px, int height_px) const {
    const Eigen::Matrix3d axes = axesOf(*this);
    const double scale = pixelSize(*this, height_px);
    const Vec3 across = scale * (x_px - 0.5 * width_px) * axes.row(0).transpose() +
                        (shift() - scale * (y_px - 0.5 * height_px)) * axes.row(1).transpose();
    if (orthographic_height_mm > 0) return {eye + across, forward()};
    return {eye, (forward() + across).normalized()};
}

View View::orbited(double azimuth_rad, double elevation_rad) const {
    const Vec3 arm = eye - target;
    const double flat = std::hypot(arm.x(), arm.y());
    double azimuth = std::atan2(arm.y(), arm.x());
    // From straight above the direction hides in `up`: the camera stands on the side away from it.
    if (flat < 1e-6 * arm.norm()) azimuth = std::atan2(-up.y(), -up.x()) + (arm.z() < 0 ? kPi : 0);
    azimuth += azimuth_rad;
    const double steepest = isUpright() ? std::atan(kSteepestUpright) : kSteepest_rad;
    const double elevation = std::clamp(std::atan2(arm.z(), flat) + elevation_rad, -steepest, steepest);
    View turned = *this;
    turned.up = Vec3::UnitZ();
    turned.eye = target + arm.norm() * Vec3(std::cos(elevation) * std::cos(azimuth),
                                            std::cos(elevation) * std::sin(azimuth), std::sin(elevation));
    return turned;
}

View View::panned(double right_mm, double up_mm) const {
    const Eigen::Matrix3d axes = axesOf(*this);
    const Vec3 step = right_mm * axes.row(0).transpose() + up_mm * axes.row(1).transpose();
    View moved = *this;
    moved.eye += step;
    moved.target += step;
    return moved;
}

View View::zoomedAt(double factor, const Vec3& keep) const {
    View zoomed = *this;
    const double f = std::clamp(factor, 0.02, 50.0);
    if (orthographic_height_mm > 0) {
        zoomed.orthographic_height_mm = std::clamp(orthographic_height_mm / f, 1.0, 1e6);
        const double actual = zoomed.orthographic_height_mm / orthographic_height_mm;
        const Vec3 offset = keep - eye;
        const Vec3 in_plane = offset - offset.dot(forward()) * forward();
        zoomed.eye += (1 - actual) * in_plane;
        zoomed.target += (1 - actual) * in_plane;
        return zoomed;
    }
    // Moving every point of the camera towards `keep` by the same share keeps its pixel where it is.
    const double share = 1 - 1 / f;
    zoomed.eye += share * (keep - eye);
    zoomed.target += share * (keep - target);
    constexpr double kNearest_mm = 40;
    if ((zoomed.target - zoomed.eye).norm() < kNearest_mm) zoomed.target = zoomed.eye + kNearest_mm * sight();
    return zoomed;
}

const std::vector<std::string>& standardViews() {
    static const std::vector<std::string> names = {
        "front", "rear", "left", "right", "top", "three_quarter", "three_quarter_rear", "driver"};
    return names;
}

View standardView(std::string_view name, const Box& box, double aspect) {
    const Box filled = box.isEmpty() ? Box(Vec3(-1500, -800, 0), Vec3(1500, 800, 1200)) : box;
    if (name == "driver") return fromTheSeat(filled);
    const auto* standard =
        std::find_if(kStandards.begin(), kStandards.end(), [&](const Standard& s) { return name == s.name; });
    if (standard == kStandards.end()) standard = &kStandards[5];
    const double azimuth = standard->azimuth_deg * kPi / 180, elevation = standard->elevation_deg * kPi / 180;
    View view;
    view.target = filled.center();
    const double flat = standard->elevation_deg >= 90 ? 0 : std::cos(elevation);
    view.eye =
        view.target + 8000 * Vec3(flat * std::cos(azimuth), flat * std::sin(azimuth), std::sin(elevation));
    if (flat == 0) view.up = -Vec3::UnitY();  // the plan lies nose left, as the left side view does
    if (standard->orthographic) view.orthographic_height_mm = 1000;
    return fitted(view, filled, aspect);
}

View fitted(View view, const Box& box, double aspect) {
    if (box.isEmpty()) return view;
    const Eigen::Matrix3d axes = axesOf(view);
    const bool orthographic = view.orthographic_height_mm > 0;
    const Vec3 middle = axes * box.center();
    // For each direction across: how far out the eye must stand, and where between, so that every corner is
    // in.
    const double half = std::tan(view.vertical_angle_rad / 2) / kMargin, shift = view.shift();
    Vec3 eye = middle;
    double back = -1e300, tall = 0;
    for (int axis = 0; axis < 2; ++axis) {
        const double slope = orthographic ? 0 : half * (axis == 0 ? aspect : 1);
        const double lean = axis == 0 ? 0 : shift;  // a shifted lens sees as much more up as less down
        double high = -1e300, low = 1e300;
        for (int corner = 0; corner < 8; ++corner) {
            const Vec3 p = axes * box.corner(static_cast<Box::CornerType>(corner));
            high = std::max(high, p[axis] - (slope + lean) * p.z());
            low = std::min(low, p[axis] + (slope - lean) * p.z());
        }
        eye[axis] = 0.5 * (high + low);
        tall = std::max(tall, (high - low) / (axis == 0 ? aspect : 1));
        if (!orthographic) back = std::max(back, (high - low) / (2 * slope));
    }
    const double depth = box.diagonal().norm();
    eye.z() = orthographic ? middle.z() - 2 * depth - 1000 : -back;
    if (orthographic) view.orthographic_height_mm = std::max(1.0, kMargin * tall);
    eye.y() += orthographic ? 0 : shift * eye.z();
    view.eye = axes.transpose() * eye;
    const Vec3 sight = axes.row(2).transpose() + shift * axes.row(1).transpose();
    view.target = view.eye + std::max(1.0, middle.z() - eye.z()) * sight;
    return view;
}

}  // namespace hoopwright
