// Helmet, seat, belts and steering wheel.
#include <algorithm>
#include <cmath>

#include "render/curve.h"
#include "render/driver_figure.h"
#include "render/ribbon.h"

namespace hoopwright {
namespace {

constexpr double kPi = 3.14159265358979323846;
constexpr Rgb kHelmet{0.90f, 0.89f, 0.86f}, kVisor{0.10f, 0.115f, 0.14f}, kTrim{0.22f, 0.225f, 0.24f},
    kSeat{0.20f, 0.205f, 0.22f}, kStrap{0.80f, 0.78f, 0.735f}, kBuckle{0.62f, 0.62f, 0.60f};

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

Mesh seatShell(const Driver& driver) {
    Mesh mesh;
    if (!driver.seat || driver.seat->width_mm <= 0 || driver.seat->back_height_mm <= 0) return mesh;
    const Seat& seat = *driver.seat;
    const Vec3 left = Vec3::UnitY();
    const double lean = driver.back_angle_rad;
    const Vec3 up(-std::sin(lean), 0, std::cos(lean)), ahead(std::cos(lean), 0, std::sin(lean));
    // The shell runs under the thighs, round the hips and up the back, a hand's breadth behind the hip
    // points.
    const Vec3 h = driver.hip;
    const std::vector<Vec3> profile = smoothCurve(
        {h + Vec3(330, 0, -52), h + Vec3(230, 0, -82), h + Vec3(60, 0, -112), h - 105 * ahead - 62 * up,
         h - 118 * ahead + 0.25 * seat.back_height_mm * up, h - 112 * ahead + 0.62 * seat.back_height_mm * up,
         h - 128 * ahead + 0.9 * seat.back_height_mm * up, h - 136 * ahead + seat.back_height_mm * up},
        9, false);
    const auto rows = static_cast<int>(profile.size());
    constexpr int kColumns = 41;
    const double half = seat.width_mm / 2;
    for (const double thickness : {0.0, 9.0}) {
        const auto base = static_cast<std::uint32_t>(mesh.corners.size());
        for (int i = 0; i < rows; ++i) {
            const Vec3& p = profile[static_cast<std::size_t>(i)];
            const Vec3 along = (profile[static_cast<std::size_t>(std::min(i + 1, rows - 1))] -
                                profile[static_cast<std::size_t>(std::max(i - 1, 0))])
                                   .normalized();
            const Vec3 inside = left.cross(along);  // towards the person
            const double share = static_cast<double>(i) / (rows - 1);
            // Bolsters: high at the hips and ribs, low at the front edge and the top; shoulders narrower.
            const double bolster =
                118 * std::pow(std::sin(kPi * std::clamp(0.10 + 0.84 * share, 0.0, 1.0)), 0.8);
            const double narrow = half * (1 - 0.20 * std::pow(std::max(0.0, (share - 0.72) / 0.28), 2.0));
            for (int k = 0; k < kColumns; ++k) {
                const double s = 2.0 * k / (kColumns - 1) - 1;
                const double lift = bolster * std::pow(std::max(0.0, (std::abs(s) - 0.52) / 0.48), 1.7);
                MeshCorner corner;
                const double flare = 1 + 0.06 * std::max(0.0, std::abs(s) - 0.8);
                corner.at = (p + narrow * s * flare * left + (lift - thickness) * inside).cast<float>();
                corner.light = thickness > 0 ? 0.7f : static_cast<float>(0.45 + 0.5 * std::abs(s));
                mesh.add(corner);
            }
        }
        gridNormals(mesh, base, rows, kColumns);
        joinGrid(mesh, base, rows, kColumns);
        if (thickness == 0.0) continue;
    }
    // Along x left points away from the person: that is the outside; the inside is turned round.
    const std::size_t inner = static_cast<std::size_t>(rows) * kColumns;
    const std::size_t inner_indices = mesh.triangles.size() / 2;
    for (std::size_t i = 0; i < inner_indices; i += 3)
        std::swap(mesh.triangles[i + 1], mesh.triangles[i + 2]);
    for (std::size_t i = 0; i < inner; ++i) mesh.corners[i].normal = -mesh.corners[i].normal;
    // The rim closes the two skins.
    std::vector<std::uint32_t> edge;
    const auto width = static_cast<std::uint32_t>(kColumns);
    for (std::uint32_t k = 0; k < width; ++k) edge.push_back(k);
    for (std::uint32_t i = 1; i < static_cast<std::uint32_t>(rows); ++i)
        edge.push_back(i * width + width - 1);
    for (std::uint32_t k = 1; k < width; ++k)
        edge.push_back(static_cast<std::uint32_t>(rows) * width - 1 - k);
    for (std::uint32_t i = 1; i < static_cast<std::uint32_t>(rows); ++i)
        edge.push_back((static_cast<std::uint32_t>(rows) - 1 - i) * width);
    for (std::size_t i = 0; i + 1 < edge.size(); ++i) {
        const std::uint32_t a = edge[i], b = edge[i + 1];
        const auto shift = static_cast<std::uint32_t>(inner);
        mesh.quad(a, b, b + shift, a + shift);
        mesh.quad(a, a + shift, b + shift, b);
    }
    mesh.paint(kSeat);
    return mesh;
}

namespace {

/// Straps lie on the body: `out` at a point is away from the trunk's axis.
Mesh strap(const std::vector<Vec3>& knots, const std::vector<Vec3>& out_at, double width) {
    constexpr int kSteps = 10;
    const std::vector<Vec3> points = smoothCurve(knots, kSteps, false);
    std::vector<Vec3> outs;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const double at = static_cast<double>(i) / kSteps;
        const std::size_t k = std::min(static_cast<std::size_t>(at), out_at.size() - 1),
                          next = std::min(k + 1, out_at.size() - 1);
        const double share = at - static_cast<double>(k);
        outs.push_back((1 - share) * out_at[k] + share * out_at[next]);
    }
    return ribbonMesh(points, outs, width, 2.5, kStrap);
}

struct Wrap {
    Vec3 axis_at = Vec3::Zero();
    std::vector<Vec3> points;
};

/// Over the top of the bar and round its back, at the bar's point nearest to that y.
Wrap overBar(const ResolvedMember& bar, const Vec3& from, double y) {
    Wrap wrap;
    const auto crossings = bar.line.crossings({0, y, 0}, Vec3::UnitY());
    double station = bar.line.nearestStation({from.x(), y, from.z()});
    for (const double s : crossings)
        if (std::abs(s - station) < 200) station = s;
    wrap.axis_at = bar.line.point(station);
    const double r = bar.radius_mm() + 1;
    const Vec3 arm = from - wrap.axis_at;
    // The strap leaves the bar where it is square to the way to the shoulder, and goes round away from it.
    const double start =
        std::atan2(arm.z(), arm.x()) + std::acos(std::clamp(r / std::hypot(arm.x(), arm.z()), 0.0, 1.0));
    for (int i = 0; i <= 12; ++i) {
        const double angle = start + (i / 12.0) * 1.25 * kPi;
        wrap.points.push_back(wrap.axis_at + r * Vec3(std::cos(angle), 0, std::sin(angle)));
    }
    return wrap;
}

}  // namespace

Mesh beltStraps(const Driver& driver, const ResolvedMember* bar) {
    Mesh mesh;
    const Vec3 shoulders = driver.shoulders();
    const Vec3 up = (shoulders - driver.hip).normalized();
    const Vec3 left = Vec3::UnitY(), ahead = left.cross(up);
    const double torso = (shoulders - driver.hip).norm(), scale = std::clamp(torso / 540, 0.7, 1.25);
    const double width = std::max(20.0, driver.belts.strap_width_mm);
    const Vec3 buckle = driver.hip + 0.17 * torso * up + 122 * scale * ahead;
    for (const double side : {1.0, -1.0}) {
        const Vec3& shoulder = side > 0 ? driver.shoulder_left : driver.shoulder_right;
        // Straps lie between neck and shoulder joint, no wider than the shoulders allow.
        const double half =
            std::clamp(driver.belts.spacing_mm / 2, 60.0, 0.8 * std::abs(shoulder.y() - shoulders.y()) + 20);
        const Vec3 top = shoulders + side * half * left + (shoulder - shoulders).dot(up) * up + 9 * up;
        std::vector<Vec3> knots = {
            buckle + side * 22 * left + 26 * up,
            driver.hip + 0.45 * torso * up + 112 * scale * ahead + side * 0.62 * half * left,
            driver.hip + 0.74 * torso * up + 110 * scale * ahead + side * 0.9 * half * left,
            driver.hip + 0.93 * torso * up + 66 * scale * ahead + side * half * left, top};
        std::vector<Vec3> outs = {ahead, ahead, (ahead + 0.1 * up).normalized(),
                                  (ahead + 0.8 * up).normalized(), (up + 0.1 * ahead).normalized()};
        if (driver.seat && driver.seat->belt_slot.squaredNorm() > 0) {
            knots.push_back(driver.seat->belt_slot + side * half * left);
            outs.push_back(up);
        }
        if (bar && !bar->line.empty()) {
            const Wrap wrap = overBar(*bar, knots.back(), shoulders.y() + side * driver.belts.spacing_mm / 2);
            for (const Vec3& p : wrap.points) {
                knots.push_back(p);
                outs.push_back((p - wrap.axis_at).normalized());
            }
        }
        mesh.append(strap(knots, outs, width));
    }
    for (const Vec3& anchor : driver.belts.lap_anchors) {
        const double side = anchor.y() > driver.hip.y() ? 1 : -1;
        const std::vector<Vec3> knots = {
            buckle + side * 26 * left, driver.hip + 96 * scale * ahead + 40 * up + side * 100 * scale * left,
            driver.hip + 30 * ahead + side * 178 * scale * left + 5 * up, anchor};
        const std::vector<Vec3> outs = {ahead, (ahead + 0.7 * side * left).normalized(), side * left,
                                        side * left};
        mesh.append(strap(knots, outs, 0.66 * width));
    }
    std::vector<Vec3> disc;
    for (int i = 0; i < 24; ++i) {
        const double angle = 2 * kPi * i / 24;
        disc.push_back(buckle + 20 * (std::cos(angle) * left + std::sin(angle) * up) + 6 * ahead);
    }
    mesh.append(rodMesh(disc, 12, 10, true, kBuckle));
    return mesh;
}

Mesh steeringWheel(const Driver& driver) {
    const Vec3 across = driver.hand_left - driver.hand_right;
    const double apart = across.norm();
    if (apart < 200 || apart > 450) return {};
    const Vec3 left = across / apart, middle = 0.5 * (driver.hand_left + driver.hand_right);
    Vec3 towards = driver.shoulders() - middle;
    towards -= towards.dot(left) * left;
    if (towards.squaredNorm() < 1) return {};
    // The wheel faces the shoulders, a little flatter than square to them.
    const Vec3 normal = (towards.normalized() + 0.15 * Vec3::UnitZ()).normalized();
    const Vec3 up = normal.cross(left).normalized();
    const double radius = 0.5 * apart;
    std::vector<Vec3> ring;
    for (int i = 0; i < 72; ++i) {
        const double angle = 2 * kPi * i / 72;
        ring.push_back(middle + radius * (std::cos(angle) * left + std::sin(angle) * up));
    }
    Mesh mesh = rodMesh(ring, 15, 16, true, kTrim);
    const Vec3 hub = middle - 40 * normal;
    for (const double angle : {0.08, kPi - 0.08, -0.5 * kPi})
        mesh.append(rodMesh({hub, middle + 0.96 * radius * (std::cos(angle) * left + std::sin(angle) * up)},
                            8, 10, false, kTrim));
    std::vector<Vec3> column = {hub + 12 * normal, hub - 120 * normal};
    mesh.append(rodMesh(column, 26, 24, false, kTrim));
    return mesh;
}

}  // namespace hoopwright
