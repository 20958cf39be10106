#include "render/pick.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

namespace hoopwright {
namespace {

constexpr double kNever = std::numeric_limits<double>::infinity();
constexpr double kClose_mm = 1e-6;

struct Ray {
    Vec3 origin, direction;        // unit
    double from = 0, to = kNever;  // what of it counts
    Vec3 at(double t) const { return origin + t * direction; }
    bool counts(double t) const { return t >= from && t <= to; }
};

/// Where the ray is inside the box.
std::optional<std::pair<double, double>> within(const Ray& ray, const Box& box) {
    double from = ray.from, to = ray.to;
    for (int i = 0; i < 3; ++i) {
        if (std::abs(ray.direction[i]) < 1e-15) {
            if (ray.origin[i] < box.min()[i] || ray.origin[i] > box.max()[i]) return std::nullopt;
            continue;
        }
        double a = (box.min()[i] - ray.origin[i]) / ray.direction[i],
               b = (box.max()[i] - ray.origin[i]) / ray.direction[i];
        if (a > b) std::swap(a, b);
        from = std::max(from, a);
        to = std::min(to, b);
    }
    if (from > to) return std::nullopt;
    return std::pair{from, to};
}

double distanceTo(const Piece& piece, const Vec3& p) {
    if (piece.kind == Piece::Kind::straight) {
        const double along = std::clamp((p - piece.start).dot(piece.tangent), 0.0, piece.length_mm);
        return (p - piece.start - along * piece.tangent).norm();
    }
    const Vec3 u = (piece.start - piece.centre) / piece.radius_mm, v = piece.axis.cross(u),
               arm = p - piece.centre;
    const double x = arm.dot(u), y = arm.dot(v), angle = std::atan2(y, x);
    if (angle >= 0 && angle <= piece.angle_rad)
        return std::hypot(std::hypot(x, y) - piece.radius_mm, arm.dot(piece.axis));
    return std::min((p - piece.start).norm(), (p - piece.end()).norm());
}

/// Steps along the ray by the distance to the skin: never past it, and as near to it as wanted.
double meets(const Ray& ray, const Piece& piece, double radius, double nearest) {
    Box box = piece.bounds();
    box.min() -= Vec3::Constant(radius);
    box.max() += Vec3::Constant(radius);
    const auto inside = within(ray, box);
    if (!inside || inside->first > nearest) return kNever;
    double t = inside->first;
    for (int step = 0; step < 4000 && t <= inside->second; ++step) {
        const double gap = distanceTo(piece, ray.at(t)) - radius;
        if (gap < kClose_mm) return t;
        t += gap;
    }
    return kNever;
}

bool insideOutline(const std::vector<Vec2>& outline, const Vec2& p) {
    bool inside = false;
    for (std::size_t i = 0, j = outline.size() - 1; i < outline.size(); j = i++) {
        const Vec2 &a = outline[i], &b = outline[j];
        if ((a.y() > p.y()) != (b.y() > p.y()) &&
            p.x() < a.x() + (p.y() - a.y()) / (b.y() - a.y()) * (b.x() - a.x()))
            inside = !inside;
    }
    return inside;
}

double meets(const Ray& ray, const ResolvedPlate& plate) {
    if (plate.outline.size() < 3) return kNever;
    const Vec3 o = plate.axes.transpose() * (ray.origin - plate.at),
               d = plate.axes.transpose() * ray.direction;
    double nearest = kNever;
    for (const double height : {0.0, -plate.thickness_mm}) {
        if (std::abs(d.z()) < 1e-15) break;
        const double t = (height - o.z()) / d.z();
        const Vec3 p = o + t * d;
        if (ray.counts(t) && insideOutline(plate.outline, {p.x(), p.y()})) nearest = std::min(nearest, t);
    }
    for (std::size_t i = 0; i < plate.outline.size(); ++i) {
        const Vec2 &a = plate.outline[i], side = plate.outline[(i + 1) % plate.outline.size()] - a;
        const Vec2 out(side.y(), -side.x());
        const double speed = out.x() * d.x() + out.y() * d.y();
        if (std::abs(speed) < 1e-15) continue;
        const double t = (out.x() * (a.x() - o.x()) + out.y() * (a.y() - o.y())) / speed;
        const Vec3 p = o + t * d;
        const double share = (Vec2(p.x(), p.y()) - a).dot(side) / side.squaredNorm();
        if (ray.counts(t) && share >= 0 && share <= 1 && p.z() <= 0 && p.z() >= -plate.thickness_mm)
            nearest = std::min(nearest, t);
    }
    return nearest;
}

/// Only what the section keeps counts; false if nothing of the ray is left.
bool keepTo(const SectionCut& cut, Ray& ray) {
    const Vec3 out = cut.outward();
    const double over = out.dot(ray.origin) - (cut.keep_high ? -cut.at_mm : cut.at_mm);
    const double speed = out.dot(ray.direction);
    if (std::abs(speed) < 1e-15) return over <= 0;
    const double there = -over / speed;
    if (speed < 0) {
        ray.from = std::max(ray.from, there);
    } else {
        ray.to = std::min(ray.to, there);
    }
    return ray.from <= ray.to;
}

}  // namespace

Picked pick(const CageGeometry& cage, const Vec3& origin, const Vec3& direction, double slack_mm,
            const SceneLook* look) {
    Ray ray{origin, direction.normalized()};
    Picked picked;
    if (look && look->section && !keepTo(*look->section, ray)) return picked;
    double nearest = kNever;
    for (std::size_t i = 0; i < cage.members.size(); ++i) {
        const ResolvedMember& member = cage.members[i];
        if (member.radius_mm() <= 0 || (look && !look->shows(member.id))) continue;
        for (const Piece& piece : member.line.pieces()) {
            const double t = meets(ray, piece, member.radius_mm() + slack_mm, nearest);
            if (t >= nearest) continue;
            nearest = t;
            picked.member = static_cast<int>(i);
        }
    }
    for (std::size_t i = 0; i < cage.plates.size() && (!look || look->show_plates); ++i) {
        if (look && !look->shows(cage.plates[i].id)) continue;
        const double t = meets(ray, cage.plates[i]);
        if (t >= nearest) continue;
        nearest = t;
        picked.member = -1;
        picked.plate = static_cast<int>(i);
    }
    if (!picked) return picked;
    picked.at = ray.at(nearest);
    if (picked.member >= 0)
        picked.station_mm =
            cage.members[static_cast<std::size_t>(picked.member)].line.nearestStation(picked.at);
    return picked;
}

}  // namespace hoopwright
