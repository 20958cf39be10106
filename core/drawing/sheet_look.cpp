#include "core/drawing/sheet_look.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "core/geometry/polygon.h"
#include "core/solid/plate_solid.h"

namespace hoopwright {
namespace {

constexpr double kSmooth = 0.985;  // cosine of 10 degrees
constexpr double kSlit_mm = 1e-3;  // by which a hole is opened to its face's edge, to be filled as one ring
constexpr double kRoundStep_rad = std::numbers::pi / 24;

/// From one end of an edge to the other. @pre straight or an arc
std::vector<Vec3> alongEdge(const SolidBody& solid, const SolidEdge& edge) {
    const Vec3 &from = solid.corners[static_cast<std::size_t>(edge.from)],
               &to = solid.corners[static_cast<std::size_t>(edge.to)];
    const auto* arc = std::get_if<CircleEdge>(&edge.curve);
    if (!arc) return {from, to};
    const Vec3 side = arc->axis.cross(arc->towards);
    double turn = std::atan2((to - arc->centre).dot(side), (to - arc->centre).dot(arc->towards));
    if (turn < 1e-9) turn += 2 * std::numbers::pi;
    const int steps = std::max(2, static_cast<int>(std::ceil(turn / kRoundStep_rad)));
    std::vector<Vec3> points;
    for (int i = 0; i <= steps; ++i) {
        const double at = turn * i / steps;
        points.emplace_back(arc->centre +
                            arc->radius_mm * (std::cos(at) * arc->towards + std::sin(at) * side));
    }
    return points;
}

std::vector<Vec3> ringOf(const SolidBody& solid, const EdgeLoop& loop) {
    std::vector<Vec3> ring;
    for (const EdgeUse& use : loop) {
        std::vector<Vec3> points = alongEdge(solid, solid.edges[static_cast<std::size_t>(use.edge)]);
        if (!use.forward) std::ranges::reverse(points);
        ring.insert(ring.end(), points.begin(), points.end() - 1);
    }
    return ring;
}

/// The way out of the solid there.
Vec3 normalAt(const SolidFace& face, const Vec3& p) {
    const double sign = face.along_normal ? 1 : -1;
    if (const auto* plane = std::get_if<PlaneSurface>(&face.surface)) return sign * plane->normal;
    const CylinderSurface& round = std::get<CylinderSurface>(face.surface);
    const Vec3 from = p - round.at;
    return sign * (from - from.dot(round.axis) * round.axis).normalized();
}

/// A face's ring that runs in and round a hole and back out.
std::vector<Vec3> slitTo(std::vector<Vec3> ring, const std::vector<Vec3>& hole, const Vec3& normal) {
    std::size_t a = 0, h = 0;
    double least = 1e300;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        for (std::size_t k = 0; k < hole.size(); ++k) {
            const double far = (ring[i] - hole[k]).squaredNorm();
            if (far < least) least = far, a = i, h = k;
        }
    }
    std::vector<Vec3> out(ring.begin(), ring.begin() + static_cast<std::ptrdiff_t>(a) + 1);
    for (std::size_t k = 0; k < hole.size(); ++k) out.push_back(hole[(h + k) % hole.size()]);
    // The ring goes on to the right of the way in.
    const Vec3 aside = kSlit_mm * (hole[h] - ring[a]).cross(normal).normalized();
    out.emplace_back(hole[h] + aside);
    out.emplace_back(ring[a] + aside);
    out.insert(out.end(), ring.begin() + static_cast<std::ptrdiff_t>(a) + 1, ring.end());
    return out;
}

void fill(SheetLook& look, const SolidBody& solid, const SolidFace& face) {
    std::vector<Vec3> ring = ringOf(solid, face.loops.front());
    if (std::holds_alternative<CylinderSurface>(face.surface)) {
        // The wall of a hole: as many points along one arc as back along the other.
        const std::size_t n = ring.size(), half = n / 2;
        for (std::size_t i = 0; i + 1 < half; ++i) {
            const Vec3 &a = ring[i], &b = ring[i + 1], &c = ring[n - 1 - i], &d = ring[n - 2 - i];
            look.triangles.push_back({a, b, c});
            look.triangles.push_back({b, d, c});
        }
        return;
    }
    for (std::size_t k = 1; k < face.loops.size(); ++k)
        ring = slitTo(std::move(ring), ringOf(solid, face.loops[k]), normalAt(face, ring[0]));
    const FilledRing filled = fillRing(ring);
    for (std::size_t i = 0; i + 2 < filled.triangles.size(); i += 3)
        look.triangles.push_back(
            {ring[filled.triangles[i]], ring[filled.triangles[i + 1]], ring[filled.triangles[i + 2]]});
}

void add(SheetLook& look, const SolidBody& solid) {
    std::vector<std::vector<const SolidFace*>> beside(solid.edges.size());
    for (const SolidFace& face : solid.faces) {
        fill(look, solid, face);
        for (const EdgeLoop& loop : face.loops)
            for (const EdgeUse& use : loop) beside[static_cast<std::size_t>(use.edge)].push_back(&face);
    }
    for (std::size_t e = 0; e < solid.edges.size(); ++e) {
        if (beside[e].size() != 2) continue;
        SheetLine line;
        line.points = alongEdge(solid, solid.edges[e]);
        const Vec3& first = line.points.front();
        if (normalAt(*beside[e][0], first).dot(normalAt(*beside[e][1], first)) > kSmooth) continue;
        for (const Vec3& p : line.points)
            line.out.emplace_back(normalAt(*beside[e][0], p) + normalAt(*beside[e][1], p));
        look.lines.push_back(std::move(line));
    }
}

}  // namespace

SheetLook lookOf(const ResolvedPlate& plate) {
    SheetLook look;
    if (plate.outline.size() < 3 || !(plate.thickness_mm > 0)) return look;
    add(look, plateSolid(plate));
    if (const auto riser = riserSolid(plate)) add(look, *riser);
    if (const auto backing = backingSolid(plate)) add(look, *backing);
    return look;
}

SheetLook lookOf(const CageGeometry& cage, const ResolvedGusset& gusset) {
    SheetLook look;
    const GussetShape shape = gussetShape(cage, gusset);
    if (shape.volume_mm3 > 0) add(look, gussetSolid(shape, gusset.thickness_mm));
    return look;
}

}  // namespace hoopwright
