#include "rules/envelope.h"

#include <algorithm>
#include <set>

#include "rules/hull.h"

namespace hoopwright {
namespace {

constexpr double kChordError_mm = 0.05;

/// Walks downhill from a direction in ever smaller steps. The depth is smooth almost everywhere and has few
/// valleys.
template <class F>
std::pair<double, Vec3> downhill(Vec3 n, F depth) {
    double best = depth(n);
    for (double step = 0.05; step > 1e-6; step *= 0.5) {
        for (bool better = true; better;) {
            better = false;
            const Vec3 u = n.unitOrthogonal(), v = n.cross(u);
            for (const Vec3& way : {u, Vec3(-u), v, Vec3(-v)}) {
                const Vec3 now = (n + step * way).normalized();
                const double d = depth(now);
                if (d < best - 1e-9) {
                    best = d;
                    n = now;
                    better = true;
                    break;
                }
            }
        }
    }
    return {best, n};
}

}  // namespace

Envelope::Envelope(std::span<const EnvelopeTube> tubes) {
    std::vector<Vec3> points;
    std::vector<double> radii;
    for (const EnvelopeTube& tube : tubes) {
        for (double station : tube.line->sampleStations(kChordError_mm)) {
            points.push_back(tube.line->point(station));
            radii.push_back(tube.radius_mm);
        }
    }
    std::set<int> corners;
    for (const HullFace& face : convexHull(points)) {
        faces_.push_back(face.normal);
        corners.insert(face.corners.begin(), face.corners.end());
    }
    for (int i : corners)
        knots_.push_back({points[static_cast<std::size_t>(i)], radii[static_cast<std::size_t>(i)]});
}

double Envelope::support(const Vec3& n) const {
    double most = -1e300;
    for (const Knot& knot : knots_) most = std::max(most, knot.at.dot(n) + knot.radius_mm);
    return most;
}

EnvelopeDepth Envelope::depth(const Ellipsoid& body, bool (*allowed)(const Vec3&)) const {
    const auto depth_along = [&](const Vec3& n) {
        return allowed(n) ? support(n) - body.support(n).dot(n) : 1e300;
    };
    std::vector<std::pair<double, int>> by_depth;
    for (int i = 0; i < static_cast<int>(faces_.size()); ++i)
        by_depth.push_back({depth_along(faces_[static_cast<std::size_t>(i)]), i});
    std::sort(by_depth.begin(), by_depth.end());
    constexpr std::size_t kTried = 4;  // the deepest valley starts at one of the best few faces
    EnvelopeDepth out{1e300, Vec3::UnitZ(), Vec3::Zero()};
    for (std::size_t i = 0; i < std::min(kTried, by_depth.size()); ++i) {
        const auto [least, n] = downhill(faces_[static_cast<std::size_t>(by_depth[i].second)], depth_along);
        if (least < out.depth_mm) out = {least, n, body.support(n)};
    }
    return out;
}

EnvelopeDepth Envelope::depth(const Vec3& point, bool (*allowed)(const Vec3&)) const {
    return depth(Ellipsoid{point, Eigen::Matrix3d::Identity(), Vec3::Constant(1e-6)}, allowed);
}

}  // namespace hoopwright
