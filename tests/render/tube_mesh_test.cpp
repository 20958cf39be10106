#include "render/tube_mesh.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "render/weld_bead.h"
#include "tests/render/mesh_check.h"

namespace hoopwright {
namespace {

using testing_render::openEdges;
using testing_render::polygonShare;
using testing_render::volume;

constexpr double kPi = std::numbers::pi;

Centreline hoop() {
    return makeCentreline(
               std::vector<PathPoint>{
                   {{0, 600, 0}, 0}, {{0, 600, 1000}, 150}, {{80, -600, 1100}, 130}, {{0, -600, 0}, 0}})
        .line;
}
Centreline straight(double length) {
    return makeCentreline(std::vector<PathPoint>{{{0, 0, 0}, 0}, {{length, 0, 0}, 0}}).line;
}

TEST(TubeMesh, AStraightTubeIsClosedAndHasExactlyThePolygonsVolume) {
    const Centreline line = straight(700);
    const TubeSection section{45, 2.5};
    for (const int sides : {8, 24, 40}) {
        TubeDetail detail;
        detail.sides = sides;
        const Mesh mesh = tubeMesh(TubeSweep(line, Vec3::UnitZ()), section, TubeCut::square(sides),
                                   TubeCut::square(sides), detail);
        EXPECT_EQ(openEdges(mesh), 0);
        // Metal of a round tube: area x length (section tables; area pi (D - t) t).
        const double exact = section.area_mm2() * 700 * polygonShare(sides);
        EXPECT_NEAR(volume(mesh) / exact, 1, 1e-5);
    }
}

TEST(TubeMesh, ABentTubeHasTheVolumePappusGives) {
    // Pappus of Alexandria: area x way of the centroid. Chords of 0.02 mm error lose a few parts in ten
    // thousand.
    const Centreline line = hoop();
    const TubeSection section{40, 2};
    TubeDetail detail;
    detail.sides = 48;
    detail.chord_error_mm = 0.02;
    const Mesh mesh =
        tubeMesh(TubeSweep(line, Vec3::UnitX()), section, TubeCut::square(48), TubeCut::square(48), detail);
    EXPECT_EQ(openEdges(mesh), 0);
    EXPECT_NEAR(volume(mesh) / (section.area_mm2() * line.length_mm() * polygonShare(48)), 1, 5e-4);
}

TEST(TubeMesh, EveryCornerLiesOnTheTubeAndFacesOutOfTheMetal) {
    const Centreline line = hoop();
    const TubeSection section{40, 2.5};
    TubeDetail detail;
    detail.near_mm = {300, 420, 421};
    const Mesh mesh =
        tubeMesh(TubeSweep(line, Vec3::UnitX()), section, TubeCut::square(32), TubeCut::square(32), detail);
    for (const MeshCorner& corner : mesh.corners) {
        const Vec3 p = corner.at.cast<double>();
        const double radius = (p - line.point(line.nearestStation(p))).norm();
        EXPECT_TRUE(std::abs(radius - 20) < 2e-3 || std::abs(radius - 17.5) < 2e-3) << radius;
        EXPECT_NEAR(corner.normal.norm(), 1, 1e-4);
    }
    for (std::size_t i = 0; i + 2 < mesh.outer_triangles; i += 3) {
        const auto &a = mesh.corners[mesh.triangles[i]], &b = mesh.corners[mesh.triangles[i + 1]],
                   &c = mesh.corners[mesh.triangles[i + 2]];
        const Vec3f n = (b.at - a.at).cross(c.at - a.at);
        if (n.norm() < 1e-3f) continue;
        EXPECT_GT(n.dot(a.normal + b.normal + c.normal), 0);
    }
}

TEST(TubeSweep, TurnsWithoutTwistThroughEveryBend) {
    const Centreline line = hoop();
    const TubeSweep sweep(line, Vec3::UnitX());
    // Carried in small steps, each the least turn from one tangent to the next: the second way to the same
    // frames.
    Vec3 u = sweep.frame(0).u, tangent = line.tangent(0);
    constexpr double kStep = 0.25;
    for (double s = 0; s <= line.length_mm(); s += kStep) {
        const Vec3 next = line.tangent(s);
        u = Eigen::Quaterniond::FromTwoVectors(tangent, next) * u;
        tangent = next;
        const SweepFrame frame = sweep.frame(s);
        ASSERT_NEAR((frame.u - u).norm(), 0, 1e-6) << s;
        ASSERT_NEAR((frame.along.cross(frame.u) - frame.v).norm(), 0, 1e-9);
        ASSERT_NEAR((frame.at - line.point(s)).norm(), 0, 1e-9);
    }
    const SweepFrame beyond = sweep.frame(line.length_mm() + 30);
    EXPECT_NEAR((beyond.at - line.end() - 30 * line.tangent(line.length_mm())).norm(), 0, 1e-9);
}

/// Square on a host of radius R along z: s(phi) = sqrt(R^2 - r^2 sin^2 phi). Source: handbook development of
/// intersecting cylinders, axes meeting at a right angle.
CopeProfile squareCope(int stations, double outer, double bore, double host) {
    CopeProfile profile;
    profile.stations = stations;
    for (int i = 0; i < stations; ++i) {
        const double phi = 2 * kPi * i / stations;
        profile.outer.s_mm.push_back(std::sqrt(host * host - std::pow(outer * std::sin(phi), 2)));
        profile.bore.s_mm.push_back(std::sqrt(host * host - std::pow(bore * std::sin(phi), 2)));
        profile.outer.missed.push_back(false);
        profile.bore.missed.push_back(false);
    }
    return profile;
}

class CopedTube : public ::testing::Test {
protected:
    static constexpr int kSides = 36;
    const Centreline line_ = straight(500);
    const TubeSection section_{38, 2.5};
    const double host_radius_ = 22.5;
    // The host runs along z through both ends; phi = 0 is up, so sin phi is across.
    const CopeProfile profile_ = squareCope(kSides, 19, 16.5, 22.5);
    const TubeSweep sweep_{line_, Vec3::UnitZ()};
    const TubeCut first_ = TubeCut::from(profile_, 0), last_ = TubeCut::from(profile_, 1);

