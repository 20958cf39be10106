// How far a rule says an eye is inside the sheet over the bars, against CGAL's convex hull of many points of
// the same bars.
#ifdef HOOPWRIGHT_HAVE_CGAL
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polyhedron_3.h>
#include <CGAL/convex_hull_3.h>

#include <cmath>
#include <random>

#include "tests/rules/test_cage.h"

namespace hoopwright::test {
namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Point = Kernel::Point_3;

/// Points evenly over a ball about a place.
void addBall(std::vector<Point>& points, const Vec3& middle, double radius) {
    constexpr int kCount = 2000;
    for (int i = 0; i < kCount; ++i) {
        const double z = 1 - (2 * i + 1.0) / kCount, turn = i * 2.39996322972865332, r = std::sqrt(1 - z * z);
        const Vec3 at = middle + radius * Vec3(r * std::cos(turn), r * std::sin(turn), z);
        points.emplace_back(at.x(), at.y(), at.z());
    }
}

/// Least height of a point under the faces of the hull.
double depthByCgal(const std::vector<Point>& points, const Vec3& eye) {
    CGAL::Polyhedron_3<Kernel> hull;
    CGAL::convex_hull_3(points.begin(), points.end(), hull);
    double least = 1e300;
    for (auto face = hull.facets_begin(); face != hull.facets_end(); ++face) {
        const auto at = [](auto edge) {
            const Point& p = edge->vertex()->point();
            return Vec3(p.x(), p.y(), p.z());
        };
        const auto edge = face->halfedge();
        const Vec3 a = at(edge);
        const Vec3 cross = (at(edge->next()) - a).cross(at(edge->next()->next()) - a);
        if (cross.norm() > 1e-9) least = std::min(least, cross.normalized().dot(a - eye));
    }
    return least;
}

TEST(EnvelopeQuantity, AgreesWithTheHullOfCgal) {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> place(-1, 1);
    for (int round = 0; round < 5; ++round) {
        Job job = smallJob();
        job.cage.plates.clear();
        job.cage.members.clear();
        std::vector<Point> points;
        for (int i = 0; i < 7; ++i) {
            const auto any = [&] {
                return Vec3(900 * place(random), 700 * place(random), 600 + 600 * place(random));
            };
            const Vec3 from = any(), to = any();
            job.cage.members.push_back(straight("bar_" + std::to_string(i), "roof_bar", from, to));
            addBall(points, from, 22.5);
            addBall(points, to, 22.5);
        }
        job.drivers[0].eye = {200 * place(random), 200 * place(random), 600 + 200 * place(random)};
        const Finding f = finding(job, "measure: inside_envelope\nwith: {part: eye}\nat_least: -5000");
        ASSERT_TRUE(f.value) << f.missing;
        const double theirs = depthByCgal(points, job.drivers[0].eye);
        // A hull of points lies inside the true one, by no more than the balls' facets.
        EXPECT_LE(theirs, *f.value + 1e-6);
        EXPECT_GE(theirs, *f.value - 0.1);
    }
}

}  // namespace
}  // namespace hoopwright::test
#endif
