#include "core/geometry/envelope.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/geometry/hull.h"

namespace hoopwright {
namespace {

constexpr double kChordError_mm = 0.5;  // of the rough envelope only
constexpr double kWorth_mm = 1e-10;     // a step down that is worth taking
constexpr std::size_t kTried = 4;       // faces to start from: the deepest valley is at one of the least deep

/// Walks downhill from a direction, in steps halved from `widest` to `finest` [rad], looking so many ways
/// round: the more, the narrower the kinked valleys it does not stick in.
template <class F>
std::pair<double, Vec3> downhill(Vec3 n, double widest, double finest, int ways, F depth) {
    double best = depth(n);
    for (double step = widest; step > finest; step *= 0.5) {
        for (bool better = true; better;) {
            better = false;
            const Vec3 u = n.unitOrthogonal(), v = n.cross(u);
            for (int i = 0; i < ways; ++i) {
                const double turn = 2 * std::numbers::pi * i / ways;
                const Vec3 now = (n + step * (std::cos(turn) * u + std::sin(turn) * v)).normalized();
                const double d = depth(now);
                if (d >= best - kWorth_mm) continue;
                best = d;
                n = now;
                better = true;
                break;
            }
        }
    }
    return {best, n};
}

/// Farthest a centreline reaches along n.
double reach(const Centreline& line, const Vec3& n) {
    double most = -1e300;
    for (const Piece& piece : line.pieces()) {
        most = std::max(most, piece.start.dot(n));
        if (piece.kind != Piece::Kind::bend) continue;
        // Inside a bend the farthest point is where the tangent is square to n.
        const Vec3 radial = (piece.start - piece.centre) / piece.radius_mm;
        const double out = radial.dot(n), along = piece.tangent.dot(n);
        const double turn = std::atan2(along, out);
        if (turn > 0 && turn < piece.angle_rad)
            most = std::max(most, piece.centre.dot(n) + piece.radius_mm * std::hypot(out, along));
    }
    return line.empty() ? most : std::max(most, line.end().dot(n));
}

/// Of all tubes. Few reach far in any one direction: a tube's box tells of most that they do not. `first` is
/// the one to begin with, and then the one that reached farthest: for the next direction it is so again, or
/// nearly.
double farthestOf(std::span<const EnvelopeTube> tubes, const Vec3& n, std::size_t& first) {
    const auto full = [&](const EnvelopeTube& tube) { return reach(*tube.line, n) + tube.radius_mm; };
    const Vec3 size = n.cwiseAbs();
    double most = full(tubes[first]);
    for (std::size_t i = 0; i < tubes.size(); ++i) {
        const Box& box = tubes[i].line->bounds();
        if (i == first || box.center().dot(n) + box.sizes().dot(size) / 2 + tubes[i].radius_mm <= most)
            continue;
        const double now = full(tubes[i]);
        if (now <= most) continue;
        most = now;
        first = i;
    }
    return most;
}

}  // namespace

Envelope::Envelope(std::span<const EnvelopeTube> tubes) : tubes_(tubes.begin(), tubes.end()) {
    std::vector<Vec3> points;
    std::vector<double> radii;
    for (const EnvelopeTube& tube : tubes_) {
        for (double station : tube.line->sampleStations(kChordError_mm)) {
            points.push_back(tube.line->point(station));
            radii.push_back(tube.radius_mm);
        }
    }
    std::vector<char> corner(points.size());
    for (const HullFace& face : convexHull(points)) {
        faces_.emplace_back(face.normal, face.offset);
        for (int i : face.corners) corner[static_cast<std::size_t>(i)] = true;
    }
    for (std::size_t i = 0; i < points.size(); ++i)
        if (corner[i]) knots_.push_back({points[i], radii[i]});
}

double Envelope::roughSupport(const Vec3& n) const {
    double most = -1e300;
    for (const Knot& knot : knots_) most = std::max(most, knot.at.dot(n) + knot.radius_mm);
    return most;
}

double Envelope::support(const Vec3& n) const {
    std::size_t from = 0;
    return farthestOf(tubes_, n, from);
}

EnvelopeDepth Envelope::depth(const std::function<Vec3(const Vec3&)>& farthest,
                              bool (*allowed)(const Vec3&)) const {
    const auto own = [&](const Vec3& n) { return farthest(n).dot(n); };
    std::vector<std::pair<double, std::size_t>> by_depth;
    for (std::size_t i = 0; i < faces_.size(); ++i)
        if (allowed(faces_[i].first)) by_depth.emplace_back(faces_[i].second - own(faces_[i].first), i);
    const std::size_t tried = std::min(kTried, by_depth.size());
    std::partial_sort(by_depth.begin(), by_depth.begin() + static_cast<std::ptrdiff_t>(tried),
                      by_depth.end());
    std::pair<double, Vec3> rough{1e300, Vec3::UnitZ()};
    for (std::size_t i = 0; i < tried; ++i) {
        const auto now = downhill(faces_[by_depth[i].second].first, 0.05, 1e-4, 4, [&](const Vec3& n) {
            return allowed(n) ? roughSupport(n) - own(n) : 1e300;
        });
        if (now.first < rough.first) rough = now;
    }
    if (tried == 0) return {1e300, Vec3::UnitZ(), Vec3::Zero()};
    std::size_t first = 0;
    const auto exact = [&](const Vec3& d) {
        return allowed(d) ? farthestOf(tubes_, d, first) - own(d) : 1e300;
    };
    const auto near = downhill(rough.second, 2e-3, 1e-6, 4, exact);
    auto [least, n] = downhill(near.second, 1e-6, 2e-9, 12, exact);
    // Along a flat of the sheet the valley is a kink at that flat's own normal, which a walk only comes near.
    for (std::size_t i = 0; i < tried; ++i) {
        const Vec3& flat = faces_[by_depth[i].second].first;
        if (const double there = exact(flat); there < least) {
            least = there;
            n = flat;
        }
    }
    return {least, n, farthest(n)};
}

EnvelopeDepth Envelope::depth(const Ellipsoid& body, bool (*allowed)(const Vec3&)) const {
    return depth([&](const Vec3& n) { return body.support(n); }, allowed);
}

EnvelopeDepth Envelope::depth(const Vec3& point, bool (*allowed)(const Vec3&)) const {
    return depth([&](const Vec3&) { return point; }, allowed);
}

}  // namespace hoopwright
