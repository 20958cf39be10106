// Turning and moving everything together, or looking at it in a mirror, changes no length, angle or cut.
#include <gtest/gtest.h>

#include <numbers>

#include "core/geometry/cope.h"
#include "core/geometry/distance.h"
#include "tests/core/geometry/random_tubes.h"

namespace hoopwright {
namespace {

using std::numbers::pi;

constexpr double kExact_mm = 1e-7;

/// A turn about any axis and a move of up to a couple of metres; or that seen in the car's mirror.
struct Motion {
    Eigen::Matrix3d turn = Eigen::Matrix3d::Identity();
    Vec3 by = Vec3::Zero();
    bool mirror = false;

    static Motion any(std::mt19937_64& random, bool in_mirror = false) {
        std::uniform_real_distribution<double> angle(-pi, pi), place(-2000, 2000);
        Motion out;
        out.turn = Eigen::AngleAxisd(angle(random), randomUnit(random)).toRotationMatrix();
        out.by = {place(random), place(random), place(random)};
        out.mirror = in_mirror;
        return out;
    }
    Vec3 direction(const Vec3& d) const { return turn * (mirror ? mirrored(d) : d); }
    Vec3 point(const Vec3& p) const { return direction(p) + by; }
    Centreline line(const Centreline& was) const {
        std::vector<Piece> pieces(was.pieces().begin(), was.pieces().end());
        for (Piece& piece : pieces) {
            piece.start = point(piece.start);
            piece.tangent = direction(piece.tangent);
            piece.centre = point(piece.centre);
            // An axis of turning is a sense, not a direction: a mirror turns it over.
            piece.axis = (mirror ? -1 : 1) * direction(piece.axis);
        }
        return Centreline(std::move(pieces));
    }
};

class Moved : public testing::TestWithParam<bool> {
protected:
    std::mt19937_64 random{GetParam() ? 101u : 100u};
    Motion any() { return Motion::any(random, GetParam()); }
};
INSTANTIATE_TEST_SUITE_P(Any, Moved, testing::Bool(),
                         [](const auto& it) { return it.param ? "InTheMirror" : "TurnedAndMoved"; });

TEST_P(Moved, ATubeKeepsItsLengthsAndItsBends) {
    for (int i = 0; i < 60; ++i) {
        const Centreline tube = randomTube(random);
        const Motion motion = any();
        const Centreline there = motion.line(tube);
        ASSERT_NEAR(there.length_mm(), tube.length_mm(), kExact_mm);
        for (const double share : {0.0, 0.13, 0.5, 0.87, 1.0}) {
            const double s = share * tube.length_mm();
            EXPECT_LT((there.point(s) - motion.point(tube.point(s))).norm(), kExact_mm);
            EXPECT_LT((there.tangent(s) - motion.direction(tube.tangent(s))).norm(), 1e-9);
        }
        const BendTable a = bendTable(tube), b = bendTable(there);
        ASSERT_EQ(a.rows.size(), b.rows.size());
        for (std::size_t k = 0; k < a.rows.size(); ++k) {
            EXPECT_NEAR(a.rows[k].straight_before_mm, b.rows[k].straight_before_mm, kExact_mm);
            EXPECT_NEAR(a.rows[k].angle_rad, b.rows[k].angle_rad, 1e-12);
            const double turned = GetParam() ? -b.rows[k].rotation_rad : b.rows[k].rotation_rad;
            EXPECT_NEAR(std::remainder(a.rows[k].rotation_rad - turned, 2 * pi), 0, 1e-9);
        }
    }
}

TEST_P(Moved, TheNearestStationIsTheSame) {
    std::uniform_real_distribution<double> place(-1200, 1200);
    for (int i = 0; i < 60; ++i) {
        const Centreline tube = randomTube(random);
        const Motion motion = any();
        const Vec3 p(place(random), place(random), place(random));
        const double s = tube.nearestStation(p);
        const Centreline there = motion.line(tube);
        // Two places as near as each other may change places by rounding; the distance may not change.
        EXPECT_NEAR((there.point(there.nearestStation(motion.point(p))) - motion.point(p)).norm(),
                    (tube.point(s) - p).norm(), kExact_mm);
    }
}

TEST_P(Moved, PlanesAreCrossedAtTheSameStations) {
    std::uniform_real_distribution<double> place(-500, 500);
    int crossed = 0;
    for (int i = 0; i < 60; ++i) {
        const Centreline tube = randomTube(random);
        const Motion motion = any();
        const Vec3 p = tube.point(tube.length_mm() / 3) + 20 * randomUnit(random), n = randomUnit(random);
        const auto here = tube.crossings(p, n);
        const auto there = motion.line(tube).crossings(motion.point(p), motion.direction(n));
        ASSERT_EQ(here.size(), there.size());
        for (std::size_t k = 0; k < here.size(); ++k) EXPECT_NEAR(here[k], there[k], 1e-6);
        crossed += static_cast<int>(here.size());
    }
    EXPECT_GE(crossed, 40);
}

TEST_P(Moved, TubesAreAsFarApart) {
    for (int i = 0; i < 40; ++i) {
        const Centreline a = randomTube(random), b = randomTube(random);
        const Motion motion = any();
        EXPECT_NEAR(nearest(a, b).distance_mm, nearest(motion.line(a), motion.line(b)).distance_mm,
                    2 * kDistanceError_mm);
        EXPECT_NEAR(nearest(a, b).distance_mm, nearest(b, a).distance_mm, 2 * kDistanceError_mm)
            << "whichever is asked first";
        EXPECT_NEAR(nearest(a, b).distance_mm, nearest(a.reversed(), b).distance_mm, 2 * kDistanceError_mm)
            << "whichever end is first";
    }
}

TEST_P(Moved, PlanesAndSegmentsAreAsFar) {
    for (int i = 0; i < 40; ++i) {
        const Centreline tube = randomTube(random);
        const Motion motion = any();
        const Centreline there = motion.line(tube);
        const Vec3 p = 500 * randomUnit(random), n = randomUnit(random), q = p + 700 * randomUnit(random);
        EXPECT_NEAR(nearestToPlane(tube, p, n).distance_mm,
                    nearestToPlane(there, motion.point(p), motion.direction(n)).distance_mm, kExact_mm);
        EXPECT_NEAR(tubeOverPlane_mm(tube, 20, p, n),
                    tubeOverPlane_mm(there, 20, motion.point(p), motion.direction(n)), 1e-6);
        EXPECT_NEAR(nearestToSegment(tube, p, q).distance_mm,
                    nearestToSegment(there, motion.point(p), motion.point(q)).distance_mm,
                    2 * kDistanceError_mm);
    }
}

TEST_P(Moved, AHelmetIsAsNear) {
    for (int i = 0; i < 30; ++i) {
        const Centreline tube = randomTube(random);
        const Motion motion = any();
        Ellipsoid helmet{600 * randomUnit(random), Eigen::Matrix3d::Identity(), {170, 130, 140}};
        Ellipsoid there = helmet;
        there.centre = motion.point(helmet.centre);
        for (int axis = 0; axis < 3; ++axis) there.axes.col(axis) = motion.direction(helmet.axes.col(axis));
        EXPECT_NEAR(nearest(tube, helmet).distance_mm, nearest(motion.line(tube), there).distance_mm, 1e-5);
        const Vec3 p = helmet.centre + 300 * randomUnit(random);
        EXPECT_NEAR(helmet.toPoint(p).distance_mm, there.toPoint(motion.point(p)).distance_mm, 1e-6);
        const Vec3 d = randomUnit(random);
        EXPECT_LT((motion.point(helmet.support(d)) - there.support(motion.direction(d))).norm(), 1e-6);
    }
}

/// A branch on a tube, 35 to 90 degrees to it, away from its ends.
struct Landed {
    CopeEnd end;
    double station_mm = 0;
};
Landed anyLanding(std::mt19937_64& random, const Centreline& host) {
    std::uniform_real_distribution<double> where(0.35, 0.65), angle(35 * pi / 180, pi / 2), radius(14, 19);
    Landed out;
    out.station_mm = where(random) * host.length_mm();
    const Vec3 along = host.tangent(out.station_mm);
    const Vec3 away = along.cross(randomUnit(random)).normalized();
    const double theta = angle(random);
    out.end.foot = host.point(out.station_mm);
    out.end.inward = std::cos(theta) * along + std::sin(theta) * away;
    out.end.clock = out.end.inward.unitOrthogonal();
    out.end.outer_radius_mm = radius(random);
    out.end.bore_radius_mm = out.end.outer_radius_mm - 2.5;
    return out;
}

TEST_P(Moved, ACutIsTheSame) {
    constexpr std::size_t kStations = 36;
    int compared = 0;
    for (int i = 0; i < 60; ++i) {
        const Centreline host = randomTube(random);
        const Landed landed = anyLanding(random, host);
        const Motion motion = any();
        const Centreline there = motion.line(host);
        CopeEnd end = landed.end;
        end.foot = motion.point(end.foot);
        end.inward = motion.direction(end.inward);
        end.clock = motion.direction(end.clock);
        const std::vector<CopeHost> before = {CopeTube{&host, 22.5, landed.station_mm}};
        const std::vector<CopeHost> after = {CopeTube{&there, 22.5, landed.station_mm}};
        const auto a = cope(landed.end, before, kStations), b = cope(end, after, kStations);
        ASSERT_EQ(static_cast<bool>(a), static_cast<bool>(b));
        if (!a) continue;
        // In the mirror stations run the other way round.
        for (std::size_t k = 0; k < kStations; ++k) {
            const std::size_t other = GetParam() ? (kStations - k) % kStations : k;
            EXPECT_EQ(a->outer.missed[k], b->outer.missed[other]);
            if (a->outer.missed[k]) continue;
            EXPECT_NEAR(a->outer.s_mm[k], b->outer.s_mm[other], 1e-6);
            EXPECT_NEAR(a->bore.s_mm[k], b->bore.s_mm[other], 1e-6);
            ++compared;
        }
        EXPECT_NEAR(a->grind_mm, b->grind_mm, 1e-5);
        EXPECT_NEAR(a->mean_cut_mm, b->mean_cut_mm, 1e-5);
    }
    EXPECT_GE(compared, 1500);
}

// What a cut says of itself holds for any branch: the bore never has less to grind than nothing, the mean
// lies between the extremes, the weld is longer than the tube is round.
TEST_P(Moved, ACutIsSound) {
    for (int i = 0; i < 60; ++i) {
        const Centreline host = randomTube(random);
        const Landed landed = anyLanding(random, host);
        const std::vector<CopeHost> hosts = {CopeTube{&host, 22.5, landed.station_mm}};
        const auto cut = cope(landed.end, hosts, 48);
        ASSERT_TRUE(cut) << cut.reason();
        ASSERT_EQ(cut->outer.s_mm.size(), 48u);
        ASSERT_EQ(cut->to_full_wall_mm.size(), 48u);
        for (std::size_t k = 0; k < 48; ++k) {
            EXPECT_GE(cut->to_full_wall_mm[k], 0);
            EXPECT_LE(cut->to_full_wall_mm[k], cut->grind_mm + 1e-9);
            EXPECT_GE(cut->outer.s_mm[k], cut->outer.least_mm - 1e-9);
            EXPECT_LE(cut->outer.s_mm[k], cut->outer.greatest_mm + 1e-9);
        }
        EXPECT_GT(cut->mean_cut_mm, std::min(cut->outer.least_mm, cut->bore.least_mm));
        EXPECT_LT(cut->mean_cut_mm, std::max(cut->outer.greatest_mm, cut->bore.greatest_mm));
        EXPECT_GT(cut->least_dihedral_rad, 0);
        EXPECT_LT(cut->least_dihedral_rad, pi);
        if (cut->outer.missedCount() == 0) {
            EXPECT_GE(cut->edge_length_mm, 2 * pi * landed.end.outer_radius_mm * (1 - 1e-3));
        }
        // Every ordinate is that of the host's wall: nearer than the micrometre a saw knows.
        for (std::size_t k = 0; k < 48; ++k) {
            if (cut->outer.missed[k]) continue;
            const double phi = 2 * pi * static_cast<double>(k) / 48;
            const Vec3 side = landed.end.inward.cross(landed.end.clock);
            const Vec3 p =
                landed.end.foot +
                landed.end.outer_radius_mm * (std::cos(phi) * landed.end.clock + std::sin(phi) * side) +
                cut->outer.s_mm[k] * landed.end.inward;
            EXPECT_NEAR((host.point(host.nearestStation(p)) - p).norm(), 22.5, 1e-6);
        }
    }
}

TEST(WeldLength, OfAnEqualTeeNeedsNoFineStations) {
    const std::vector<PathPoint> path = {{{-1000, 0, 0}}, {{1000, 0, 0}}};
    const Centreline host = makeCentreline(path).line;
    CopeEnd end;
    end.inward = Vec3::UnitZ();
    end.clock = Vec3(1, 0.3, 0).normalized();  // so that no station is at a corner
    end.outer_radius_mm = 22.5;
    end.bore_radius_mm = 20;
    const std::vector<CopeHost> hosts = {CopeTube{&host, 22.5, 1000}};
    // 4 sqrt(2) r E(1/2): two half ellipses that meet at the flanks.
    for (const int stations : {8, 12, 36, 90, 720}) {
        EXPECT_NEAR(cope(end, hosts, stations)->edge_length_mm, 171.908901, 0.02) << stations;
    }
}

}  // namespace
}  // namespace hoopwright
