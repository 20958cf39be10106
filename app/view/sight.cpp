#include "app/view/sight.h"

#include <algorithm>
#include <array>

namespace hoopwright {
namespace {

Box boundsOf(const CageGeometry& cage) {
    Box box;
    for (const auto& member : cage.members)
        if (!member.line.empty()) box.extend(member.line.bounds());
    return box;
}

/// The cage, and three quarters of the way out to the whole; nearly all of the way in a picture that is not
/// wide, which would cut the car off at its ends.
Box nearAbout(const Box& cage, const Box& whole, double aspect) {
    constexpr double kOut = 0.75, kWide = 1.6;
    if (cage.isEmpty() || whole.isEmpty()) return whole;
    const double out = std::clamp(kOut + 0.6 * (kWide - aspect), kOut, 1.0);
    return {cage.min() + out * (whole.min() - cage.min()), cage.max() + out * (whole.max() - cage.max())};
}

View throughTheEyesOf(const Driver& driver) {
    View view;
    // Just outside the visor, or the helmet would be all there is to see.
    view.eye = driver.eye + Vec3::UnitX() * std::max(60.0, driver.helmet.length_mm / 2);
    view.target = view.eye + Vec3(1500, 0, -360);  // over the dash, hands in sight
    view.vertical_angle_rad = 1.15;
    return view;
}

}  // namespace

View viewNamed(std::string_view name, const Job& job, const CageGeometry& cage, const Box& bounds,
               double aspect, bool upright) {
    if (name == "driver" && !job.drivers.empty()) {
        View eyes = throughTheEyesOf(job.drivers.front());
        eyes.upright = upright;
        return eyes;
    }
    const bool near = name == "three_quarter" || name == "three_quarter_rear";
    const Box box = near ? nearAbout(boundsOf(cage), bounds, aspect) : bounds;
    View view = standardView(name, box, aspect);
    view.upright = upright;
    return view.isUpright() && !box.isEmpty() && name != "driver" ? fitted(view, box, aspect) : view;
}

// Closest points of two segments by clamping one parameter and solving for the other.
// Source: C. Ericson, Real-Time Collision Detection (2005), section 5.1.9 (from memory).
double segmentDistance_mm(const Vec3& a, const Vec3& b, const Vec3& c, const Vec3& d) {
    const Vec3 u = b - a, v = d - c, w = a - c;
    const double uu = u.dot(u), vv = v.dot(v), uv = u.dot(v), uw = u.dot(w), vw = v.dot(w);
    const double cross = uu * vv - uv * uv;
    double s = cross > 1e-12 * uu * vv ? std::clamp((uv * vw - vv * uw) / cross, 0.0, 1.0) : 0.0;
    double t = vv > 0 ? (uv * s + vw) / vv : 0;
    if (vv <= 0 || t < 0 || t > 1) {
        t = std::clamp(t, 0.0, 1.0);
        s = uu > 0 ? std::clamp((uv * t - uw) / uu, 0.0, 1.0) : 0;
    }
    return (w + s * u - t * v).norm();
}

bool hiddenByDriver(const Driver& driver, const Vec3& from, const Vec3& to) {
    struct Part {
        Vec3 a, b;
        double radius_mm;
    };
    const std::array parts{Part{driver.hip, driver.shoulders(), 130},
                           Part{driver.shoulder_left, driver.shoulder_right, 65},
                           Part{driver.shoulder_left, driver.elbow_left, 50},
                           Part{driver.shoulder_right, driver.elbow_right, 50},
                           Part{driver.elbow_left, driver.hand_left, 42},
                           Part{driver.elbow_right, driver.hand_right, 42},
                           Part{driver.hip, driver.knee_left, 75},
                           Part{driver.hip, driver.knee_right, 75},
                           Part{driver.knee_left, driver.heel_left, 55},
                           Part{driver.knee_right, driver.heel_right, 55}};
    const auto between = [&](const Part& part) {
        return segmentDistance_mm(from, to, part.a, part.b) < part.radius_mm;
    };
    if (std::any_of(parts.begin(), parts.end(), between)) return true;
    const Helmet& helmet = driver.helmet;
    if (helmet.length_mm <= 0 || helmet.width_mm <= 0 || helmet.height_mm <= 0) return false;
    return nearestToSegment(helmet.ellipsoid(), from, to).distance_mm < 0;
}

}  // namespace hoopwright
