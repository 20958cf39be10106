#include "core/mesh/triangle_distance.h"

#include <cmath>

#include "core/geometry/segments.h"

namespace hoopwright {
namespace {

/// Area of a triangle over the square of its longest side, below which its plane is not asked.
constexpr double kFlat = 1e-7;

Vec3 nearestOnEdge(const Vec3& p, const Vec3& a, const Vec3& b) {
    const Vec3 ab = b - a;
    const double square = ab.squaredNorm();
    if (!(square > 0)) return a;
    return a + std::clamp(ab.dot(p - a) / square, 0.0, 1.0) * ab;
}

Vec3 nearestOnEdges(const Vec3& p, const Triangle& t) {
    Vec3 best = nearestOnEdge(p, t.a, t.b);
    for (const Vec3& next : {nearestOnEdge(p, t.b, t.c), nearestOnEdge(p, t.c, t.a)})
        if ((next - p).squaredNorm() < (best - p).squaredNorm()) best = next;
    return best;
}

/// Is x, in the plane of the triangle with normal n (any length), inside or on the rim?
bool holds(const Triangle& t, const Vec3& n, const Vec3& x) {
    return n.dot((t.b - t.a).cross(x - t.a)) >= 0 && n.dot((t.c - t.b).cross(x - t.b)) >= 0 &&
           n.dot((t.a - t.c).cross(x - t.c)) >= 0;
}

}  // namespace

Vec3 nearestOnTriangle(const Vec3& p, const Triangle& t) {
    const Vec3 ab = t.b - t.a, ac = t.c - t.a, ap = p - t.a;
    const double d1 = ab.dot(ap), d2 = ac.dot(ap);
    if (d1 <= 0 && d2 <= 0) return t.a;
    const Vec3 bp = p - t.b;
    const double d3 = ab.dot(bp), d4 = ac.dot(bp);
    if (d3 >= 0 && d4 <= d3) return t.b;
    const Vec3 cp = p - t.c;
    const double d5 = ab.dot(cp), d6 = ac.dot(cp);
    if (d6 >= 0 && d5 <= d6) return t.c;
    const double vc = d1 * d4 - d3 * d2, vb = d5 * d2 - d1 * d6, va = d3 * d6 - d5 * d4;
    const double sum = va + vb + vc;  // four times the square of the area
    const double longest = std::max({ab.squaredNorm(), ac.squaredNorm(), (ac - ab).squaredNorm()});
    if (!(sum > kFlat * kFlat * longest * longest)) return nearestOnEdges(p, t);
    if (vc <= 0 && d1 >= 0 && d3 <= 0) return t.a + d1 / (d1 - d3) * ab;
    if (vb <= 0 && d2 >= 0 && d6 <= 0) return t.a + d2 / (d2 - d6) * ac;
    if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0)
        return t.b + (d4 - d3) / ((d4 - d3) + (d5 - d6)) * (t.c - t.b);
    return t.a + vb / sum * ab + vc / sum * ac;
}

SegmentAndTriangle nearestOfSegment(const Vec3& p0, const Vec3& p1, const Triangle& t, double within) {
    SegmentAndTriangle best{within, 0, Vec3::Zero()};
    const Vec3 n = (t.b - t.a).cross(t.c - t.a);
    const double length = n.norm();
    const double longest =
        std::max({(t.b - t.a).squaredNorm(), (t.c - t.b).squaredNorm(), (t.a - t.c).squaredNorm()});
    if (length > kFlat * longest) {
        const double h0 = n.dot(p0 - t.a) / length, h1 = n.dot(p1 - t.a) / length;
        if (h0 * h1 > 0) {
            // On one side of the plane: no nearer than its nearer end, and if that end is over the triangle,
            // there.
            const bool first = std::abs(h0) <= std::abs(h1);
            const double least = first ? std::abs(h0) : std::abs(h1);
            if (least >= within) return best;
            const Vec3& end = first ? p0 : p1;
            const Vec3 foot = end - (first ? h0 : h1) / length * n;
            if (holds(t, n, foot)) return {least, first ? 0.0 : 1.0, foot};
            // The other end may be over it, yet then an edge is nearer than that end's height, or as near.
        } else {
            const double share = h0 == h1 ? 0 : h0 / (h0 - h1);
            const Vec3 through = p0 + share * (p1 - p0);
            if (holds(t, n, through)) return {0, share, through};
        }
    }
    const Vec3* const corners[] = {&t.a, &t.b, &t.c, &t.a};
    for (int i = 0; i < 3; ++i) {
        const Vec3 &from = *corners[i], &to = *corners[i + 1];
        const SegmentPair pair = nearestSegments(p0, p1, from, to);
        if (pair.distance < best.distance) best = {pair.distance, pair.a, from + pair.b * (to - from)};
    }
    return best;
}

}  // namespace hoopwright
