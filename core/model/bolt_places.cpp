#include "core/model/bolt_places.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "core/units/measure.h"

namespace hoopwright {
namespace {

constexpr double kUsualEdge = 2;                       // diameters
constexpr double kLeastEdge = 1.2, kLeastPitch = 2.2;  // hole diameters
constexpr double kClose_mm = 1e-6;

/// The outline moved in by `by`, mitred; nothing where a corner would run away.
std::vector<Vec2> movedIn(const std::vector<Vec2>& outline, double by) {
    std::vector<Vec2> out;
    const std::size_t n = outline.size();
    for (std::size_t i = 0; i < n; ++i) {
        const Vec2 before = (outline[i] - outline[(i + n - 1) % n]).normalized();
        const Vec2 after = (outline[(i + 1) % n] - outline[i]).normalized();
        const Vec2 in_before(-before.y(), before.x()), in_after(-after.y(), after.x());
        const double share = 1 + in_before.dot(in_after);
        if (share < 0.05) return {};
        out.emplace_back(outline[i] + by / share * (in_before + in_after));
    }
    return out;
}

double toSegment(const Vec2& p, const Vec2& a, const Vec2& b) {
    const Vec2 along = b - a;
    const double t = std::clamp((p - a).dot(along) / along.squaredNorm(), 0.0, 1.0);
    return (p - a - t * along).norm();
}

/// Least distance to the outline, negative outside.
double inside_mm(const Vec2& p, const std::vector<Vec2>& outline) {
    double least = 1e300;
    bool in = false;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Vec2 &a = outline[i], &b = outline[(i + 1) % outline.size()];
        least = std::min(least, toSegment(p, a, b));
        if ((a.y() > p.y()) != (b.y() > p.y()) &&
            p.x() < a.x() + (p.y() - a.y()) / (b.y() - a.y()) * (b.x() - a.x()))
            in = !in;
    }
    return in ? least : -least;
}

std::vector<Vec2> spread(const std::vector<Vec2>& line, int count) {
    std::vector<Vec2> out;
    const auto n = static_cast<int>(line.size());
    const auto corner = [&](int i) { return line[static_cast<std::size_t>(i % n)]; };
    const bool on_corners = count % n == 0 || count < n;
    double length = 0;
    for (int i = 0; i < n; ++i) length += (corner(i + 1) - corner(i)).norm();
    for (int b = 0; b < count; ++b) {
        if (on_corners) {
            const double share = static_cast<double>(b) * n / count;  // in edges
            const int edge = static_cast<int>(share);
            const double t = share - edge;
            out.emplace_back((1 - t) * corner(edge) + t * corner(edge + 1));
            continue;
        }
        double run = length * b / count;
        for (int i = 0; i < n; ++i) {
            const Vec2 step = corner(i + 1) - corner(i);
            if (run <= step.norm() || i + 1 == n) {
                out.emplace_back(corner(i) + run * step.normalized());
                break;
            }
            run -= step.norm();
        }
    }
    return out;
}

}  // namespace

Expected<std::vector<Vec2>> boltPlaces(const std::vector<Vec2>& outline, const Bolts& bolts,
                                       LengthUnit unit) {
    const auto said = [&](double mm) { return showLength(mm, {unit}); };
    if (bolts.count <= 0) return std::vector<Vec2>{};
    if (!(bolts.diameter_mm > 0)) return Reason{"The size of its bolts is not said."};
    if (outline.size() < 3) return Reason{"It has no outline."};
    const double hole = clearanceHole_mm(bolts.diameter_mm).value_or(bolts.diameter_mm);
    const double least_edge = bolts.edge_mm.value_or(kLeastEdge * hole);
    const double least_pitch = bolts.pitch_mm.value_or(kLeastPitch * hole);
    const double edge = bolts.edge_mm.value_or(kUsualEdge * bolts.diameter_mm);
    const std::vector<Vec2> line = movedIn(outline, edge);
    const std::string wish = std::to_string(bolts.count) + (bolts.count == 1 ? " bolt" : " bolts") + " of " +
                             said(bolts.diameter_mm);
    if (line.empty()) return Reason{wish + " cannot be laid out: its outline has too sharp a corner."};
    std::vector<Vec2> places = spread(line, bolts.count);
    for (const Vec2& p : places)
        if (inside_mm(p, outline) < least_edge - kClose_mm)
            return Reason{wish + " do not fit at " + said(edge) +
                          " from the edge: make the plate larger or the distance smaller."};
    double nearest = 1e300;
    for (std::size_t i = 0; i < places.size(); ++i)
        for (std::size_t k = 0; k < i; ++k) nearest = std::min(nearest, (places[i] - places[k]).norm());
    if (nearest < least_pitch - kClose_mm)
        return Reason{wish + " come " + said(nearest) + " from each other where " + said(least_pitch) +
                      " is the least: make the plate larger, or use fewer."};
    return places;
}

std::optional<double> clearanceHole_mm(double bolt_mm) {
    constexpr double kInch = 25.4;
    constexpr std::array<std::array<double, 2>, 17> kHoles = {{{5, 5.5},
                                                               {6, 6.6},
                                                               {8, 9},
                                                               {10, 11},
                                                               {12, 13.5},
                                                               {14, 15.5},
                                                               {16, 17.5},
                                                               {20, 22},
                                                               {24, 26},
                                                               {kInch / 4, kInch * 9 / 32},
                                                               {kInch * 5 / 16, kInch * 11 / 32},
                                                               {kInch * 3 / 8, kInch * 13 / 32},
                                                               {kInch * 7 / 16, kInch * 15 / 32},
                                                               {kInch / 2, kInch * 9 / 16},
                                                               {kInch * 5 / 8, kInch * 11 / 16},
                                                               {kInch * 3 / 4, kInch * 13 / 16},
                                                               {kInch, kInch * 35 / 32}}};
    const auto found =
        std::ranges::find_if(kHoles, [&](const auto& one) { return std::abs(one[0] - bolt_mm) < 0.005; });
    return found == kHoles.end() ? std::nullopt : std::optional((*found)[1]);
}

}  // namespace hoopwright
