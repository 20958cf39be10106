#include "render/ribbon.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "render/turn.h"

namespace hoopwright {
namespace {

Vec3 direction(const std::vector<Vec3>& points, std::size_t i, bool closed) {
    const std::size_t n = points.size();
    const Vec3& before = points[i > 0 ? i - 1 : (closed ? n - 1 : 0)];
    const Vec3& after = points[i + 1 < n ? i + 1 : (closed ? 0 : n - 1)];
    const Vec3 d = after - before;
    return d.squaredNorm() > 1e-12 ? d.normalized() : Vec3::UnitX();
}

std::uint32_t addCorner(Mesh& mesh, const Vec3& at, const Vec3& normal, Rgb colour, double light) {
    MeshCorner corner;
    corner.at = at.cast<float>();
    corner.normal = normal.cast<float>();
    corner.light = static_cast<float>(light);
    mesh.colours.push_back(colour);
    return mesh.add(corner);
}

}  // namespace

Mesh ribbonMesh(const std::vector<Vec3>& points, const std::vector<Vec3>& out, double width_mm,
                double thickness_mm, Rgb colour) {
    Mesh mesh;
    if (points.size() < 2) return mesh;
    // Four faces, each with corners of its own so that the edges stay sharp.
    struct Strip {
        double across, up;  // of the first corner, in half widths and thicknesses
        double across2, up2;
        double normal_across, normal_up;
        double light;
    };
    static constexpr std::array<Strip, 4> kStrips = {{{-1, 1, 1, 1, 0, 1, 0.95},
                                                      {1, 1, 1, 0, 1, 0, 0.8},
                                                      {1, 0, -1, 0, 0, -1, 0.4},
                                                      {-1, 0, -1, 1, -1, 0, 0.8}}};
    for (const Strip& side : kStrips) {
        const auto base = static_cast<std::uint32_t>(mesh.corners.size());
        for (std::size_t i = 0; i < points.size(); ++i) {
            const Vec3 along = direction(points, i, false);
            Vec3 up = out[i] - out[i].dot(along) * along;
            up = up.squaredNorm() > 1e-12 ? up.normalized() : along.unitOrthogonal();
            const Vec3 across = up.cross(along);
            const Vec3 normal = side.normal_across * across + side.normal_up * up;
            for (const auto& [a, u] : {std::pair{side.across, side.up}, std::pair{side.across2, side.up2}})
                addCorner(mesh, points[i] + a * width_mm / 2 * across + u * thickness_mm * up, normal, colour,
                          side.light);
        }
        for (std::uint32_t i = 0; i + 1 < points.size(); ++i) {
            const std::uint32_t a = base + 2 * i;
            mesh.quad(a, a + 1, a + 3, a + 2);
        }
    }
    // Faces turn with their normals: `across` may point either way along the strap.
    for (std::size_t i = 0; i < mesh.triangles.size(); i += 3) {
        const auto &a = mesh.corners[mesh.triangles[i]], &b = mesh.corners[mesh.triangles[i + 1]],
                   &c = mesh.corners[mesh.triangles[i + 2]];
        if ((b.at - a.at).cross(c.at - a.at).dot(a.normal) < 0)
            std::swap(mesh.triangles[i + 1], mesh.triangles[i + 2]);
    }
    return mesh;
}

Mesh rodMesh(const std::vector<Vec3>& points, double radius_mm, int sides, bool closed, Rgb colour) {
    Mesh mesh;
    if (points.size() < 2) return mesh;
    Vec3 u = direction(points, 0, closed).unitOrthogonal();
    const std::size_t rows = points.size() + (closed ? 1 : 0);
    const Vec3 first_u = u;
    for (std::size_t i = 0; i < rows; ++i) {
        const Vec3 along = direction(points, i % points.size(), closed);
        if (i == points.size()) u = first_u;
        u = (u - u.dot(along) * along).normalized();
        const Vec3 v = along.cross(u);
        for (int k = 0; k <= sides; ++k) {
            const double angle = -kTurn * k / sides;  // against the clock: along x around then points out
            const Vec3 out = std::cos(angle) * u + std::sin(angle) * v;
            addCorner(mesh, points[i % points.size()] + radius_mm * out, out, colour, 1);
        }
    }
    joinGrid(mesh, 0, static_cast<int>(rows), sides + 1);
    return mesh;
}

}  // namespace hoopwright
