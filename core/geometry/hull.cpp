#include "core/geometry/hull.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <random>
#include <utility>

namespace hoopwright {
namespace {

constexpr double kNudge_mm = 1e-5;
constexpr double kFlat_mm = 1e-4;
constexpr double kOnFace_mm = 4e-5;  // more than nudges can put a point of a flat side out

std::vector<Vec3> nudged(std::span<const Vec3> points) {
    std::minstd_rand random(20260301);  // the same every time
    const auto nudge = [&] { return kNudge_mm * (2.0 * static_cast<double>(random()) / 2147483647.0 - 1.0); };
    std::vector<Vec3> out(points.begin(), points.end());
    for (Vec3& p : out) {
        const double x = nudge(), y = nudge(), z = nudge();
        p += Vec3(x, y, z);
    }
    return out;
}

HullFace faceOf(const std::vector<Vec3>& p, int a, int b, int c) {
    const auto at = [&](int i) -> const Vec3& { return p[static_cast<std::size_t>(i)]; };
    HullFace face{{a, b, c}, (at(b) - at(a)).cross(at(c) - at(a)).normalized(), 0};
    face.offset = face.normal.dot(at(a));
    return face;
}

/// Four points well apart, the first three counter-clockwise seen from away from the fourth; nothing if all
/// are flat.
std::optional<std::array<int, 4>> firstFour(const std::vector<Vec3>& p) {
    const auto farthest = [&](auto measure) {
        int best = 0;
        for (int i = 1; i < static_cast<int>(p.size()); ++i)
            if (measure(p[static_cast<std::size_t>(i)]) > measure(p[static_cast<std::size_t>(best)]))
                best = i;
        return best;
    };
    if (p.size() < 4) return std::nullopt;
    const Vec3 a = p[0];
    const int ib = farthest([&](const Vec3& q) { return (q - a).norm(); });
    const Vec3 b = p[static_cast<std::size_t>(ib)], along = (b - a).normalized();
    const auto off_line = [&](const Vec3& q) { return (q - a).cross(along).norm(); };
    const int ic = farthest(off_line);
    const Vec3 n = (b - a).cross(p[static_cast<std::size_t>(ic)] - a);
    if (off_line(p[static_cast<std::size_t>(ic)]) < kFlat_mm) return std::nullopt;
    const Vec3 unit = n.normalized();
    const int id = farthest([&](const Vec3& q) { return std::abs(unit.dot(q - a)); });
    const double height = unit.dot(p[static_cast<std::size_t>(id)] - a);
    if (std::abs(height) < kFlat_mm) return std::nullopt;
    return height > 0 ? std::array{0, ic, ib, id} : std::array{0, ib, ic, id};
}

/// Replaces the faces that see the point by a fan from the rim of what they leave open. A point on a face but
/// for its nudge is left: of a row of hoops nearly all are, and each would only split what is flat.
void add(std::vector<HullFace>& faces, const std::vector<Vec3>& p, int point) {
    const Vec3& q = p[static_cast<std::size_t>(point)];
    std::vector<std::size_t> seeing;
    double farthest = 0;
    for (std::size_t f = 0; f < faces.size(); ++f) {
        const double off = faces[f].normal.dot(q) - faces[f].offset;
        if (off <= 0) continue;
        seeing.push_back(f);
        farthest = std::max(farthest, off);
    }
    if (farthest <= kOnFace_mm) return;
    std::vector<std::pair<int, int>> edges;  // directed edges of the faces that go
    edges.reserve(3 * seeing.size());
    for (const std::size_t f : seeing)
        for (std::size_t i = 0; i < 3; ++i)
            edges.emplace_back(faces[f].corners[i], faces[f].corners[(i + 1) % 3]);
    for (auto f = seeing.rbegin(); f != seeing.rend(); ++f) {
        faces[*f] = faces.back();
        faces.pop_back();
    }
    std::sort(edges.begin(), edges.end());
    for (const auto& [from, to] : edges)
        if (!std::binary_search(edges.begin(), edges.end(), std::pair(to, from)))
            faces.push_back(faceOf(p, from, to, point));
}

/// Far points first: most of the rest then lie inside at once.
std::vector<int> farFirst(const std::vector<Vec3>& p) {
    Vec3 middle = Vec3::Zero();
    for (const Vec3& q : p) middle += q / static_cast<double>(p.size());
    std::vector<std::pair<double, int>> far;
    for (std::size_t i = 0; i < p.size(); ++i)
        far.emplace_back(-(p[i] - middle).squaredNorm(), static_cast<int>(i));
    std::sort(far.begin(), far.end());
    std::vector<int> order;
    for (const auto& [distance, i] : far) order.push_back(i);
    return order;
}

}  // namespace

std::vector<HullFace> convexHull(std::span<const Vec3> points) {
    const std::vector<Vec3> p = nudged(points);
    const auto first = firstFour(p);
    if (!first) return {};
    const auto [a, b, c, d] = *first;
    std::vector<HullFace> faces = {faceOf(p, a, b, c), faceOf(p, a, d, b), faceOf(p, b, d, c),
                                   faceOf(p, c, d, a)};
    for (int i : farFirst(p))
        if (i != a && i != b && i != c && i != d) add(faces, p, i);
    return faces;
}

}  // namespace hoopwright
