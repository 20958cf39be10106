#include "core/skin/shell.h"

#include <algorithm>
#include <cmath>

#include "core/geometry/curve.h"

namespace hoopwright {
namespace {

constexpr int kOutlineSteps = 6;     // stretches between two measured points of a station
constexpr double kLoftStep_mm = 40;  // greatest distance of sections
constexpr double kApart_mm = 0.5;    // stations nearer than this count as one
constexpr double kCorner_rad = 0.7;  // lines keep corners sharper than this

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
std::vector<ShellSection> loft(const std::vector<const ShellStation*>& stations) {
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
    std::vector<ShellSection> sections;
    for (std::size_t i = 0; i + 1 < n; ++i) {
        const int parts = std::max(1, static_cast<int>(std::ceil((x[i + 1] - x[i]) / kLoftStep_mm)));
        for (int s = 0; s < parts + (i + 2 == n ? 1 : 0); ++s) {
            ShellSection section;
            section.x_mm = x[i] + (x[i + 1] - x[i]) * s / parts;
            for (std::size_t k = 0; k < points; ++k)
                section.half.emplace_back(hermite(section.x_mm, x[i], x[i + 1], y[k][i], y[k][i + 1],
                                                  slope_y[k][i], slope_y[k][i + 1]),
                                          hermite(section.x_mm, x[i], x[i + 1], z[k][i], z[k][i + 1],
                                                  slope_z[k][i], slope_z[k][i + 1]));
            sections.push_back(std::move(section));
        }
    }
    return sections;
}

}  // namespace

std::vector<ShellSection> shellSections(const std::vector<ShellStation>& stations) {
    const auto ordered = inOrder(stations);
    if (ordered.size() < 2) return {};
    return loft(ordered);
}

std::vector<SmoothLine> smoothLines(const Car& car) {
    std::vector<SmoothLine> out;
    for (const CarLine& line : car.lines) {
        if (line.points.size() < 2) continue;
        const bool mirror = car.standsForBoth(line);
        SmoothLine one{line.name, line.kind, smoothCurve(line.points, 8, line.closed, kCorner_rad)};
        if (mirror) {
            SmoothLine other = one;
            other.name = otherSide(line.name);
            for (Vec3& p : other.points) p = mirrored(p);
            out.push_back(std::move(other));
        }
        out.push_back(std::move(one));
    }
    return out;
}

bool isRing(const SmoothLine& line) {
    return line.points.size() >= 4 && (line.points.front() - line.points.back()).norm() < 1e-6;
}

}  // namespace hoopwright
