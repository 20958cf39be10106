#include "core/geometry/distance.h"

#include <gtest/gtest.h>

#include <numbers>

#include "tests/outside/records.h"

namespace hoopwright {
namespace {

using std::numbers::pi;

Vec3 vectorAt(const Record& row, size_t i) {
    return {row.number(i), row.number(i + 1), row.number(i + 2)};
}

Centreline segment(const Vec3& from, const Vec3& to) {
    const std::vector<PathPoint> path = {{from}, {to}};
    return makeCentreline(path).line;
}

/// An arc from u towards v about a centre; by its pieces, as a path cannot say a full circle.
Centreline arc(const Vec3& centre, const Vec3& u, const Vec3& v, double radius, double angle_rad) {
    Piece piece;
    piece.kind = Piece::Kind::bend;
    piece.centre = centre;
    piece.start = centre + radius * u;
    piece.tangent = v;
    piece.axis = u.cross(v);
    piece.radius_mm = radius;
    piece.angle_rad = angle_rad;
    piece.length_mm = radius * angle_rad;
    return Centreline({piece});
}
Centreline circle(const Vec3& centre, const Vec3& u, const Vec3& v, double radius) {
    return arc(centre, u, v, radius, 2 * pi);
}
Centreline flatCircle(double x, double z, double radius) {
    return circle({x, 0, z}, Vec3::UnitX(), Vec3::UnitY(), radius);
}

double between(const Centreline& a, const Centreline& b) {
    return nearest(a, b).distance_mm;
}

TEST(Outside_Distances, RandomSegmentsInExactArithmetic) {
    for (const Record& row : recordsOf("segment_distances.csv")) {
        const Centreline a = segment(vectorAt(row, 0), vectorAt(row, 3)),
                         b = segment(vectorAt(row, 6), vectorAt(row, 9));
        const Nearest n = nearest(a, b);
        EXPECT_NEAR(n.distance_mm, row.number(12), 1e-9);
        EXPECT_NEAR(n.station_a_mm / a.length_mm(), row.number(13), 1e-9);
        EXPECT_NEAR(n.station_b_mm / b.length_mm(), row.number(14), 1e-9);
    }
}

TEST(Outside_Distances, RandomArcsMatchedByTwoMethods) {
    for (const Record& row : recordsOf("arc_distances.csv")) {
        const double degree = pi / 180;
        const Centreline a =
            arc(vectorAt(row, 0), vectorAt(row, 3), vectorAt(row, 6), row.number(9), row.number(10) * degree);
        const bool with_segment = row.word(11) == "seg";
        const Centreline b = with_segment ? segment(vectorAt(row, 12), vectorAt(row, 15))
                                          : arc(vectorAt(row, 12), vectorAt(row, 15), vectorAt(row, 18),
                                                row.number(21), row.number(22) * degree);
        EXPECT_NEAR(between(a, b), row.number(with_segment ? 18 : 23), 2e-6);
    }
}

// Textbook answers: opposite edges of a regular tetrahedron of edge 2 sqrt2 are 2 apart; in a unit cube the
// space diagonal and a skew edge 1/sqrt2, two skew face diagonals 1/sqrt3, a space and a skew face diagonal
// 1/sqrt6.
TEST(Outside_Distances, EdgesOfSolids) {
    EXPECT_NEAR(between(segment({1, 1, 1}, {1, -1, -1}), segment({-1, 1, -1}, {-1, -1, 1})), 2, 1e-12);
    EXPECT_NEAR(between(segment({0, 0, 0}, {1, 1, 1}), segment({1, 0, 0}, {1, 0, 1})), std::sqrt(1. / 2),
                1e-12);
    EXPECT_NEAR(between(segment({0, 0, 0}, {1, 0, 1}), segment({1, 0, 0}, {1, 1, 1})), std::sqrt(1. / 3),
                1e-12);
    EXPECT_NEAR(between(segment({0, 0, 0}, {1, 1, 1}), segment({1, 0, 0}, {0, 0, 1})), std::sqrt(1. / 6),
                1e-12);
}

// Closed forms by hand.
TEST(Outside_Distances, SegmentsWithClampedEnds) {
    const Centreline x = segment({0, 0, 0}, {100, 0, 0});
    EXPECT_NEAR(between(x, segment({50, -50, 30}, {50, 50, 30})), 30, 1e-12);
    EXPECT_NEAR(between(x, segment({130, 40, 0}, {130, 100, 0})), 50, 1e-12);
    EXPECT_NEAR(between(x, segment({20, 0, 25}, {180, 0, 25})), 25, 1e-12);
    EXPECT_NEAR(between(x, segment({140, 0, 0}, {200, 0, 0})), 40, 1e-12);
    EXPECT_NEAR(between(x, segment({40, 30, 10}, {40, 80, 60})), 31.6227766017, 1e-9);
    EXPECT_NEAR(between(x, segment({50, 0, 0}, {50, 70, 0})), 0, 1e-12);
    EXPECT_NEAR(between(x, segment({130, 40, 0}, {230, 40, 0})), 50, 1e-12);
    EXPECT_NEAR(between(x, segment({120, -50, 30}, {120, 50, 30})), 36.0555127546, 1e-9);
    EXPECT_NEAR(between(segment({0, 0, 0}, {1000, 0, 0}), segment({0, 10, 0}, {1000, 10.000001, 0})), 10,
                1e-12);
    EXPECT_NEAR(nearestToSegment(segment({0, 0, 0}, {0, 0, 10}), {3, 4, 0}, {3, 4, 0}).distance_mm, 5, 1e-12);
}

// sqrt((rho - R)^2 + z^2) and its like, by hand.
TEST(Outside_Distances, PointsSegmentsAndCircles) {
    const Centreline ring = flatCircle(0, 0, 150);
    EXPECT_NEAR(nearest(ring, Vec3(200, 0, 80)).distance_mm, 94.3398113206, 1e-9);
    EXPECT_NEAR(between(ring, segment({0, 60, 40}, {400, 60, 40})), 40, kDistanceError_mm);
    EXPECT_NEAR(between(ring, segment({-300, 180, 40}, {300, 180, 40})), 50, kDistanceError_mm);
    EXPECT_NEAR(between(ring, segment({210, 0, -100}, {210, 0, 300})), 60, kDistanceError_mm);
    EXPECT_NEAR(between(ring, segment({90, 0, -100}, {90, 0, 300})), 60, kDistanceError_mm);
    const Centreline quarter = arc(Vec3::Zero(), Vec3::UnitX(), Vec3::UnitY(), 150, pi / 2);
    EXPECT_NEAR(between(quarter, segment({-100, -50, 0}, {-100, -200, 0})), 223.60679775, 1e-6);
}

TEST(Outside_Distances, PairsOfCircles) {
    const Centreline ring = flatCircle(0, 0, 150);
    EXPECT_NEAR(between(ring, flatCircle(0, 80, 90)), 100, kDistanceError_mm);
    EXPECT_NEAR(between(ring, flatCircle(300, 0, 100)), 50, kDistanceError_mm);
    EXPECT_NEAR(between(ring, flatCircle(50, 0, 60)), 40, kDistanceError_mm);
    EXPECT_NEAR(between(ring, circle({260, 0, 0}, Vec3::UnitX(), Vec3::UnitZ(), 60)), 50, kDistanceError_mm);
}

// Two equal circles at right angles, each through the other's centre: the distance is the radius from
// everywhere.
TEST(Outside_Distances, LinkedCirclesAreARadiusApartEverywhere) {
    EXPECT_NEAR(between(flatCircle(0, 0, 150), circle({150, 0, 0}, Vec3::UnitX(), Vec3::UnitZ(), 150)), 150,
                kDistanceError_mm);
}

// A flat-ended tube of radius 22.5 on a slope over a floor: the rim is 60 - 22.5 cos(atan(40 / 800)) up, not
// 60 - 22.5.
TEST(Outside_Distances, ATubeOverAFloorStandsOnItsRim) {
    const double over =
        tubeOverPlane_mm(segment({0, 0, 100}, {800, 0, 60}), 22.5, Vec3::Zero(), Vec3::UnitZ());
    EXPECT_NEAR(over, 37.5280723752, 1e-9);
}

}  // namespace
}  // namespace hoopwright
