#include "core/edit/drawn_bar.h"

#include <algorithm>
#include <cmath>

#include "core/edit/cage_edits.h"
#include "core/edit/hand_grain.h"
#include "core/edit/new_bar.h"
#include "core/geometry/distance.h"

namespace hoopwright {
namespace {

constexpr double kSight_mm = 1e5, kOffCentre_mm = 1;

/// Of the car's three planes the one most square to the way.
Vec3 facing(const Vec3& way) {
    int axis = 0;
    way.cwiseAbs().maxCoeff(&axis);
    return Vec3::Unit(axis);
}

}  // namespace

DrawnPlace drawnAt(const Job& job, const CageGeometry& now, const Vec3& from, const Vec3& way,
                   double reach_mm, const std::string& car_point, std::span<const DrawnPlace> before) {
    DrawnPlace out;
    double first = kSight_mm;
    for (const ResolvedMember& member : now.members) {
        if (member.line.empty()) continue;
        const Nearest near = nearestToSegment(member.line, from, from + kSight_mm * way);
        const double depth = (near.on_b - from).dot(way);
        if (near.distance_mm > member.radius_mm() + reach_mm || depth >= first) continue;
        first = depth;
        out = {DrawnPlace::On::bar, member.id, near.on_a};
    }
    for (const ResolvedPlate& plate : now.plates) {
        const Vec3 normal = plate.axes.col(2);
        const double slope = way.dot(normal);
        if (std::abs(slope) < 1e-6) continue;
        const double depth = (plate.at - from).dot(normal) / slope;
        const Vec3 off = plate.axes.transpose() * (from + depth * way - plate.at);
        double u = 0, v = 0;
        for (const Vec2& corner : plate.outline) {
            u = std::max(u, std::abs(corner.x()));
            v = std::max(v, std::abs(corner.y()));
        }
        if (depth <= 0 || depth >= first || std::abs(off.x()) > u || std::abs(off.y()) > v) continue;
        first = depth;
        out = {DrawnPlace::On::plate, plate.id, plate.at};
    }
    if (out.on != DrawnPlace::On::nothing) return out;
    if (const CarPoint* point = job.car.point(car_point))
        return {DrawnPlace::On::car_point, car_point, point->at};
    const Vec3 normal = facing(way);
    Vec3 through = Vec3::Zero();
    if (!before.empty()) {
        through = before.back().at;
    } else if (normal.z() > 0 && !now.plates.empty()) {
        through.z() = std::ranges::min_element(now.plates, {}, [](const ResolvedPlate& plate) {
                          return plate.at.z();
                      })->at.z();
    }
    out.at =
        toGrain(from + (through - from).dot(normal) / way.dot(normal) * way, handGrain_mm(job.cage.unit));
    return out;
}

Member drawnBar(const Job& job, const CageGeometry& now, const std::string& role,
                std::span<const DrawnPlace> places) {
    Member bar = newBar(job, now, role, {});
    const auto off = [&](double sign) {
        return std::ranges::any_of(places,
                                   [&](const DrawnPlace& one) { return sign * one.at.y() > kOffCentre_mm; });
    };
    bar.mirrored = off(1) && !off(-1);
    bar.path.clear();
    const double grain = handGrain_mm(job.cage.unit);
    for (const DrawnPlace& place : places) {
        MemberPoint point;
        const bool is_end = &place == &places.front() || &place == &places.back();
        if (place.on == DrawnPlace::On::bar && is_end) {
            point.place = landingNear(now, place.id, place.at, bar.mirrored, grain);
        } else if (place.on == DrawnPlace::On::plate && is_end) {
            const bool own = bar.mirrored && sideOf(place.id) == Side::left;
            point.place = OnPlate{own ? layoutId(place.id) : place.id, Vec2::Zero()};
        } else if (place.on == DrawnPlace::On::car_point) {
            point.place = AtCarPoint{place.id, Vec3::Zero()};
        } else {
            point.place = FixedPoint{toGrain(place.at, grain)};
        }
        bar.path.push_back(std::move(point));
    }
    return bar;
}

}  // namespace hoopwright
