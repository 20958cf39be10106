// Bars above, behind and ahead of the head.
#include <algorithm>
#include <cmath>

#include "core/geometry/distance.h"
#include "rules/measuring.h"

namespace hoopwright {
namespace {

Measured barAboveHelmet(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const Vec3 crown = run.scene().driver(what).helmet.ellipsoid().support(Vec3::UnitZ());
    double highest = -1e300;
    int which = -1;
    for (int i : run.members(with.members, what)) {
        const ResolvedMember& m = run.scene().member(i);
        if (m.line.empty()) continue;
        const double top = -tubeOverPlane_mm(m.line, m.radius_mm(), Vec3::Zero(), -Vec3::UnitZ());
        if (top <= highest) continue;
        highest = top;
        which = i;
    }
    if (which < 0) return Measured::unknown(run.noMember(with.members));
    Measured out = Measured::number(highest - crown.z());
    if (!show) return out;
    Shown shown = shownLine(crown, {crown.x(), crown.y(), highest});
    shown.members.push_back(which);
    return std::move(out).with(std::move(shown));
}

/// The nearest face, front or rear, of the bars where they pass the helmet's middle height.
struct Face {
    double x = 0;
    Vec3 at = Vec3::Zero();
    int member = -1;
};
std::optional<Face> faceAtHelmet(const TableRun& run, const Subject& what, const Arguments& with,
                                 double way) {
    const Vec3 centre = run.scene().driver(what).helmet.centre;
    std::optional<Face> out;
    for (int i : run.members(with.members, what)) {
        const ResolvedMember& m = run.scene().member(i);
        if (m.line.empty()) continue;
        for (double station : m.line.crossings(centre, Vec3::UnitZ())) {
            const Vec3 p = m.line.point(station);
            const double x = p.x() + way * levelHalfWidth_x(m.radius_mm(), m.line.tangent(station));
            if (!out || x > out->x) out = Face{x, {x, p.y(), p.z()}, i};
        }
    }
    return out;
}

Measured toFace(const TableRun& run, const Subject& what, const Arguments& with, bool show, double way) {
    const Vec3 back = run.scene().driver(what).helmet.ellipsoid().support(-Vec3::UnitX());
    const std::optional<Face> face = faceAtHelmet(run, what, with, way);
    if (!face) {
        const bool none = run.members(with.members, what).empty();
        return Measured::unknown(none ? run.noMember(with.members)
                                      : "the bars do not pass the height of the helmet");
    }
    Measured out = Measured::number(back.x() - face->x);
    if (!show) return out;
    Shown shown = shownLine(back, {face->x, back.y(), back.z()});
    shown.shapes.push_back(ShownPoint{face->at});
    shown.members.push_back(face->member);
    return std::move(out).with(std::move(shown));
}

Measured barBehindHelmet(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    return toFace(run, what, with, show, 1);
}
Measured helmetAheadOfRearFace(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    return toFace(run, what, with, show, -1);
}

Measured backAngle(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const Driver& driver = run.scene().driver(what);
    Measured out = Measured::number(driver.back_angle_rad);
    if (!show) return out;
    const double length = (driver.shoulders() - driver.hip).norm();
    return std::move(out).with(
        shownAngle(driver.hip, driver.shoulders(), driver.hip + length * Vec3::UnitZ()));
}

}  // namespace

std::vector<Quantity> helmetQuantities() {
    constexpr auto d = SubjectKind::driver;
    constexpr auto num = ValueKind::number;
    const auto L = Dimension::length;
    const ArgSet bars = only(Arg::members);
    return {
        {{"bar_above_helmet", L, "driver", "Top of the highest of these bars over the top of the helmet.",
          "a driver, such a bar"},
         d,
         num,
         bars,
         0,
         barAboveHelmet,
         {}},
        {{"bar_behind_helmet", L, "driver",
          "From the back of the helmet to the front of the bar, at the helmet's height.",
          "a driver, such a bar at that height"},
         d,
         num,
         bars,
         0,
         barBehindHelmet,
         {}},
        {{"helmet_ahead_of_rear_face", L, "driver",
          "From the rear of the bar forward to the back of the helmet, at the helmet's height.",
          "a driver, such a bar at that height"},
         d,
         num,
         bars,
         0,
         helmetAheadOfRearFace,
         {}},
        {{"back_angle", Dimension::angle, "driver", "Of the back from vertical, reclined positive.",
          "a driver"},
         d,
         num,
         0,
         0,
         backAngle,
         {}},
    };
}

}  // namespace hoopwright
