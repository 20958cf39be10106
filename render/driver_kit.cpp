// Helmet and steering wheel.
#include <algorithm>
#include <cmath>
#include <optional>

#include "render/driver_figure.h"
#include "render/ribbon.h"
#include "render/turn.h"

namespace hoopwright {
namespace {

constexpr Rgb kHelmet{0.90f, 0.89f, 0.86f}, kVisor{0.10f, 0.115f, 0.14f}, kTrim{0.22f, 0.225f, 0.24f};

/// Point and normal of an ellipsoid at a longitude (0 ahead, growing to the left) and latitude.
MeshCorner onEllipsoid(const Ellipsoid& e, double longitude, double latitude, double proud_mm) {
    const Vec3 unit(std::cos(latitude) * std::cos(longitude), std::cos(latitude) * std::sin(longitude),
                    std::sin(latitude));
    const Vec3 normal = (e.axes * unit.cwiseQuotient(e.half_mm)).normalized();
    MeshCorner corner;
    corner.at = (e.centre + e.axes * unit.cwiseProduct(e.half_mm) + proud_mm * normal).cast<float>();
    corner.normal = normal.cast<float>();
    return corner;
}

/// A patch between longitudes and latitudes with round corners, laid on the ellipsoid.
Mesh patch(const Ellipsoid& e, double half_width, double low, double high, double corner_share,
           double proud_mm, Rgb colour) {
    Mesh mesh;
    constexpr int kRows = 28, kColumns = 64;
    const double middle = 0.5 * (low + high), half_height = 0.5 * (high - low);
    for (int i = 0; i <= kRows; ++i)
        for (int k = 0; k <= kColumns; ++k) {
            const double s = 2.0 * k / kColumns - 1, t = 2.0 * i / kRows - 1;
            // Near its ends the patch narrows on a super-ellipse.
            const double taper =
                std::pow(std::max(0.0, 1 - std::pow(std::abs(s), corner_share)), 1 / corner_share);
            MeshCorner corner = onEllipsoid(e, half_width * s, middle + half_height * t * taper, proud_mm);
            corner.light = static_cast<float>(0.85);
            mesh.add(corner);
        }
    // Up x left points to the back of the head; columns run left, so turn the grid round.
    joinGrid(mesh, 0, kRows + 1, kColumns + 1);
    for (std::size_t i = 0; i < mesh.triangles.size(); i += 3)
        std::swap(mesh.triangles[i + 1], mesh.triangles[i + 2]);
    mesh.paint(colour);
    return mesh;
}

}  // namespace

Mesh helmetShell(const Driver& driver, int rows) {
    Mesh mesh;
    const Ellipsoid e = driver.helmet.ellipsoid();
    const int columns = 3 * rows / 2;
    for (int i = 0; i <= rows; ++i)
        for (int k = 0; k <= columns; ++k) {
            const double latitude = kPi * (static_cast<double>(i) / rows - 0.5);
            MeshCorner corner = onEllipsoid(e, 2 * kPi * k / columns, latitude, 0);
            corner.light = static_cast<float>(std::clamp(0.62 + 0.5 * std::sin(latitude), 0.25, 1.0));
            mesh.add(corner);
        }
    joinGrid(mesh, 0, rows + 1, columns + 1);
    for (std::size_t i = 0; i < mesh.triangles.size(); i += 3)
        std::swap(mesh.triangles[i + 1], mesh.triangles[i + 2]);
    mesh.paint(kHelmet);
    return mesh;
}

Mesh helmetVisor(const Driver& driver) {
    const Ellipsoid e = driver.helmet.ellipsoid();
    Mesh mesh = patch(e, 1.30, -0.17, 0.44, 4.5, 1.2, kTrim);
    mesh.append(patch(e, 1.22, -0.12, 0.39, 4.5, 2.4, kVisor));
    return mesh;
}

namespace {

/// Middle line of a rim, and the way it faces.
struct Rim {
    Vec3 middle, left, up, normal;
    double radius_mm = 0, thick_mm = 0;
};

Rim measuredRim(const SteeringWheel& wheel) {
    constexpr double kThick_mm = 14;
    const Vec3 normal = wheel.facing(), up = wheel.up();
    return {wheel.centre, normal.cross(up), up, normal, std::max(20.0, wheel.diameter_mm / 2 - kThick_mm),
            kThick_mm};
}

/// Through both hands, facing the shoulders, a little flatter than square to them.
std::optional<Rim> rimThroughHands(const Driver& driver) {
    const Vec3 across = driver.hand_left - driver.hand_right;
    const double apart = across.norm();
    if (apart < 200 || apart > 450) return std::nullopt;
    const Vec3 left = across / apart, middle = 0.5 * (driver.hand_left + driver.hand_right);
    Vec3 towards = driver.shoulders() - middle;
    towards -= towards.dot(left) * left;
    if (towards.squaredNorm() < 1) return std::nullopt;
    Vec3 normal = towards.normalized() + 0.15 * Vec3::UnitZ();
    normal = (normal - normal.dot(left) * left).normalized();
    return Rim{middle, left, normal.cross(left).normalized(), normal, 0.5 * apart, 15};
}

/// A straight rod with both its ends closed.
Mesh columnMesh(const Vec3& from, const Vec3& to, double radius_mm, int sides) {
    Mesh mesh = rodMesh({from, to}, radius_mm, sides, false, kTrim);
    const auto round = static_cast<std::uint32_t>(sides) + 1;  // the seam's corner comes twice
    for (const std::uint32_t rim : {0u, round}) {
        const Vec3 middle = rim == 0 ? from : to;
        MeshCorner corner;
        corner.at = middle.cast<float>();
        corner.normal = (rim == 0 ? from - to : to - from).normalized().cast<float>();
        const std::uint32_t hub = mesh.add(corner);
        for (std::uint32_t k = 0; k < round; ++k) {
            corner.at = mesh.corners[rim + k].at;
            mesh.add(corner);
            if (k == 0) continue;
            const std::uint32_t before = hub + k, here = before + 1;
            rim == 0 ? mesh.triangle(hub, before, here) : mesh.triangle(hub, here, before);
        }
    }
    mesh.paint(kTrim);
    return mesh;
}

}  // namespace

Mesh steeringWheel(const Driver& driver) {
    const std::optional<Rim> rim =
        driver.steering_wheel ? std::optional(measuredRim(*driver.steering_wheel)) : rimThroughHands(driver);
    if (!rim) return {};
    std::vector<Vec3> ring;
    for (int i = 0; i < 72; ++i) {
        const double angle = 2 * kPi * i / 72;
        ring.push_back(rim->middle +
                       rim->radius_mm * (std::cos(angle) * rim->left + std::sin(angle) * rim->up));
    }
    Mesh mesh = rodMesh(ring, rim->thick_mm, 16, true, kTrim);
    // Spokes to a hub set back from the rim; the column goes on from it.
    const Vec3 hub = rim->middle - 40 * rim->normal;
    for (const double angle : {0.08, kPi - 0.08, -0.5 * kPi}) {
        const Vec3 at =
            rim->middle + 0.97 * rim->radius_mm * (std::cos(angle) * rim->left + std::sin(angle) * rim->up);
        mesh.append(rodMesh({hub, at}, 8, 10, false, kTrim));
    }
    mesh.append(columnMesh(hub + 14 * rim->normal, hub - 130 * rim->normal, 27, 48));
    return mesh;
}

}  // namespace hoopwright
