#include "core/mesh/along_ray.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <random>

#include "made_scan.h"

namespace hoopwright {
namespace {

/// Where a ray meets a triangle, as a share of `way`. Source: Moeller and Trumbore, Journal of Graphics Tools
/// 2(1), 1997 (from memory).
std::optional<double> crossing(const Vec3& from, const Vec3& way, const Vec3& a, const Vec3& b,
                               const Vec3& c) {
    const Vec3 u = b - a, v = c - a, p = way.cross(v);
    const double det = u.dot(p);
    if (std::abs(det) < 1e-12) return std::nullopt;
    const Vec3 t = from - a, q = t.cross(u);
    const double x = t.dot(p) / det, y = way.dot(q) / det, along = v.dot(q) / det;
    if (x < 0 || y < 0 || x + y > 1 || along < 0) return std::nullopt;
    return along;
}

double bruteForce(const TriangleMesh& mesh, const Vec3& from, const Vec3& way) {
    double first = 1e300;
    for (const Corners& t : mesh.triangles) {
        const auto along = crossing(from, way, mesh.vertices[t[0]], mesh.vertices[t[1]], mesh.vertices[t[2]]);
        if (along) first = std::min(first, *along);
    }
    return first;
}

TEST(AlongRay, FindsTheFirstPlaceAsBruteForceDoes) {
    const TriangleMesh mesh = madeScan(60, 40);
    const PlacedMesh placed(std::make_shared<const MeshTree>(mesh), {});
    std::mt19937_64 random(3);
    std::uniform_real_distribution<double> any(-1, 1);
    int hits = 0;
    for (int n = 0; n < 400; ++n) {
        const Vec3 from(6000 * any(random), 5000 * any(random), 4000 * any(random));
        const Vec3 at(1800 * any(random), 700 * any(random), 400 * any(random));
        const Vec3 way = (at - from).normalized();
        const double first = bruteForce(mesh, from, way);
        const auto found = firstAlong(placed, from, way, 20000);
        if (first > 1e299) {
            // A ray past a rim nearer than a tenth of a millimetre may be taken for a hit, no other.
            EXPECT_LT(found ? found->distance : 0, 10 * kAlongRayError_mm + 1e-9);
            continue;
        }
        ++hits;
        ASSERT_TRUE(found) << n;
        const Vec3 met = from + first * way;
        const Vec3 off = found->at - met;
        // Along the ray it may stop short by more where the surface is met at a glance.
        EXPECT_LT((found->at - from).dot(way), first + 0.02) << n;
        EXPECT_LT(off.norm(), 0.5) << n;
    }
    EXPECT_GT(hits, 250);
}

TEST(AlongRay, SeesWhatIsKeptAloneAndFollowsThePlace) {
    const TriangleMesh mesh = madeScan(60, 40, 0);
    MeshPlacement place;
    place.scale = 10;
    place.shift = Vec3(500, 0, 0);
    const auto tree = std::make_shared<const MeshTree>(mesh);
    const Vec3 down = -Vec3::UnitZ();
    const auto whole = firstAlong(PlacedMesh(tree, place), Vec3(500, 0, 50000), down, 1e6);
    ASSERT_TRUE(whole);
    EXPECT_NEAR(whole->at.z(), 10 * (50000 / 10.0 - bruteForce(mesh, Vec3(0, 0, 5000), down)), 0.2);
    const HalfSpace cut[] = {{Vec3(0, 0, 3000), -Vec3::UnitZ()}};
    EXPECT_FALSE(firstAlong(PlacedMesh(tree, place, cut), Vec3(500, 0, 50000), down, 1e6))
        << "the roof is cut away, and below it is open";
    EXPECT_FALSE(firstAlong(PlacedMesh(tree, place), Vec3(500, 0, 50000), down, 100)) << "not so far";
    EXPECT_FALSE(firstAlong(PlacedMesh(tree, place), Vec3(500, 0, 50000), -down, 1e6)) << "it looks away";
}

}  // namespace
}  // namespace hoopwright
