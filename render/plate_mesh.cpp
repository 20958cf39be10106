#include "render/plate_mesh.h"

#include <algorithm>
#include <cmath>

#include "core/geometry/polygon.h"

namespace hoopwright {
namespace {

constexpr double kTurn = 6.283185307179586;

/// Where a flat outline lies in space: (u, v, height) to a point.
struct Placement {
    Vec3 at;
    Eigen::Matrix3d axes;
    Vec3 point(const Vec2& p, double height) const { return at + axes * Vec3(p.x(), p.y(), height); }
    Vec3 direction(const Vec3& d) const { return axes * d; }
};

std::uint32_t addCorner(Mesh& mesh, const Vec3& at, const Vec3& normal, double light = 1) {
    MeshCorner corner;
    corner.at = at.cast<float>();
    corner.normal = normal.cast<float>();
    corner.light = static_cast<float>(light);
    return mesh.add(corner);
}

/// The outline moved inward by `by`, corner by corner (mitred).
std::vector<Vec2> inset(const std::vector<Vec2>& outline, double by) {
    const std::size_t n = outline.size();
    std::vector<Vec2> moved(n);
    for (std::size_t i = 0; i < n; ++i) {
        const Vec2 before = (outline[i] - outline[(i + n - 1) % n]).normalized();
        const Vec2 after = (outline[(i + 1) % n] - outline[i]).normalized();
        const Vec2 in_before(-before.y(), before.x()), in_after(-after.y(), after.x());
        const double share = std::max(0.3, 1 + in_before.dot(in_after));
        moved[i] = outline[i] + by * (in_before + in_after) / share;
    }
    return moved;
}

void face(Mesh& mesh, const Placement& place, const std::vector<Vec2>& outline, double height, bool up) {
    const auto base = static_cast<std::uint32_t>(mesh.corners.size());
    const Vec3 normal = place.direction(up ? Vec3::UnitZ() : Vec3(-Vec3::UnitZ()));
    for (const Vec2& p : outline) addCorner(mesh, place.point(p, height), normal);
    const std::vector<std::uint32_t> fill = fillPolygon(outline);
    for (std::size_t i = 0; i + 2 < fill.size(); i += 3) {
        if (up)
            mesh.triangle(base + fill[i], base + fill[i + 1], base + fill[i + 2]);
        else
            mesh.triangle(base + fill[i], base + fill[i + 2], base + fill[i + 1]);
    }
}

/// A band of flat facets between two outlines of the same number of corners; the first lies higher.
void band(Mesh& mesh, const Placement& place, const std::vector<Vec2>& high, double high_mm,
          const std::vector<Vec2>& low, double low_mm, bool smooth = false) {
    const std::size_t n = high.size();
    for (std::size_t i = 0; i < n; ++i) {
        const std::size_t j = (i + 1) % n;
        const Vec3 a = place.point(low[i], low_mm), b = place.point(low[j], low_mm),
                   c = place.point(high[j], high_mm), d = place.point(high[i], high_mm);
        const Vec3 cross = (b - a).cross(d - a);
        if (cross.squaredNorm() < 1e-12) continue;
        Vec3 left = cross.normalized(), right = left;
        if (smooth) {
            left = place.direction({low[i].x(), low[i].y(), 0}).normalized();
            right = place.direction({low[j].x(), low[j].y(), 0}).normalized();
        }
        const std::uint32_t first = addCorner(mesh, a, left);
        addCorner(mesh, b, right);
        addCorner(mesh, c, right);
        addCorner(mesh, d, left);
        mesh.quad(first, first + 1, first + 2, first + 3);
    }
}

/// A slab from `top` down to `bottom` with its upper edge broken by `chamfer`.
void slab(Mesh& mesh, const Placement& place, const std::vector<Vec2>& outline, double top, double bottom,
          double chamfer) {
    const std::vector<Vec2> inner = inset(outline, chamfer);
    face(mesh, place, inner, top, true);
    band(mesh, place, inner, top, outline, top - chamfer);
    band(mesh, place, outline, top - chamfer, outline, bottom);
    face(mesh, place, outline, bottom, false);
}

std::vector<Vec2> ringOutline(int sides, double radius, double turn = 0) {
    std::vector<Vec2> ring;
    for (int i = 0; i < sides; ++i) {
        const double angle = turn + kTurn * i / sides;
        ring.push_back(radius * Vec2(std::cos(angle), std::sin(angle)));
    }
    return ring;
}

/// Washer, hexagon head (across flats 1.7 d, height 0.65 d: about ISO 4017) and its chamfer, standing on the
/// face.
void bolt(Mesh& mesh, const Placement& plate, const Vec2& at, double diameter) {
    const Placement place{plate.point(at, 0), plate.axes};
    const std::vector<Vec2> washer = ringOutline(24, 1.05 * diameter);
    const double washer_top = 0.18 * diameter, head_top = washer_top + 0.65 * diameter;
    band(mesh, place, washer, washer_top, washer, 0, true);
    face(mesh, place, washer, washer_top, true);
    const std::vector<Vec2> head = ringOutline(6, 0.98 * diameter, 0.3);
    slab(mesh, place, head, head_top, washer_top, 0.12 * diameter);
}

/// Bolts stand on a line inside the plate's edge, evenly spaced from a corner on.
std::vector<Vec2> boltPlaces(const std::vector<Vec2>& outline, const Bolts& bolts) {
    const std::vector<Vec2> line = inset(outline, 1.9 * bolts.diameter_mm);
    std::vector<Vec2> places;
    const auto n = static_cast<int>(line.size());
    const bool on_corners = bolts.count % n == 0 || bolts.count < n;
    double length = 0;
    for (int i = 0; i < n; ++i)
        length += (line[static_cast<std::size_t>((i + 1) % n)] - line[static_cast<std::size_t>(i)]).norm();
    for (int b = 0; b < bolts.count; ++b) {
        double share = static_cast<double>(b) * n / bolts.count;  // in edges
        if (!on_corners) share = -1;
        if (share >= 0) {
            const auto edge = static_cast<std::size_t>(share);
            const double t = share - static_cast<double>(edge);
            places.push_back((1 - t) * line[edge % line.size()] + t * line[(edge + 1) % line.size()]);
            continue;
        }
        double run = length * b / bolts.count;
        for (std::size_t i = 0; i < line.size(); ++i) {
            const Vec2 step = line[(i + 1) % line.size()] - line[i];
            if (run <= step.norm()) {
                places.push_back(line[i] + run * step.normalized());
                break;
            }
            run -= step.norm();
        }
    }
    return places;
}

}  // namespace

Mesh plateMesh(const ResolvedPlate& plate, const Plate* said) {
    Mesh mesh;
    if (plate.outline.size() < 3 || plate.thickness_mm <= 0) return mesh;
    const Placement place{plate.at, plate.axes};
    slab(mesh, place, plate.outline, 0, -plate.thickness_mm, std::min(1.0, 0.3 * plate.thickness_mm));
    double bottom = -plate.thickness_mm;
    if (plate.riser_height_mm > 0) {
        // A little inside, as a box welded to the plate's underside is.
        constexpr double kInside_mm = 1.5;
        slab(mesh, place, inset(plate.outline, kInside_mm), bottom, bottom - plate.riser_height_mm, 0.5);
        bottom -= plate.riser_height_mm;
    }
    if (!said) return mesh;
    if (said->fixing == Fixing::bolted && said->bolts.count > 0 && said->bolts.diameter_mm > 0)
        for (const Vec2& at : boltPlaces(plate.outline, said->bolts))
            bolt(mesh, place, at, said->bolts.diameter_mm);
    if (said->backing && said->backing->thickness_mm > 0) {
        constexpr double kFloor_mm = 1.5;  // the sheet between the two plates
        const Vec2 half = 0.5 * Vec2(said->backing->length_mm, said->backing->width_mm);
        const std::vector<Vec2> outline = {
            {-half.x(), -half.y()}, {half.x(), -half.y()}, half, {-half.x(), half.y()}};
        const double top = bottom - kFloor_mm;
        slab(mesh, place, outline, top, top - said->backing->thickness_mm, 0.5);
    }
    return mesh;
}

Mesh gussetMesh(const ResolvedGusset& gusset) {
    Mesh mesh;
    const Vec3 a = gusset.corners[1] - gusset.corners[0], b = gusset.corners[2] - gusset.corners[0];
    const Vec3 normal = a.cross(b);
    if (normal.squaredNorm() < 1e-12 || gusset.thickness_mm <= 0) return mesh;
    Placement place{gusset.corners[0], Eigen::Matrix3d::Identity()};
    place.axes.col(0) = a.normalized();
    place.axes.col(2) = normal.normalized();
    place.axes.col(1) = place.axes.col(2).cross(place.axes.col(0));
    const auto flat = [&](const Vec3& p) { return Vec2(place.axes.col(0).dot(p), place.axes.col(1).dot(p)); };
    const std::vector<Vec2> outline = {Vec2::Zero(), flat(a), flat(b)};
    slab(mesh, place, outline, gusset.thickness_mm / 2, -gusset.thickness_mm / 2, 0.2 * gusset.thickness_mm);
    return mesh;
}

}  // namespace hoopwright
