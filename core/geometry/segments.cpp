#include "core/geometry/segments.h"

#include <algorithm>

namespace hoopwright {
namespace {

double clamp01(double x) {
    return std::clamp(x, 0.0, 1.0);
}

/// Below this square of the sine two segments may be parallel, and their ends are looked at too.
constexpr double kNearParallel = 1e-8;

}  // namespace

SegmentPair nearestSegments(const Vec3& a0, const Vec3& a1, const Vec3& b0, const Vec3& b1) {
    const Vec3 u = a1 - a0, v = b1 - b0, w = a0 - b0;
    const double uu = u.squaredNorm(), vv = v.squaredNorm(), uv = u.dot(v), uw = u.dot(w), vw = v.dot(w);
    const auto nearestA = [&](double b) { return uu > 0 ? clamp01((uv * b - uw) / uu) : 0; };
    const auto nearestB = [&](double a) { return vv > 0 ? clamp01((uv * a + vw) / vv) : 0; };
    const auto pairAt = [&](double a, double b) { return SegmentPair{a, b, (w + a * u - b * v).norm()}; };
    const double square = uu * vv - uv * uv;
    const double inner = square > 0 ? clamp01((uv * vw - vv * uw) / square) : 0;
    const double b = nearestB(inner);
    SegmentPair best = pairAt(nearestA(b), b);
    if (square > kNearParallel * uu * vv) return best;
    for (double end : {0.0, 1.0}) {
        for (const SegmentPair& pair : {pairAt(end, nearestB(end)), pairAt(nearestA(end), end)}) {
            if (pair.distance < best.distance) best = pair;
        }
    }
    return best;
}

}  // namespace hoopwright
