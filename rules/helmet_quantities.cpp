// Bars above, behind and ahead of the head.
#include <algorithm>
#include <cmath>

#include "core/driver/clearance.h"
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

Vec3 wayOf(Direction direction) {
    switch (direction) {
        case Direction::back:
            return -Vec3::UnitX();
        case Direction::ahead:
            return Vec3::UnitX();
        case Direction::left:
            return Vec3::UnitY();
        case Direction::right:
            return -Vec3::UnitY();
        case Direction::up:
            break;
    }
    return Vec3::UnitZ();
}

/// A way that is free leads to no bar: there is nothing to measure.
Measured helmetTravel(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const std::vector<int> bars = run.members(with.members, what);
    if (bars.empty()) return Measured::unknown(run.noMember(with.members));
    const Vec3 way = wayOf(with.direction);
    const Travel far = travel(run.scene().driver(what).helmet.ellipsoid(), run.scene().cage(), bars, way);
    const int member = with.padded ? far.padded_member : far.member;
    if (member < 0) return Measured::leftOut();
    const double distance = with.padded ? far.padded_mm : far.bare_mm;
    Measured out = Measured::number(distance);
    if (!show) return out;
    Shown shown = shownLine(far.on_person, far.on_person + std::max(0.0, distance) * way);
    shown.members.push_back(member);
    return std::move(out).with(std::move(shown));
}

Measured backAngle(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const Driver& driver = run.scene().driver(what);
    Measured out = Measured::number(driver.back_angle_rad);
    if (!show) return out;
    const double length = (driver.shoulders() - driver.hip).norm(), back = driver.back_angle_rad;
    return std::move(out).with(shownAngle(driver.hip,
                                          driver.hip + length * Vec3(-std::sin(back), 0, std::cos(back)),
                                          driver.hip + length * Vec3::UnitZ()));
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
        {{"helmet_travel", L, "driver",
          "How far the helmet can go one way before it meets a bar, bare or padded.",
          "a driver, a bar that way"},
         d,
         num,
         only(Arg::direction),
         Arg::members | Arg::padded,
         helmetTravel,
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
