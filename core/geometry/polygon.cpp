#include "core/geometry/polygon.h"

#include <algorithm>
#include <numeric>

namespace hoopwright {

namespace {

double cross2(const Vec2& a, const Vec2& b) {
    return a.x() * b.y() - a.y() * b.x();
}

bool inside(const Vec2& p, const Vec2& a, const Vec2& b, const Vec2& c) {
    return cross2(b - a, p - a) >= 0 && cross2(c - b, p - b) >= 0 && cross2(a - c, p - c) >= 0;
}

bool isEar(const std::vector<Vec2>& outline, const std::vector<std::uint32_t>& left, std::size_t i) {
    const std::size_t n = left.size();
    const std::uint32_t ia = left[(i + n - 1) % n], ib = left[i], ic = left[(i + 1) % n];
    const Vec2 &a = outline[ia], &b = outline[ib], &c = outline[ic];
    if (cross2(b - a, c - b) <= 0) return false;
    return std::none_of(left.begin(), left.end(), [&](std::uint32_t j) {
        return j != ia && j != ib && j != ic && inside(outline[j], a, b, c);
    });
}

}  // namespace

std::vector<std::uint32_t> fillPolygon(const std::vector<Vec2>& outline) {
    std::vector<std::uint32_t> left(outline.size()), triangles;
    std::iota(left.begin(), left.end(), 0u);
    while (left.size() >= 3) {
        std::size_t ear = 0;
        while (ear < left.size() && !isEar(outline, left, ear)) ++ear;
        if (ear == left.size()) ear = 0;  // a crossed outline: fill what can be filled, never loop for ever
        const std::size_t n = left.size();
        triangles.insert(triangles.end(), {left[(ear + n - 1) % n], left[ear], left[(ear + 1) % n]});
        left.erase(left.begin() + static_cast<std::ptrdiff_t>(ear));
    }
    return triangles;
}

FilledRing fillRing(const std::vector<Vec3>& ring) {
    FilledRing out;
    Vec3 normal = Vec3::Zero();
    for (std::size_t i = 0; i < ring.size(); ++i)
        normal += (ring[i] - ring[0]).cross(ring[(i + 1) % ring.size()] - ring[0]);
    if (!(normal.squaredNorm() > 1e-9)) return out;
    out.normal = normal.normalized();
    const Vec3 u = out.normal.unitOrthogonal(), v = out.normal.cross(u);
    std::vector<Vec2> flat;
    for (const Vec3& p : ring) flat.emplace_back(u.dot(p - ring[0]), v.dot(p - ring[0]));
    out.triangles = fillPolygon(flat);
    return out;
}

}  // namespace hoopwright
