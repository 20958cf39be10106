#include "render/plate_mesh.h"

#include <algorithm>
#include <cmath>

#include "core/geometry/polygon.h"
#include "core/model/bolt_places.h"
#include "render/turn.h"

namespace hoopwright {
namespace {

/// Where a flat outline lies in space: (u, v, height) to a point.
struct Placement {
    Vec3 at;
    Eigen::Matrix3d axes;
    Vec3 point(const Vec2& p, double height) const { return at + axes * Vec3(p.x(), p.y(), height); }
    Vec3 direction(const Vec3& d) const { return axes * d; }
};

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

/// Between two outlines of the same number of corners, both counter-clockwise; the first lies higher.
void prism(Mesh& mesh, const Placement& place, const std::vector<Vec2>& high, double high_mm,
           const std::vector<Vec2>& low, double low_mm) {
    face(mesh, place, high, high_mm, true);
    band(mesh, place, high, high_mm, low, low_mm);
    face(mesh, place, low, low_mm, false);
}

Vec2 overEdge(PlateEdge edge) {
    if (edge == PlateEdge::ahead) return {1, 0};
    if (edge == PlateEdge::behind) return {-1, 0};
    return edge == PlateEdge::left ? Vec2(0, 1) : Vec2(0, -1);
}

/// The flat of the plate, mitred to its flaps, and the flaps: sharp corners.
void foldedPlate(Mesh& mesh, const ResolvedPlate& plate) {
    const double t = plate.thickness_mm;
    std::vector<Vec2> high = plate.outline, low = plate.outline;
    for (const PlacedFlap& flap : plate.flaps) {
        const Vec2 out = overEdge(flap.edge);
        double far = -1e300;
        for (const Vec2& p : plate.outline) far = std::max(far, p.dot(out));
        const double back = t * std::tan(std::abs(flap.angle_rad) / 2);
        std::vector<Vec2>& inner = flap.angle_rad > 0 ? high : low;
        for (std::size_t i = 0; i < inner.size(); ++i)
            if (plate.outline[i].dot(out) > far - 1e-6) inner[i] -= back * out;
        Placement place{flap.angle_rad > 0 ? flap.from : flap.to, Eigen::Matrix3d::Identity()};
        const Vec3 edge = flap.angle_rad > 0 ? Vec3(flap.to - flap.from) : Vec3(flap.from - flap.to);
        place.axes.col(0) = edge.normalized();
        place.axes.col(1) = flap.along;
        place.axes.col(2) = flap.outward;
        const double w = flap.width_mm, l = flap.length_mm;
        prism(mesh, place, {{0, 0}, {w, 0}, {w, l}, {0, l}}, 0, {{0, back}, {w, back}, {w, l}, {0, l}}, -t);
    }
    prism(mesh, {plate.at, plate.axes}, high, 0, low, -t);
}

/// A triangle of sheet with a round hole in it.
void piercedTriangle(Mesh& mesh, const Placement& place, const std::array<Vec2, 3>& corners, const Vec2& hole,
                     double radius, double top, double bottom) {
    constexpr int kSides = 48;
    std::vector<double> angles;
    for (int i = 0; i < kSides; ++i) angles.push_back(kTurn * i / kSides);
    for (const Vec2& corner : corners) {
        const double angle = std::atan2(corner.y() - hole.y(), corner.x() - hole.x());
        angles.push_back(angle < 0 ? angle + kTurn : angle);
    }
    std::sort(angles.begin(), angles.end());
    angles.erase(std::unique(angles.begin(), angles.end(), [](double a, double b) { return b - a < 1e-6; }),
                 angles.end());
    std::vector<Vec2> outer, inner;
    for (const double angle : angles) {
        const Vec2 way(std::cos(angle), std::sin(angle));
        double far = 1e300;
        for (std::size_t i = 0; i < 3; ++i) {
            const Vec2 along = corners[(i + 1) % 3] - corners[i], out(along.y(), -along.x());
            if (way.dot(out) > 1e-12) far = std::min(far, (corners[i] - hole).dot(out) / way.dot(out));
        }
        outer.push_back(hole + far * way);
        inner.push_back(hole + radius * way);
    }
    const std::size_t n = outer.size();
    for (const bool up : {true, false}) {
        const Vec3 normal = place.direction(up ? Vec3::UnitZ() : Vec3(-Vec3::UnitZ()));
        const double height = up ? top : bottom;
        for (std::size_t i = 0; i < n; ++i) {
            const std::size_t j = (i + 1) % n;
            std::array<Vec2, 4> ring = {inner[i], outer[i], outer[j], inner[j]};
            if (!up) std::swap(ring[1], ring[3]);
            const std::uint32_t first = addCorner(mesh, place.point(ring[0], height), normal);
            for (std::size_t k = 1; k < 4; ++k) addCorner(mesh, place.point(ring[k], height), normal);
            mesh.quad(first, first + 1, first + 2, first + 3);
        }
    }
    band(mesh, place, outer, top, outer, bottom);
    std::reverse(inner.begin(), inner.end());
    band(mesh, place, inner, top, inner, bottom);
}

}  // namespace

Mesh plateMesh(const ResolvedPlate& plate, const Plate* said) {
    Mesh mesh;
    if (plate.outline.size() < 3 || plate.thickness_mm <= 0) return mesh;
    const Placement place{plate.at, plate.axes};
    if (plate.flaps.empty()) {
        slab(mesh, place, plate.outline, 0, -plate.thickness_mm, std::min(1.0, 0.3 * plate.thickness_mm));
    } else {
        foldedPlate(mesh, plate);
    }
    double bottom = -plate.thickness_mm;
    if (plate.riser_height_mm > 0) {
        // A little inside, as a box welded to the plate's underside is.
        constexpr double kInside_mm = 1.5;
        slab(mesh, place, inset(plate.outline, kInside_mm), bottom, bottom - plate.riser_height_mm, 0.5);
        bottom -= plate.riser_height_mm;
    }
    if (!said) return mesh;
    if (said->fixing == Fixing::bolted) {
        // As they are drilled: laid out for the left-hand plate, turned over for the right-hand one.
        std::vector<Vec2> outline = plate.outline;
        const auto turnOver = [&](Vec2 p) { return plate.side == Side::right ? Vec2(p.x(), -p.y()) : p; };
        for (Vec2& p : outline) p = turnOver(p);
        if (plate.side == Side::right) std::reverse(outline.begin(), outline.end());
        const Expected<std::vector<Vec2>> places = boltPlaces(outline, said->bolts);
        if (places)
            for (const Vec2& at : *places) bolt(mesh, place, turnOver(at), said->bolts.diameter_mm);
    }
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

Mesh gussetMesh(const ResolvedGusset& gusset, const GussetShape& shape) {
    if (shape.between_mm <= 0 && !shape.hole) return gussetMesh(gusset);
    Mesh mesh;
    const double t = gusset.thickness_mm, half = shape.between_mm / 2;
    if (!(t > 0)) return mesh;
    const Placement place{shape.corner, shape.axes};
    const auto sheet = [&](double top, double bottom) {
        if (shape.hole)
            return piercedTriangle(mesh, place, shape.centres, *shape.hole, shape.hole_mm / 2, top, bottom);
        const std::vector<Vec2> outline(shape.centres.begin(), shape.centres.end());
        slab(mesh, place, outline, top, bottom, 0.2 * t);
    };
    if (shape.between_mm <= 0) {
        sheet(t / 2, -t / 2);
        return mesh;
    }
    sheet(half + t, half);
    sheet(-half, -half - t);
    // The strip over the open side, from the end of the first leg to the end of the second.
    const Vec3 from = shape.at(shape.centres[1]), to = shape.at(shape.centres[2]);
    Placement over{from, Eigen::Matrix3d::Identity()};
    over.axes.col(0) = (to - from).normalized();
    over.axes.col(1) = shape.axes.col(2);
    over.axes.col(2) = over.axes.col(0).cross(over.axes.col(1));
    const double open = (to - from).norm(), edge = half + t;
    slab(mesh, over, {{0, -edge}, {open, -edge}, {open, edge}, {0, edge}}, t, 0, 0.2 * t);
    return mesh;
}

}  // namespace hoopwright
