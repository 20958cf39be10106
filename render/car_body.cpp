#include "render/car_body.h"

#include <algorithm>
#include <cmath>

#include "core/geometry/polygon.h"

namespace hoopwright {
namespace {

constexpr int kCapRings = 5;

/// The end of the body rounded off: sections that shrink to their middle while they move out along x, `ahead`
/// or back.
std::vector<ShellSection> cap(const ShellSection& end, int ahead) {
    Vec2 middle = Vec2::Zero();
    double low = 1e300, high = -1e300;
    for (const Vec2& p : end.half) {
        low = std::min(low, p.y());
        high = std::max(high, p.y());
    }
    middle.y() = 0.5 * (low + high);
    const double out = ahead * std::min(35.0, 0.15 * (high - low));
    std::vector<ShellSection> rings;
    for (int i = 1; i <= kCapRings; ++i) {
        const double turn = 0.5 * 3.14159265358979 * i / kCapRings;
        // Small radius at the rim, nearly flat in the middle: a bumper, not a nose cone.
        const double size =
            i == kCapRings ? 0.0 : std::pow(std::cos(turn), 0.35) - 0.25 * (1 - std::cos(turn));
        ShellSection ring;
        ring.x_mm = end.x_mm + out * std::pow(std::sin(turn), 0.6);
        for (const Vec2& p : end.half) ring.half.push_back(middle + std::max(0.0, size) * (p - middle));
        rings.push_back(std::move(ring));
    }
    return rings;
}

/// A row of the shell: left half from the sill up to the roof, then the right half down, then back to the
/// start along the floor.
void addRow(Mesh& mesh, const ShellSection& section) {
    const auto add = [&](double y, double z) {
        MeshCorner corner;
        corner.at = Vec3(section.x_mm, y, z).cast<float>();
        mesh.add(corner);
    };
    for (const Vec2& p : section.half) add(p.x(), p.y());
    for (std::size_t k = section.half.size() - 1; k-- > 0;) add(-section.half[k].x(), section.half[k].y());
    const Vec2 sill = section.half.front();
    constexpr int kFloor = 6;
    for (int i = 1; i <= kFloor; ++i) add(sill.x() * (2.0 * i / kFloor - 1), sill.y());
}

}  // namespace

Mesh bodyShell(const std::vector<ShellStation>& stations) {
    Mesh mesh;
    std::vector<ShellSection> sections = shellSections(stations);
    if (sections.empty()) return mesh;
    std::vector<ShellSection> rear = cap(sections.front(), -1), front = cap(sections.back(), 1);
    sections.insert(sections.begin(), rear.rbegin(), rear.rend());
    sections.insert(sections.end(), front.begin(), front.end());
    for (const ShellSection& section : sections) addRow(mesh, section);
    const auto rows = static_cast<int>(sections.size());
    const auto columns = static_cast<int>(mesh.corners.size()) / rows;
    // Forward x up the left side points into the car: the grid is turned inside out.
    joinGrid(mesh, 0, rows, columns);
    gridNormals(mesh, 0, rows, columns);
    for (std::size_t i = 0; i < mesh.triangles.size(); i += 3)
        std::swap(mesh.triangles[i + 1], mesh.triangles[i + 2]);
    for (MeshCorner& corner : mesh.corners) corner.normal = -corner.normal;
    // The first and last row have shrunk to a point each, whose neighbours say nothing of its normal.
    for (int k = 0; k < columns; ++k) {
        mesh.corners[static_cast<std::size_t>(k)].normal = -Vec3f::UnitX();
        mesh.corners[mesh.corners.size() - 1 - static_cast<std::size_t>(k)].normal = Vec3f::UnitX();
    }
    return mesh;
}

Mesh panes(const std::vector<SmoothLine>& lines, CarLine::Kind kind) {
    Mesh mesh;
    for (const SmoothLine& line : lines) {
        if (line.kind != kind || !isRing(line)) continue;
        const std::vector<Vec3> ring(line.points.begin(), line.points.end() - 1);
        const auto [fill, normal] = fillRing(ring);
        const auto base = static_cast<std::uint32_t>(mesh.corners.size());
        for (const Vec3& p : ring) {
            MeshCorner corner;
            corner.at = p.cast<float>();
            corner.normal = normal.cast<float>();
            mesh.add(corner);
        }
        for (std::size_t i = 0; i + 2 < fill.size(); i += 3)
            mesh.triangle(base + fill[i], base + fill[i + 1], base + fill[i + 2]);
    }
    return mesh;
}

}  // namespace hoopwright
