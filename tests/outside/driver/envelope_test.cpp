// How far inside a straightedge over the outer tubes a body is, against CGAL's convex hull of many points of
// the same tubes, and against boxes whose answer is plain.
#include "core/geometry/envelope.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "core/driver/body.h"
#include "core/driver/clearance.h"

#ifdef HOOPWRIGHT_HAVE_CGAL
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polyhedron_3.h>
#include <CGAL/convex_hull_3.h>
#endif

namespace hoopwright {
namespace {

bool anyWay(const Vec3&) {
    return true;
}

Centreline lineOf(const std::vector<PathPoint>& path) {
    return makeCentreline(path).line;
}

TEST(Straightedge, OverABoxOfTubesIsPlain) {
    // Baja SAE official answers of 2009, section 31: the edge is laid on any two outside points of the cage.
    // Here on a box of 1000 x 800 x 1200 to the middles of tubes of 25.4.
    std::vector<ResolvedMember> posts;
    for (const double x : {0.0, 1000.0})
        for (const double y : {-400.0, 400.0}) {
            ResolvedMember post;
            post.section = {25.4, 3.05};
            post.line = lineOf({{{x, y, 0}, 0}, {{x, y, 1200}, 0}});
            posts.push_back(post);
        }
    CageGeometry cage;
    cage.members = posts;
    const int all[] = {0, 1, 2, 3};
    const Envelope sheet = envelopeOf(cage, all);
    const BodySolid helmet[] = {
        {BodyPart::helmet, 0, Ellipsoid{{500, 100, 900}, Eigen::Matrix3d::Identity(), {170, 130, 140}}}};
    EXPECT_NEAR(depthInside(sheet, helmet, &facesSidesOrUp).depth_mm,
                std::min(400 + 12.7 - 100 - 130, 1200 + 12.7 - 900 - 140), 1e-3);
    const BodySolid arm[] = {{BodyPart::arm, 1, Capsule{{500, 0, 600}, {500, 320, 500}, 45}}};
    EXPECT_NEAR(depthInside(sheet, arm, &anyWay).depth_mm, 400 + 12.7 - 320 - 45, 1e-3);
}

#ifdef HOOPWRIGHT_HAVE_CGAL
using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Point = Kernel::Point_3;

/// Points evenly over a ball of a radius.
std::vector<Vec3> ball(double radius) {
    std::vector<Vec3> out;
    constexpr int kCount = 400;
    for (int i = 0; i < kCount; ++i) {
        const double z = 1 - (2 * i + 1.0) / kCount, turn = i * 2.39996322972865332;
        out.push_back(radius *
                      Vec3(std::sqrt(1 - z * z) * std::cos(turn), std::sqrt(1 - z * z) * std::sin(turn), z));
    }
    return out;
}

/// Least depth of a convex body under the faces of CGAL's hull.
double depthByCgal(const std::vector<Centreline>& lines, double radius, const Solid& body) {
    std::vector<Point> points;
    const std::vector<Vec3> skin = ball(radius);
    for (const Centreline& line : lines)
        for (const double station : line.sampleStations(0.05))
            for (const Vec3& p : skin) {
                const Vec3 at = line.point(station) + p;
                points.emplace_back(at.x(), at.y(), at.z());
            }
    CGAL::Polyhedron_3<Kernel> hull;
    CGAL::convex_hull_3(points.begin(), points.end(), hull);
    double least = 1e300;
    for (auto face = hull.facets_begin(); face != hull.facets_end(); ++face) {
        const auto at = [&](auto edge) {
            const Point& p = edge->vertex()->point();
            return Vec3(p.x(), p.y(), p.z());
        };
        const auto edge = face->halfedge();
        const Vec3 a = at(edge), b = at(edge->next()), c = at(edge->next()->next());
        const Vec3 cross = (b - a).cross(c - a);
        if (cross.norm() < 1e-9) continue;
        const Vec3 n = cross.normalized();
        least = std::min(least, n.dot(a) - n.dot(support(body, n)));
    }
    return least;
}

TEST(Straightedge, AgreesWithTheHullOfCgal) {
    std::mt19937 random(31);
    std::uniform_real_distribution<double> place(-1, 1);
    const auto point = [&](double reach) {
        return Vec3(reach * place(random), reach * place(random), reach * place(random));
    };
    for (int round = 0; round < 6; ++round) {
        std::vector<Centreline> lines;
        std::vector<EnvelopeTube> tubes;
        for (int i = 0; i < 8; ++i)
            lines.push_back(lineOf({{point(900), 0}, {point(900), 135}, {point(900), 0}}));
        for (const Centreline& line : lines) tubes.push_back({&line, 22.5});
        const Envelope sheet(tubes);
        const Solid bodies[] = {Ellipsoid{point(150), Eigen::Matrix3d::Identity(), {170, 130, 140}},
                                Capsule{point(200), point(200), 45}};
        for (const Solid& body : bodies) {
            const double mine =
                sheet.depth([&](const Vec3& n) { return support(body, n); }, &anyWay).depth_mm;
            const double theirs = depthByCgal(lines, 22.5, body);
            // Their hull is of points: it lies inside the true one by up to the ball's facets, 22.5 mm at 400
            // points.
            EXPECT_LE(theirs, mine + 1e-6);
            EXPECT_GE(theirs, mine - 0.35);
        }
    }
}
#endif

}  // namespace
}  // namespace hoopwright
