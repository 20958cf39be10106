// The seat: a bucket shell of the measured back height and width.
#include <algorithm>
#include <cmath>

#include "core/geometry/curve.h"
#include "render/driver_figure.h"
#include "render/turn.h"

namespace hoopwright {
namespace {

constexpr Rgb kSeat{0.20f, 0.205f, 0.22f};
constexpr int kSeatColumns = 41;     // across the seat
constexpr double kThickness_mm = 9;  // of the shell; with the shape below common practice, no source

/// Down the middle of the seat: under the thighs, round the hips, up the back, a hand's breadth behind the
/// hip points.
std::vector<Vec3> middleLine(const Driver& driver, double back_mm) {
    const double lean = driver.back_angle_rad;
    const Vec3 up(-std::sin(lean), 0, std::cos(lean)), ahead(std::cos(lean), 0, std::sin(lean)),
        h = driver.hip;
    return smoothCurve(
        {h + Vec3(330, 0, -52), h + Vec3(230, 0, -78), h + Vec3(60, 0, -96), h - 105 * ahead - 50 * up,
         h - 118 * ahead + 0.25 * back_mm * up, h - 112 * ahead + 0.62 * back_mm * up,
         h - 128 * ahead + 0.9 * back_mm * up, h - 136 * ahead + back_mm * up},
        9, false);
}

/// One skin of the shell, `outward_mm` away from the person's side of it.
void addSkin(Mesh& mesh, const std::vector<Vec3>& middle, double half_width_mm, double outward_mm) {
    const auto base = static_cast<std::uint32_t>(mesh.corners.size());
    const auto rows = static_cast<int>(middle.size());
    const auto at = [&](int i) { return middle[static_cast<std::size_t>(std::clamp(i, 0, rows - 1))]; };
    const Vec3 left = Vec3::UnitY();
    for (int i = 0; i < rows; ++i) {
        const Vec3 inside = left.cross((at(i + 1) - at(i - 1)).normalized());  // towards the person
        const double share = static_cast<double>(i) / (rows - 1);
        // Bolsters: high at the hips and ribs, low at the front edge and the top; shoulders narrower.
        const double bolster = 118 * std::pow(std::sin(kPi * (0.10 + 0.84 * share)), 0.8);
        const double half = half_width_mm * (1 - 0.20 * std::pow(std::max(0.0, (share - 0.72) / 0.28), 2.0));
        for (int k = 0; k < kSeatColumns; ++k) {
            const double s = 2.0 * k / (kSeatColumns - 1) - 1, off = std::abs(s);
            const double lift = bolster * std::pow(std::max(0.0, (off - 0.52) / 0.48), 1.7);
            const double flare = 1 + 0.06 * std::max(0.0, off - 0.8);
            MeshCorner corner;
            corner.at = (at(i) + half * s * flare * left + (lift - outward_mm) * inside).cast<float>();
            corner.light = outward_mm > 0 ? 0.7f : static_cast<float>(0.45 + 0.5 * off);
            mesh.add(corner);
        }
    }
    gridNormals(mesh, base, rows, kSeatColumns);
    joinGrid(mesh, base, rows, kSeatColumns);
}

/// Corners round the edge of a grid, back to the first.
std::vector<std::uint32_t> edgeOf(std::uint32_t rows) {
    constexpr std::uint32_t kWidth = kSeatColumns;
    std::vector<std::uint32_t> edge;
    for (std::uint32_t k = 0; k < kWidth; ++k) edge.push_back(k);
    for (std::uint32_t i = 1; i < rows; ++i) edge.push_back(i * kWidth + kWidth - 1);
    for (std::uint32_t k = 1; k < kWidth; ++k) edge.push_back(rows * kWidth - 1 - k);
    for (std::uint32_t i = 1; i < rows; ++i) edge.push_back((rows - 1 - i) * kWidth);
    return edge;
}

}  // namespace

Mesh seatShell(const Driver& driver) {
    Mesh mesh;
    if (!driver.seat || driver.seat->width_mm <= 0 || driver.seat->back_height_mm <= 0) return mesh;
    const std::vector<Vec3> middle = middleLine(driver, driver.seat->back_height_mm);
    addSkin(mesh, middle, driver.seat->width_mm / 2, 0);
    // Along x left points away from the person: right for the outer skin, so the inner one is turned round.
    for (std::size_t i = 0; i < mesh.triangles.size(); i += 3)
        std::swap(mesh.triangles[i + 1], mesh.triangles[i + 2]);
    for (MeshCorner& corner : mesh.corners) corner.normal = -corner.normal;
    const auto shift = static_cast<std::uint32_t>(mesh.corners.size());
    addSkin(mesh, middle, driver.seat->width_mm / 2, kThickness_mm);
    // The rim closes the two skins; it is seen from both sides.
    const std::vector<std::uint32_t> edge = edgeOf(static_cast<std::uint32_t>(middle.size()));
    for (std::size_t i = 0; i + 1 < edge.size(); ++i) {
        const std::uint32_t a = edge[i], b = edge[i + 1];
        mesh.quad(a, b, b + shift, a + shift);
        mesh.quad(a, a + shift, b + shift, b);
    }
    mesh.paint(kSeat);
    return mesh;
}

}  // namespace hoopwright