    double toHost(const Vec3& p, double x) const { return std::hypot(p.x() - x, p.y()) - host_radius_; }
};

TEST_F(CopedTube, HasItsCutEdgesOnTheHostAtBothEnds) {
    TubeDetail detail;
    detail.sides = kSides;
    const Mesh mesh = tubeMesh(sweep_, section_, first_, last_, detail);
    EXPECT_EQ(openEdges(mesh), 0);
    for (int k = 0; k <= kSides; ++k)
        EXPECT_NEAR(toHost(mesh.corners[static_cast<std::size_t>(k)].at.cast<double>(), 0), 0, 1e-3);
    int on_first = 0, on_last = 0;
    for (const MeshCorner& corner : mesh.corners) {
        const Vec3 p = corner.at.cast<double>();
        EXPECT_GT(toHost(p, 0), -1e-3);
        EXPECT_GT(toHost(p, 500), -1e-3);
        on_first += std::abs(toHost(p, 0)) < 1e-3;
        on_last += std::abs(toHost(p, 500)) < 1e-3;
    }
    // Outer and bore edge, and both again for the cut face.
    EXPECT_EQ(on_first, 4 * (kSides + 1));
    EXPECT_EQ(on_last, 4 * (kSides + 1));
}

TEST_F(CopedTube, AnUnevenCutFacesTheSameWayAtBothEnds) {
    // A cope that is deep only on the side phi = 90 degrees; counted round the inward axis that is -y at the
    // last end.
    CopeProfile tilted = profile_;
    for (int i = 0; i < kSides; ++i)
        tilted.outer.s_mm[static_cast<std::size_t>(i)] = tilted.bore.s_mm[static_cast<std::size_t>(i)] =
            30 + 10 * std::sin(2 * kPi * i / kSides);
    TubeDetail detail;
    detail.sides = kSides;
    const Mesh mesh = tubeMesh(sweep_, section_, TubeCut::from(tilted, 0), TubeCut::from(tilted, 1), detail);
    const Vec3f& edge_first = mesh.corners[kSides / 4].at;  // side at +v
    const SweepFrame frame = sweep_.frame(0);
    EXPECT_NEAR(edge_first.cast<double>().dot(frame.v), 19, 1e-3);
    EXPECT_NEAR(edge_first.x(), 40, 1e-3);  // phi = 90 degrees: deepest
    // At the last end phi = 90 degrees is inward x clock = -along x clock = -v.
    double at_plus_v = 0;
    for (const MeshCorner& corner : mesh.corners)
        if (corner.at.cast<double>().dot(frame.v) > 18.99)
            at_plus_v = std::max(at_plus_v, 0.0 + corner.at.x());
    EXPECT_NEAR(at_plus_v, 500 - 20, 1e-3);
}

TEST_F(CopedTube, KnowsHowFarEveryCornerIsFromTheWeld) {
    TubeDetail detail;
    detail.sides = kSides;
    detail.bore = false;
    const Mesh mesh = tubeMesh(sweep_, section_, first_, TubeCut::square(kSides), detail);
    for (int k = 0; k <= kSides; ++k) EXPECT_NEAR(mesh.corners[static_cast<std::size_t>(k)].weld_mm, 0, 1e-4);
    float farthest = 0;
    for (const MeshCorner& corner : mesh.corners) farthest = std::max(farthest, corner.weld_mm);
    EXPECT_NEAR(farthest, 500 - profile_.outer.s_mm[kSides / 4], 1e-2);  // the other end is not welded
}

TEST_F(CopedTube, HasABeadBetweenItsSkinAndTheHost) {
    const HostSurfaces host = [&](const Vec3& p) {
        const Vec3 out(p.x(), p.y(), 0);
        return HostSurface{out.normalized(), std::abs(out.norm() - host_radius_)};
    };
    const Mesh bead = weldBead(sweep_, 19, first_, 0, host, 4);
    EXPECT_GT(bead.triangleCount(), 300u);
    for (const MeshCorner& corner : bead.corners) {
        const Vec3 p = corner.at.cast<double>();
        const double from_skin = std::hypot(p.y(), p.z()) - 19, from_host = toHost(p, 0);
        EXPECT_LT(std::max(from_skin, from_host), 5.5);  // never more than a leg and its crown from either
        EXPECT_GT(std::min(from_skin, from_host), -2.0);
        EXPECT_LT(p.x(), 32);
    }
    // It faces out: away from the corner between skin and host.
    int outward = 0, all = 0;
    for (std::size_t i = 0; i + 2 < bead.triangles.size(); i += 3) {
        const auto &a = bead.corners[bead.triangles[i]], &b = bead.corners[bead.triangles[i + 1]],
                   &c = bead.corners[bead.triangles[i + 2]];
        const Vec3f n = (b.at - a.at).cross(c.at - a.at);
        if (n.norm() < 1e-3f) continue;
        ++all;
        outward += n.dot(a.normal + b.normal + c.normal) > 0;
    }
    EXPECT_EQ(outward, all);
    // Its last station lies the edge's length from its first.
    double length = 0;
    for (int k = 0; k < kSides; ++k) {
        const auto edge = [&](int i) {
            const double phi = 2 * kPi * i / kSides;
            return Vec3(profile_.outer.s_mm[static_cast<std::size_t>(i % kSides)], -19 * std::sin(phi),
                        19 * std::cos(phi));
        };
        length += (edge(k + 1) - edge(k)).norm();
    }
    EXPECT_NEAR(bead.corners.back().around, length, 0.01);
}

TEST_F(CopedTube, HasNoBeadWhereTheCutMissesAndNoneWithoutACut) {
    const HostSurfaces host = [](const Vec3&) { return HostSurface{Vec3::UnitX(), 0}; };
    TubeCut half = first_;
    for (int k = 0; k < kSides / 2; ++k) half.missed[static_cast<std::size_t>(k)] = true;
    const Mesh whole = weldBead(sweep_, 19, first_, 0, host, 4),
               part = weldBead(sweep_, 19, half, 0, host, 4);
    EXPECT_LT(part.triangleCount(), 0.55 * static_cast<double>(whole.triangleCount()));
    EXPECT_GT(part.triangleCount(), 0.4 * static_cast<double>(whole.triangleCount()));
    EXPECT_EQ(weldBead(sweep_, 19, TubeCut::square(kSides), 0, host, 4).triangleCount(), 0u);
}

}  // namespace
}  // namespace hoopwright
