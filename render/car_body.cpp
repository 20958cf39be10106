#include "render/car_body.h"

#include <algorithm>
#include <cmath>

#include "render/curve.h"

namespace hoopwright {
namespace {

constexpr int kOutlineSteps = 6;     // stretches between two measured points of a station
constexpr double kLoftStep_mm = 40;  // greatest distance of drawn sections
constexpr int kCapRings = 5;
constexpr double kCorner_rad = 0.7;  // drawn lines keep corners sharper than this
constexpr double kApart_mm = 0.5;    // stations nearer than this count as one

/// Half an outline (y, z), from the sill bottom to the roof's middle, at one x.
struct Section {
    double x = 0;
    std::vector<Vec2> half;
};

bool usable(const ShellStation& station, std::size_t points) {
    return station.outline.size() == points && points >= 3 && std::isfinite(station.x_mm);
}

std::vector<const ShellStation*> inOrder(const std::vector<ShellStation>& stations) {
    std::vector<const ShellStation*> ordered;
    if (stations.empty()) return ordered;
    for (const ShellStation& s : stations)
        if (usable(s, stations.front().outline.size())) ordered.push_back(&s);
    std::stable_sort(ordered.begin(), ordered.end(), [](auto* a, auto* b) { return a->x_mm < b->x_mm; });
    ordered.erase(std::unique(ordered.begin(), ordered.end(),
                              [](auto* a, auto* b) { return b->x_mm - a->x_mm < kApart_mm; }),
                  ordered.end());
    return ordered;
}

std::vector<Vec2> smoothHalf(const std::vector<Vec2>& outline) {
    std::vector<Vec3> points;
    for (const Vec2& p : outline) points.emplace_back(0, p.x(), p.y());
    // Carried over the centre plane, so that the roof is flat there and has no ridge.
    const std::size_t middle = points.size() - 1;
    points.push_back({0, -outline[middle - 1].x(), outline[middle - 1].y()});
    double low = 1e300, high = -1e300;
    for (const Vec2& p : outline) {
        low = std::min(low, p.y());
        high = std::max(high, p.y());
    }
    std::vector<Vec2> half;
    // No higher than the roof was measured, no lower than the sill.
    for (const Vec3& p : smoothCurve(points, kOutlineSteps, false))
        half.emplace_back(std::max(0.0, p.y()), std::clamp(p.z(), low, high));
    half.resize(middle * kOutlineSteps + 1);
    return half;
}

/// Sections between the measured ones, each coordinate carried along x without overshoot.
std::vector<Section> loft(const std::vector<const ShellStation*>& stations) {
    std::vector<std::vector<Vec2>> measured;
    std::vector<double> x;
    for (const ShellStation* s : stations) {
        measured.push_back(smoothHalf(s->outline));
        x.push_back(s->x_mm);
    }
    const std::size_t points = measured.front().size(), n = x.size();
    std::vector<std::vector<double>> y(points), z(points), slope_y, slope_z;
    for (std::size_t k = 0; k < points; ++k) {
        for (const auto& half : measured) {
            y[k].push_back(half[k].x());
            z[k].push_back(half[k].y());
        }
        slope_y.push_back(monotoneSlopes(x, y[k]));
        slope_z.push_back(monotoneSlopes(x, z[k]));
    }
    std::vector<Section> sections;
    for (std::size_t i = 0; i + 1 < n; ++i) {
        const int parts = std::max(1, static_cast<int>(std::ceil((x[i + 1] - x[i]) / kLoftStep_mm)));
        for (int s = 0; s < parts + (i + 2 == n ? 1 : 0); ++s) {
            Section section;
            section.x = x[i] + (x[i + 1] - x[i]) * s / parts;
            for (std::size_t k = 0; k < points; ++k)
                section.half.emplace_back(hermite(section.x, x[i], x[i + 1], y[k][i], y[k][i + 1],
                                                  slope_y[k][i], slope_y[k][i + 1]),
                                          hermite(section.x, x[i], x[i + 1], z[k][i], z[k][i + 1],
                                                  slope_z[k][i], slope_z[k][i + 1]));
            sections.push_back(std::move(section));
        }
    }
    return sections;
}

/// The end of the body rounded off: sections that shrink to their middle while they move out along x, `ahead`
/// or back.
std::vector<Section> cap(const Section& end, int ahead) {
    Vec2 middle = Vec2::Zero();
    double low = 1e300, high = -1e300;
    for (const Vec2& p : end.half) {
        low = std::min(low, p.y());
        high = std::max(high, p.y());
    }
    middle.y() = 0.5 * (low + high);
    const double out = ahead * std::min(35.0, 0.15 * (high - low));
    std::vector<Section> rings;
    for (int i = 1; i <= kCapRings; ++i) {
        const double turn = 0.5 * 3.14159265358979 * i / kCapRings;
        // Small radius at the rim, nearly flat in the middle: a bumper, not a nose cone.
        const double size =
            i == kCapRings ? 0.0 : std::pow(std::cos(turn), 0.35) - 0.25 * (1 - std::cos(turn));
        Section ring;
        ring.x = end.x + out * std::pow(std::sin(turn), 0.6);
        for (const Vec2& p : end.half) ring.half.push_back(middle + std::max(0.0, size) * (p - middle));
        rings.push_back(std::move(ring));
    }
    return rings;
}

/// A row of the shell: left half from the sill up to the roof, then the right half down, then back to the
/// start along the floor.
void addRow(Mesh& mesh, const Section& section) {
    const auto add = [&](double y, double z) {
        MeshCorner corner;
        corner.at = Vec3(section.x, y, z).cast<float>();
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
    const auto ordered = inOrder(stations);
    if (ordered.size() < 2) return mesh;
    std::vector<Section> sections = loft(ordered);
    std::vector<Section> rear = cap(sections.front(), -1), front = cap(sections.back(), 1);
    sections.insert(sections.begin(), rear.rbegin(), rear.rend());
    sections.insert(sections.end(), front.begin(), front.end());
    for (const Section& section : sections) addRow(mesh, section);
    const auto rows = static_cast<int>(sections.size());
    const auto columns = static_cast<int>(mesh.corners.size()) / rows;
    // Forward x up the left side points into the car: the grid is turned inside out.
    joinGrid(mesh, 0, rows, columns);
    gridNormals(mesh, 0, rows, columns);
    for (std::size_t i = 0; i < mesh.triangles.size(); i += 3)
        std::swap(mesh.triangles[i + 1], mesh.triangles[i + 2]);
    for (MeshCorner& corner : mesh.corners) corner.normal = -corner.normal;
    return mesh;
}

std::vector<DrawnLine> drawnLines(const Car& car) {
    std::vector<DrawnLine> drawn;
    for (const CarLine& line : car.lines) {
        if (line.points.size() < 2) continue;
        const bool mirror = car.standsForBoth(line);
        DrawnLine one{line.kind, smoothCurve(line.points, 8, line.closed, kCorner_rad)};
        if (mirror) {
            DrawnLine other = one;
            for (Vec3& p : other.points) p = mirrored(p);
            drawn.push_back(std::move(other));
        }
        drawn.push_back(std::move(one));
    }
    return drawn;
}

Mesh glassPanes(const std::vector<DrawnLine>& lines) {
    Mesh mesh;
    for (const DrawnLine& line : lines) {
        const auto& p = line.points;
        if (line.kind != CarLine::Kind::glass || p.size() < 4 || (p.front() - p.back()).norm() > 1e-6)
            continue;
        // Newell's normal of a ring that need not be flat.
        Vec3 normal = Vec3::Zero(), middle = Vec3::Zero();
        for (std::size_t i = 0; i + 1 < p.size(); ++i) {
            normal += p[i].cross(p[i + 1]);
            middle += p[i];
        }
        if (normal.squaredNorm() < 1e-9) continue;
        normal.normalize();
        middle /= static_cast<double>(p.size() - 1);
        const Vec3 u = normal.unitOrthogonal(), v = normal.cross(u);
        std::vector<Vec2> flat;
        const auto base = static_cast<std::uint32_t>(mesh.corners.size());
        for (std::size_t i = 0; i + 1 < p.size(); ++i) {
            flat.emplace_back(u.dot(p[i] - middle), v.dot(p[i] - middle));
            MeshCorner corner;
            corner.at = p[i].cast<float>();
            corner.normal = normal.cast<float>();
            mesh.add(corner);
        }
        const auto fill = fillPolygon(flat);
        for (std::size_t i = 0; i + 2 < fill.size(); i += 3)
            mesh.triangle(base + fill[i], base + fill[i + 1], base + fill[i + 2]);
    }
    return mesh;
}

}  // namespace hoopwright
