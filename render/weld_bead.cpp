#include "render/weld_bead.h"

#include <algorithm>
#include <cmath>

#include "render/turn.h"

namespace hoopwright {
namespace {

constexpr int kAcross = 5;       // steps from the tube's skin to the host
constexpr double kCrown = 0.22;  // how far a bead stands proud of the flat fillet, in legs
constexpr double kSunk = 0.12;   // how far its toes dip into the metal, so that no gap shows

struct EdgePoint {
    Vec3 at, out, inward;  // on the outer edge; radial; along the tube away from the host
    bool missed = false;
};

std::vector<EdgePoint> edgeOf(const TubeSweep& sweep, double radius, const TubeCut& cut, int end) {
    std::vector<EdgePoint> edge;
    const auto sides = cut.outer_mm.size();
    for (std::size_t k = 0; k < sides; ++k) {
        const double station = end == 0 ? cut.outer_mm[k] : sweep.length_mm() - cut.outer_mm[k];
        const SweepFrame frame = sweep.frame(station);
        const double angle = kTurn * static_cast<double>(k) / static_cast<double>(sides);
        const Vec3 out = std::cos(angle) * frame.u + std::sin(angle) * frame.v;
        edge.push_back(
            {frame.at + radius * out, out, end == 0 ? frame.along : Vec3(-frame.along), cut.missed[k]});
    }
    return edge;
}

/// The bead's cross-section at one point of the edge, from the toe on the tube to the toe on the host.
void addSection(Mesh& mesh, const EdgePoint& p, const Vec3& tangent, const HostSurface& host, double leg,
                double run) {
    Vec3 on_host = host.normal.cross(tangent);
    if (on_host.dot(p.out) < 0) on_host = -on_host;
    if (on_host.squaredNorm() < 1e-12) on_host = p.out;
    on_host.normalize();
    const Vec3 crown = (p.inward + on_host + 0.6 * (p.out + host.normal)).normalized();
    for (int j = 0; j <= kAcross; ++j) {
        const double t = static_cast<double>(j) / kAcross;
        const double hump = 4 * t * (1 - t);
        const Vec3 sink = -kSunk * leg * (1 - hump) * ((1 - t) * p.out + t * host.normal);
        MeshCorner corner;
        corner.at =
            (p.at + leg * ((1 - t) * p.inward + t * on_host + kCrown * hump * crown) + sink).cast<float>();
        corner.normal = ((1 - t) * p.out + t * host.normal + 0.5 * hump * crown).normalized().cast<float>();
        corner.light = static_cast<float>(0.62 + 0.18 * hump);
        corner.weld_mm = 0;
        corner.around = static_cast<float>(run);
        mesh.add(corner);
    }
}

}  // namespace

Mesh weldBead(const TubeSweep& sweep, double tube_radius_mm, const TubeCut& cut, int end,
              const HostSurfaces& host, double leg_mm) {
    Mesh mesh;
    if (!cut.welded) return mesh;
    const std::vector<EdgePoint> edge = edgeOf(sweep, tube_radius_mm, cut, end);
    const std::size_t n = edge.size();
    double run = 0;
    for (std::size_t i = 0; i <= n; ++i) {
        const EdgePoint& p = edge[i % n];
        const Vec3 tangent = (edge[(i + 1) % n].at - edge[(i + n - 1) % n].at).normalized();
        if (i > 0) run += (p.at - edge[i - 1].at).norm();
        addSection(mesh, p, tangent, host(p.at), leg_mm, run);
    }
    constexpr std::uint32_t kRow = kAcross + 1;
    // Round the tube at its first end x down to the host points into the metal; at the last end it points
    // out.
    for (std::uint32_t i = 0; i < n; ++i) {
        if (edge[i].missed || edge[(i + 1) % n].missed) continue;
        for (std::uint32_t j = 0; j + 1 < kRow; ++j) {
            const std::uint32_t a = i * kRow + j, b = a + kRow;
            if (end == 0)
                mesh.quad(a, a + 1, b + 1, b);
            else
                mesh.quad(a, b, b + 1, a + 1);
        }
    }
    return mesh;
}

}  // namespace hoopwright
