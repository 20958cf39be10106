// Rails and wheels.
#include <algorithm>
#include <cmath>

#include "render/car_body.h"
#include "render/turn.h"

namespace hoopwright {
namespace {

constexpr Rgb kTyre{0.115f, 0.118f, 0.125f}, kTread{0.085f, 0.088f, 0.094f}, kRim{0.66f, 0.67f, 0.68f},
    kWell{0.17f, 0.175f, 0.185f};

/// A flat four-sided facet a b c d, seen counter-clockwise from the side of `out`.
void facet(Mesh& mesh, const Vec3& a, const Vec3& b, const Vec3& c, const Vec3& d, const Vec3& out,
           double light = 1) {
    Vec3 normal = (c - a).cross(d - b);
    if (normal.squaredNorm() < 1e-12) return;
    normal.normalize();
    const bool turned = normal.dot(out) < 0;
    if (turned) normal = -normal;
    const std::uint32_t first = addCorner(mesh, a, normal, light);
    addCorner(mesh, b, normal, light);
    addCorner(mesh, c, normal, light);
    addCorner(mesh, d, normal, light);
    if (turned)
        mesh.quad(first, first + 3, first + 2, first + 1);
    else
        mesh.quad(first, first + 1, first + 2, first + 3);
}

/// The cross-section of a rail at one point of its line, with the mitre of the corner there.
struct RailSection {
    Vec3 at, across, up;
    Vec3 point(const Vec2& p) const { return at + p.x() * across + p.y() * up; }
    Vec3 direction(const Vec2& d) const { return (d.x() * across + d.y() * up).normalized(); }
};

std::vector<RailSection> railSections(const std::vector<Vec3>& line) {
    std::vector<RailSection> sections;
    for (std::size_t i = 0; i < line.size(); ++i) {
        const Vec3 before = (line[i] - line[i ? i - 1 : 0]),
                   after = line[std::min(i + 1, line.size() - 1)] - line[i];
        const Vec3 in = (before.squaredNorm() > 0 ? before : after).normalized();
        const Vec3 out = (after.squaredNorm() > 0 ? after : before).normalized();
        Vec3 along = in + out;
        if (along.squaredNorm() < 1e-6) along = in;
        along.normalize();
        Vec3 across = Vec3::UnitZ().cross(in);
        if (across.squaredNorm() < 1e-6) across = Vec3::UnitY();
        across.normalize();
        Vec3 up = in.cross(across);
        // In the mitre plane, and stretched so that both faces that meet keep their width.
        const auto mitred = [&](const Vec3& d) -> Vec3 { return d - in * (d.dot(along) / along.dot(in)); };
        sections.push_back({line[i], mitred(across), mitred(up)});
    }
    return sections;
}

/// A profile (radius, y, normal in that plane) turned about the axle.
struct ProfilePoint {
    double radius, y;
    double normal_radius, normal_y;
    Rgb colour;
    double light;
};

void revolve(Mesh& mesh, const Vec3& centre, const std::vector<ProfilePoint>& profile, int sides) {
    const auto base = static_cast<std::uint32_t>(mesh.corners.size());
    for (const ProfilePoint& p : profile)
        for (int k = 0; k <= sides; ++k) {
            const double angle = kTurn * k / sides, c = std::cos(angle), s = std::sin(angle);
            addCorner(mesh, centre + Vec3(p.radius * c, p.y, p.radius * s),
                      Vec3(p.normal_radius * c, p.normal_y, p.normal_radius * s).normalized(), p.light);
            mesh.colours.push_back(p.colour);
        }
    const std::size_t before = mesh.triangles.size();
    joinGrid(mesh, base, static_cast<int>(profile.size()), sides + 1);
    // Turn each facet to the side of its normals: profiles run both ways.
    for (std::size_t i = before; i < mesh.triangles.size(); i += 3) {
        const auto& a = mesh.corners[mesh.triangles[i]];
        const auto& b = mesh.corners[mesh.triangles[i + 1]];
        const auto& c = mesh.corners[mesh.triangles[i + 2]];
        if ((b.at - a.at).cross(c.at - a.at).dot(a.normal + b.normal + c.normal) < 0)
            std::swap(mesh.triangles[i + 1], mesh.triangles[i + 2]);
    }
}

/// Tyre from bead to bead over a rounded shoulder.
std::vector<ProfilePoint> tyreProfile(double radius, double width) {
    std::vector<ProfilePoint> profile;
    const double rim = 0.66 * radius, half = width / 2, shoulder = 0.16 * width,
                 wall = radius - rim - shoulder;
    for (const double side : {1.0, -1.0}) {
        std::vector<ProfilePoint> one;
        for (int i = 0; i <= 8; ++i) {  // sidewall, a little full
            const double t = i / 8.0;
            one.push_back({rim + t * wall, side * (0.90 * half + 0.10 * half * std::sin(t * kTurn / 2)),
                           -0.35 * std::cos(t * kTurn / 2), side, kTyre, 0.75 + 0.25 * t});
        }
        for (int i = 1; i <= 6; ++i) {  // shoulder
            const double a = kTurn / 4 * i / 6;
            one.push_back({rim + wall + shoulder * std::sin(a),
                           side * (0.90 * half - shoulder * (1 - std::cos(a))), std::sin(a),
                           side * std::cos(a), i < 3 ? kTyre : kTread, 1});
        }
        if (side < 0) std::reverse(one.begin(), one.end());
        profile.insert(profile.end(), one.begin(), one.end());
    }
    return profile;
}

/// A plain dished rim: lip, barrel, and a face with windows between ten spokes.
void rim(Mesh& mesh, const Vec3& centre, double radius, double width, double outward) {
    const double r = 0.66 * radius, lip = outward * 0.46 * width, face = outward * 0.20 * width;
    revolve(mesh, centre, {{r + 4, lip, 0.3, outward, kRim, 0.95}, {r - 6, lip, 0.1, outward, kRim, 0.95}},
            64);
    // The barrel goes on behind the spokes to the well, so that nothing is seen past its edge.
    const double well = face - outward * 45;
    revolve(mesh, centre,
            {{r - 6, lip, -1, 0, kRim, 0.8},
             {r - 12, face, -1, 0, kRim, 0.45},
             {r - 14, well, -1, 0, kWell, 0.35}},
            64);
    revolve(mesh, centre, {{r - 14, well, 0, outward, kWell, 0.5}, {0, well, 0, outward, kWell, 0.35}}, 64);
    const double hub = 0.25 * r;
    revolve(mesh, centre,
            {{hub, well, 1, 0, kRim, 0.4},
             {hub, face - outward * 4, 1, 0.2 * outward, kRim, 0.8},
             {0.82 * hub, face + outward * 4, 0.5, outward, kRim, 0.95},
             {0.4 * hub, face + outward * 6, 0, outward, kRim, 0.95},
             {0, face + outward * 6, 0, outward, kRim, 0.95}},
            48);
    constexpr int kSpokes = 10;
    for (int i = 0; i < kSpokes; ++i) {
        const double angle = kTurn * i / kSpokes;
        const Vec3 along(std::cos(angle), 0, std::sin(angle)), side(-std::sin(angle), 0, std::cos(angle)),
            out(0, outward, 0);
        const double w0 = 0.085 * r, w1 = 0.07 * r, depth = 30;
        const Vec3 a = centre + 0.7 * hub * along + face * Vec3::UnitY(),
                   b = centre + (r - 8) * along + (face + outward * 2) * Vec3::UnitY();
        const std::size_t before = mesh.corners.size();
        facet(mesh, a - w0 * side, b - w1 * side, b + w1 * side, a + w0 * side, out, 0.9);
        facet(mesh, a + w0 * side, b + w1 * side, b + w1 * side - depth * out, a + w0 * side - depth * out,
              side, 0.5);
        facet(mesh, a - w0 * side, b - w1 * side, b - w1 * side - depth * out, a - w0 * side - depth * out,
              -side, 0.5);
        mesh.colours.insert(mesh.colours.end(), mesh.corners.size() - before, kRim);
    }
}

}  // namespace

namespace {

struct ProfileCorner {
    Vec2 at, normal;
};

/// A rectangle with rounded corners, counter-clockwise in (across, up).
std::vector<ProfileCorner> roundedBox(double half_width, double half_height, double radius) {
    constexpr int kSteps = 5;
    std::vector<ProfileCorner> profile;
    for (int corner = 0; corner < 4; ++corner) {
        const double sx = corner == 0 || corner == 3 ? 1 : -1, sy = corner < 2 ? 1 : -1;
        const Vec2 middle(sx * (half_width - radius), sy * (half_height - radius));
        for (int i = 0; i <= kSteps; ++i) {
            const double angle = kTurn / 4 * (corner + static_cast<double>(i) / kSteps);
            const Vec2 out(std::cos(angle), std::sin(angle));
            profile.push_back({middle + radius * out, out});
        }
    }
    return profile;
}

/// Walls along the line; every stretch has corners of its own, so that mitres stay sharp.
void railWalls(Mesh& mesh, const std::vector<RailSection>& sections,
               const std::vector<ProfileCorner>& profile, bool outer) {
    for (std::size_t i = 0; i + 1 < sections.size(); ++i) {
        const auto base = static_cast<std::uint32_t>(mesh.corners.size());
        const auto n = static_cast<std::uint32_t>(profile.size());
        const Vec3 along = (sections[i + 1].at - sections[i].at).normalized();
        for (const RailSection* s : {&sections[i], &sections[i + 1]})
            for (const ProfileCorner& p : profile) {
                Vec3 normal = s->direction(p.normal);
                normal = (normal - normal.dot(along) * along).normalized();
                addCorner(mesh, s->point(p.at), outer ? normal : Vec3(-normal), outer ? 1 : 0.35);
            }
        for (std::uint32_t k = 0; k < n; ++k) {
            const std::uint32_t a = base + k, b = base + (k + 1) % n;
            if (outer)
                mesh.quad(a, b, b + n, a + n);
            else
                mesh.quad(a, a + n, b + n, b);
        }
    }
}

}  // namespace

Mesh railMesh(const FrameRail& rail) {
    Mesh mesh;
    if (rail.line.size() < 2 || rail.width_mm <= 0 || rail.height_mm <= 0) return mesh;
    const std::vector<RailSection> sections = railSections(rail.line);
    const double half_width = rail.width_mm / 2, half_height = rail.height_mm / 2,
                 least = std::min(half_width, half_height);
    const double wall = std::clamp(rail.wall_mm, 0.1, 0.9 * least);
    const double radius = std::clamp(3 * wall, 1.0, 0.5 * least);  // common practice, no source
    const std::vector<ProfileCorner> outer = roundedBox(half_width, half_height, radius);
    const std::vector<ProfileCorner> inner = roundedBox(
        half_width - wall, half_height - wall, std::clamp(radius - wall, 0.05, 0.99 * (least - wall)));
    railWalls(mesh, sections, outer, true);
    railWalls(mesh, sections, inner, false);
    for (const std::size_t end : {std::size_t{0}, sections.size() - 1}) {
        const RailSection& s = sections[end];
        const Vec3 out =
            end == 0 ? Vec3(rail.line[0] - rail.line[1]) : Vec3(rail.line[end] - rail.line[end - 1]);
        for (std::size_t k = 0; k < outer.size(); ++k) {
            const std::size_t next = (k + 1) % outer.size();
            facet(mesh, s.point(outer[k].at), s.point(outer[next].at), s.point(inner[next].at),
                  s.point(inner[k].at), out);
        }
    }
    return mesh;
}

Mesh wheelMesh(const Wheel& wheel) {
    Mesh mesh;
    const double radius = wheel.diameter_mm / 2, width = wheel.width_mm;
    if (radius <= 0 || width <= 0) return mesh;
    revolve(mesh, wheel.centre, tyreProfile(radius, width), 72);
    const double outward = wheel.centre.y() < 0 ? -1 : 1;
    rim(mesh, wheel.centre, radius, width, outward);
    // Closed towards the car by the back of the barrel.
    revolve(mesh, wheel.centre,
            {{0.66 * radius, -outward * 0.45 * width, 0, -outward, kWell, 0.4},
             {0, -outward * 0.30 * width, 0, -outward, kWell, 0.4}},
            48);
    return mesh;
}

}  // namespace hoopwright
