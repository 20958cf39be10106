// Least distances to a mesh, against looking at every triangle.
#include "core/mesh/mesh_tree.h"

#include <gmock/gmock.h>

#include <random>

#include "core/mesh/clip.h"
#include "core/mesh/thin.h"
#include "core/mesh/triangle_distance.h"
#include "tests/core/geometry/random_tubes.h"
#include "tests/core/mesh/made_scan.h"

namespace hoopwright {
namespace {

Triangle triangleOf(const TriangleMesh& mesh, const Corners& t) {
    return {mesh.vertices[t[0]], mesh.vertices[t[1]], mesh.vertices[t[2]]};
}

double byLookingAtAll(const TriangleMesh& mesh, const Vec3& p) {
    double least = 1e300;
    for (const Corners& t : mesh.triangles)
        least = std::min(least, (nearestOnTriangle(p, triangleOf(mesh, t)) - p).norm());
    return least;
}

/// Convex: golden section over the segment, each place against the triangle.
double bySearching(const Vec3& p0, const Vec3& p1, const Triangle& t) {
    const auto at = [&](double share) {
        const Vec3 p = p0 + share * (p1 - p0);
        return (nearestOnTriangle(p, t) - p).norm();
    };
    double from = 0, to = 1;
    for (int i = 0; i < 120; ++i) {
        const double third = (to - from) / 3;
        (at(from + third) < at(to - third) ? to : from) += at(from + third) < at(to - third) ? -third : third;
    }
    return at((from + to) / 2);
}

TriangleMesh soup(int count, std::mt19937_64& random) {
    std::uniform_real_distribution<double> place(-1000, 1000);
    std::normal_distribution<double> size(0, 60);
    TriangleMesh mesh;
    for (int i = 0; i < count; ++i) {
        const Vec3 middle(place(random), place(random), place(random));
        const auto first = static_cast<std::uint32_t>(mesh.vertices.size());
        for (int k = 0; k < 3; ++k)
            mesh.vertices.push_back(middle + Vec3(size(random), size(random), size(random)));
        mesh.triangles.push_back({first, first + 1, first + 2});
    }
    return mesh;
}

TEST(TriangleDistance, NearestOfASegmentIsWhatASearchAlongItFinds) {
    std::mt19937_64 random(5);
    std::uniform_real_distribution<double> place(-100, 100);
    const auto point = [&] { return Vec3(place(random), place(random), place(random)); };
    int through = 0;
    for (int i = 0; i < 3000; ++i) {
        const Triangle t{point(), point(), point()};
        const Vec3 p0 = point(),
                   p1 = i % 3 == 0 ? Vec3(p0 + 0.2 * (t.b - t.a)) : point();  // parallel now and then
        const SegmentAndTriangle found = nearestOfSegment(p0, p1, t, 1e300);
        EXPECT_NEAR(found.distance, bySearching(p0, p1, t), 1e-7);
        const Vec3 on_segment = p0 + found.share * (p1 - p0);
        EXPECT_NEAR((on_segment - found.on_triangle).norm(), found.distance, 1e-9);
        EXPECT_NEAR((nearestOnTriangle(found.on_triangle, t) - found.on_triangle).norm(), 0, 1e-9);
        through += found.distance == 0;
    }
    EXPECT_GT(through, 100);
}

TEST(TriangleDistance, ASliverOrAPointIsMeasuredByItsEdges) {
    const Triangle line{{0, 0, 0}, {10, 0, 0}, {4, 0, 0}}, point{{1, 2, 3}, {1, 2, 3}, {1, 2, 3}};
    EXPECT_NEAR((nearestOnTriangle({5, 3, 0}, line) - Vec3(5, 0, 0)).norm(), 0, 1e-12);
    EXPECT_NEAR((nearestOnTriangle({5, 3, 0}, point) - Vec3(1, 2, 3)).norm(), 0, 1e-12);
    EXPECT_NEAR(nearestOfSegment({5, 3, -1}, {5, 3, 1}, line, 1e300).distance, 3, 1e-12);
    EXPECT_NEAR(nearestOfSegment({1, 2, 0}, {1, 2, 2}, point, 1e300).distance, 1, 1e-12);
    // A millionth of a millimetre high, ten metres long: off by no more than that.
    const Triangle sliver{{0, 0, 0}, {10000, 0, 0}, {5000, 1e-6, 0}};
    EXPECT_NEAR((nearestOnTriangle({2500, 0, 7}, sliver) - Vec3(2500, 0, 7)).norm(), 7, 1e-6);
}

TEST(MeshTree, FindsWhatLookingAtEveryTriangleFinds) {
    std::mt19937_64 random(11);
    std::uniform_real_distribution<double> place(-1600, 1600);
    for (const TriangleMesh& mesh : {madeScan(30, 40), soup(2000, random), soup(3, random)}) {
        const MeshTree tree(mesh);
        for (int i = 0; i < 300; ++i) {
            const Vec3 p(place(random), place(random), place(random));
            const auto found = tree.nearest(p);
            ASSERT_TRUE(found);
            EXPECT_NEAR(found->distance, byLookingAtAll(mesh, p), 1e-9);
            EXPECT_NEAR((found->at - p).norm(), found->distance, 1e-9);
            const Vec3 on = nearestOnTriangle(p, triangleOf(mesh, mesh.triangles[found->triangle]));
            EXPECT_NEAR((on - found->at).norm(), 0, 1e-9);
        }
    }
}

TEST(MeshTree, ASegmentToo) {
    std::mt19937_64 random(12);
    std::uniform_real_distribution<double> place(-1600, 1600);
    const TriangleMesh mesh = soup(1500, random);
    const MeshTree tree(mesh);
    for (int i = 0; i < 300; ++i) {
        const Vec3 p0(place(random), place(random), place(random)), p1 = p0 + 150 * randomUnit(random);
        double least = 1e300;
        for (const Corners& t : mesh.triangles)
            least = std::min(least, nearestOfSegment(p0, p1, triangleOf(mesh, t), 1e300).distance);
        const auto found = tree.nearest(p0, p1);
        ASSERT_TRUE(found);
        EXPECT_NEAR(found->nearest.distance, least, 1e-9);
        EXPECT_NEAR((p0 + found->share * (p1 - p0) - found->nearest.at).norm(), least, 1e-9);
        EXPECT_FALSE(tree.nearest(p0, p1, least * (1 - 1e-12)));
        EXPECT_TRUE(tree.nearest(p0, p1, least + 1e-9));
    }
}

TEST(MeshTree, ALongSegmentOnASlopeOrAlongAnAxisToo) {
    std::mt19937_64 random(13);
    std::uniform_real_distribution<double> place(-1600, 1600);
    const TriangleMesh mesh = madeScan(25, 30);
    const MeshTree tree(mesh);
    for (int i = 0; i < 300; ++i) {
        const Vec3 p0(place(random), place(random), place(random));
        const Vec3 p1 =
            i % 4 == 0 ? Vec3(p0 + 900 * Vec3::Unit(i / 4 % 3)) : Vec3(p0 + 1800 * randomUnit(random));
        double least = 1e300;
        for (const Corners& t : mesh.triangles)
            least = std::min(least, nearestOfSegment(p0, p1, triangleOf(mesh, t), 1e300).distance);
        EXPECT_NEAR(tree.nearest(p0, p1)->nearest.distance, least, 1e-9);
        EXPECT_NEAR(tree.nearest(p0, p1, least + 1)->nearest.distance, least, 1e-9);
    }
}

TEST(MeshTree, AnyTriangleMayBeLookedAtFirst) {
    std::mt19937_64 random(14);
    std::uniform_real_distribution<double> place(-1600, 1600);
    const TriangleMesh mesh = madeScan(12, 15);
    const MeshTree tree(mesh);
    const HalfSpace ahead{{0, 0, 0}, Vec3::UnitX()};
    for (std::uint32_t first = 0; first < mesh.triangles.size(); first += 7) {
        const Vec3 p(place(random), place(random), place(random));
        const Vec3 q = p + 300 * randomUnit(random);
        EXPECT_EQ(tree.nearest(p, 1e9, {}, first)->distance, tree.nearest(p)->distance);
        EXPECT_EQ(tree.nearest(p, q, 1e9, {}, first)->nearest.distance, tree.nearest(p, q)->nearest.distance);
        // One that is cut off does not count.
        EXPECT_EQ(tree.nearest(p, 1e9, {&ahead, 1}, first)->distance,
                  tree.nearest(p, 1e9, {&ahead, 1})->distance);
        EXPECT_FALSE(tree.nearest(p, tree.nearest(p)->distance * (1 - 1e-12), {}, first));
    }
}

TEST(MeshTree, WithinALimitThereIsOneOrNone) {
    const TriangleMesh mesh = madeScan(20, 20);
    const MeshTree tree(mesh);
    const Vec3 p(0, 0, 300);
    const double distance = tree.nearest(p)->distance;
    EXPECT_TRUE(tree.nearest(p, distance + 1e-9));
    EXPECT_FALSE(tree.nearest(p, distance - 1e-9));
    EXPECT_FALSE(tree.nearest(p, 0));
    EXPECT_FALSE(tree.nearest(p, -1));
}

TEST(MeshTree, OneTriangleOrManyInOnePlaceOrALineOfThem) {
    TriangleMesh mesh;
    EXPECT_FALSE(MeshTree(mesh).nearest(Vec3::Zero()));
    mesh.vertices = {{0, 0, 0}, {10, 0, 0}, {0, 10, 0}};
    mesh.triangles = {{0, 1, 2}};
    EXPECT_DOUBLE_EQ(MeshTree(mesh).nearest({2, 2, 5})->distance, 5);
    mesh.triangles.assign(5000, {0, 1, 2});
    EXPECT_DOUBLE_EQ(MeshTree(mesh).nearest({2, 2, 5})->distance, 5);
    // Sizes from a hundredth of a millimetre to a kilometre in a row: the tree leans, and still finds.
    TriangleMesh row;
    for (int i = 0; i < 4000; ++i) {
        const double x = 1e-2 * std::pow(10.0, 8.0 * i / 4000);
        const auto first = static_cast<std::uint32_t>(row.vertices.size());
        row.vertices.insert(row.vertices.end(), {{x, 0, 0}, {1.001 * x, 0, 0}, {x, 0, 0}});
        row.triangles.push_back({first, first + 1, first + 2});
    }
    const MeshTree tree(row);
    EXPECT_NEAR(tree.nearest({1.0, 3, 4})->distance, byLookingAtAll(row, {1.0, 3, 4}), 1e-9);
    EXPECT_NEAR(tree.nearest({1e5, 3, 4})->distance, byLookingAtAll(row, {1e5, 3, 4}), 1e-9);
}

TEST(MeshTree, FarFromTheOriginItIsAsExact) {
    TriangleMesh mesh = madeScan(20, 30);
    const Vec3 p(200, 100, 300);
    const double near_by = MeshTree(mesh).nearest(p)->distance;
    const Vec3 far(4.5e6, -5.2e5, 1.0e4);
    for (Vec3& vertex : mesh.vertices) vertex += far;
    EXPECT_NEAR(MeshTree(mesh).nearest(p + far)->distance, near_by, 1e-8);
}

std::vector<HalfSpace> someBox() {
    return {{{-300, 0, 0}, Vec3::UnitX()},
            {{500, 0, 0}, -Vec3::UnitX()},
            {{0, 0, 200}, Vec3(0.2, 0.3, 1).normalized()}};
}

TEST(MeshTree, WhatIsClippedAwayIsNotMeasured) {
    std::mt19937_64 random(14);
    std::uniform_real_distribution<double> place(-1500, 1500);
    const TriangleMesh mesh = madeScan(12, 16);  // large triangles, so that many are cut
    const std::vector<HalfSpace> keep = someBox();
    const TriangleMesh cut = clipped(mesh, keep);
    ASSERT_FALSE(cut.triangles.empty());
    for (const Vec3& vertex : cut.vertices)
        for (const HalfSpace& side : keep) EXPECT_GT(side.n.dot(vertex - side.p), -1e-9);
    const MeshTree tree(mesh);
    for (int i = 0; i < 200; ++i) {
        const Vec3 p(place(random), place(random), place(random));
        EXPECT_NEAR(tree.nearest(p, MeshTree::kAnyDistance, keep)->distance, byLookingAtAll(cut, p), 1e-9);
    }
    const HalfSpace nothing{{9000, 0, 0}, Vec3::UnitX()};
    EXPECT_FALSE(tree.nearest(Vec3::Zero(), MeshTree::kAnyDistance, {&nothing, 1}));
    EXPECT_TRUE(clipped(mesh, {&nothing, 1}).triangles.empty());
}

double area(const TriangleMesh& mesh) {
    double sum = 0;
    for (const Corners& corners : mesh.triangles) {
        const Triangle t = triangleOf(mesh, corners);
        sum += (t.b - t.a).cross(t.c - t.a).norm() / 2;
    }
    return sum;
}

TEST(Clip, BothSidesOfAPlaneMakeUpTheWhole) {
    const TriangleMesh mesh = madeScan(12, 16);
    HalfSpace side{{100, 30, 250}, Vec3(1, 2, -0.5).normalized()};
    const double first = area(clipped(mesh, {&side, 1}));
    side.n = -side.n;
    EXPECT_GT(first, 0.1 * area(mesh));
    EXPECT_NEAR(first + area(clipped(mesh, {&side, 1})), area(mesh), 1e-6 * area(mesh));
}

TEST(Thin, IsNoMoreThanAskedAndNoFartherOffThanItSays) {
    const TriangleMesh mesh = madeScan(100, 120);
    const MeshTree tree(mesh);
    for (const std::size_t most : {12000u, 3000u, 100u, 1u}) {
        const ThinnedMesh thin = thinned(mesh, most);
        EXPECT_LE(thin.mesh.triangles.size(), most);
        if (most >= 100) {
            EXPECT_GT(thin.mesh.triangles.size(), most / 5);
        }
        EXPECT_GT(thin.error, 0);
        for (const Corners& corners : thin.mesh.triangles) {
            const Triangle t = triangleOf(thin.mesh, corners);
            for (const Vec3& p : {t.a, Vec3((t.a + t.b + t.c) / 3), Vec3((t.b + t.c) / 2)})
                EXPECT_LE(tree.nearest(p)->distance, thin.error * (1 + 1e-9));
        }
    }
    EXPECT_EQ(thinned(mesh, 1000000).mesh.triangles.size(), mesh.triangles.size());
    EXPECT_EQ(thinned(mesh, 1000000).error, 0);
}

TEST(Edges, OpenAndSharedByMoreAreCounted) {
    // A box of a fan round one edge: three triangles share it.
    TriangleMesh mesh;
    mesh.vertices = {{0, 0, 0}, {0, 0, 1}, {1, 0, 0}, {0, 1, 0}, {-1, 0, 0}};
    mesh.triangles = {{0, 1, 2}, {1, 0, 3}, {0, 1, 4}};
    EXPECT_EQ(countEdges(mesh).open, 6u);
    EXPECT_EQ(countEdges(mesh).shared_by_more, 1u);
    mesh.vertices = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
    mesh.triangles = {{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {2, 0, 3}};
    EXPECT_EQ(countEdges(mesh).open, 0u);
    EXPECT_EQ(countEdges(mesh).shared_by_more, 0u);
    mesh = madeScan(7, 5);
    EXPECT_EQ(countEdges(mesh).open, 2u * (7 + 5));
}

}  // namespace
}  // namespace hoopwright
