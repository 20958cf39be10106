#include "core/geometry/cope.h"

#include <gmock/gmock.h>

#include <numbers>

#include "tests/core/geometry/random_tubes.h"
#include "tests/degrees.h"

namespace hoopwright {
namespace {

using std::numbers::pi;
using testing::HasSubstr;

Centreline tubeLine(std::vector<PathPoint> path) {
    return makeCentreline(path).line;
}
Centreline longHost() {
    return tubeLine({{{-1000, 0, 0}}, {{1000, 0, 0}}});
}

/// A branch at `angle` to the x axis in the xz plane, clocked to the side of the acute angle, on the z side.
CopeEnd endAt(const Vec3& foot, double angle_rad, double radius, double wall) {
    CopeEnd end;
    end.foot = foot;
    end.inward = {std::cos(angle_rad), 0, std::sin(angle_rad)};
    end.clock = {std::sin(angle_rad), 0, -std::cos(angle_rad)};
    end.outer_radius_mm = radius;
    end.bore_radius_mm = radius - wall;
    return end;
}

Vec3 onCut(const CopeEnd& end, double radius, double phi, double s) {
    return end.foot + radius * (std::cos(phi) * end.clock + std::sin(phi) * end.inward.cross(end.clock)) +
           s * end.inward;
}

double phiOf(size_t i, size_t n) {
    return 2 * pi * static_cast<double>(i) / static_cast<double>(n);
}

CopeProfile profileOf(const CopeEnd& end, const std::vector<CopeHost>& hosts, int stations = 72) {
    const auto profile = cope(end, hosts, stations);
    EXPECT_TRUE(profile) << profile.reason();
    return *profile;
}

std::string whyNot(const CopeEnd& end, const std::vector<CopeHost>& hosts) {
    const auto profile = cope(end, hosts, 36);
    return profile ? "there is a cope" : profile.reason();
}

/// Height over a tube's wall.
double over(const Centreline& line, double radius, const Vec3& p) {
    return (line.point(line.nearestStation(p)) - p).norm() - radius;
}

/// Every met station lies on the host's wall, and the generator is clear of it farther out.
void expectFirstMeeting(const CopeEnd& end, double radius, const CopeEdge& edge, const Centreline& host,
                        double host_radius) {
    for (size_t i = 0; i < edge.s_mm.size(); ++i) {
        if (edge.missed[i]) continue;
        const double phi = phiOf(i, edge.s_mm.size());
        ASSERT_NEAR(over(host, host_radius, onCut(end, radius, phi, edge.s_mm[i])), 0, kCopeError_mm);
        for (double out = 0.25; out < 60; out *= 1.7) {
            ASSERT_GT(over(host, host_radius, onCut(end, radius, phi, edge.s_mm[i] + out)), -1e-6);
        }
    }
}

struct RandomEnd {
    CopeEnd end;
    double station;
};

/// A branch of 15 to 20 mm radius that lands between 25 and 90 degrees, any way round, a little off the
/// middle.
RandomEnd randomEnd(std::mt19937_64& random, const Centreline& host, double from, double to) {
    std::uniform_real_distribution<double> place(from, to), angle(25 * kDegree, 90 * kDegree), radius(15, 20),
        off(-2, 2);
    const double station = place(random);
    const Vec3 along = host.tangent(station);
    const Vec3 out = along.cross(randomUnit(random)).normalized();
    const double theta = angle(random);
    CopeEnd end;
    end.foot = host.point(station) + off(random) * along.cross(out);
    end.inward = std::cos(theta) * along + std::sin(theta) * out;
    end.clock = end.inward.cross(randomUnit(random)).normalized();
    end.outer_radius_mm = radius(random);
    end.bore_radius_mm = end.outer_radius_mm - 2.5;
    return {end, station};
}

TEST(Cope, OnAStraightEverySampleIsOnTheHostAndNothingIsMetBefore) {
    std::mt19937_64 random(41);
    const Centreline host = tubeLine({{{300, -700, 200}}, {{-500, 900, 1100}}});
    for (int i = 0; i < 200; ++i) {
        const auto [end, station] = randomEnd(random, host, 400, 1600);
        const CopeProfile profile = profileOf(end, {CopeTube{&host, 22.5, station}});
        ASSERT_EQ(profile.outer.missedCount(), 0);
        expectFirstMeeting(end, end.outer_radius_mm, profile.outer, host, 22.5);
        expectFirstMeeting(end, end.bore_radius_mm, profile.bore, host, 22.5);
    }
}

TEST(Cope, OnABendEverySampleIsOnTheHostAndNothingIsMetBefore) {
    std::mt19937_64 random(42);
    const Centreline host =
        tubeLine({{{0, 600, 0}}, {{0, 600, 1000}, 150}, {{200, -600, 1000}, 120}, {{200, -600, 0}}});
    const Piece& bend = host.pieces()[1];
    int inside = 0;
    for (int i = 0; i < 300; ++i) {
        // Some land on the bend, some on the straight beside it.
        const auto [end, station] =
            randomEnd(random, host, bend.station_mm - 120, bend.station_mm + bend.length_mm + 120);
        // A flat branch on the inside of a bend would run into the bend again, and is no joint.
        const Vec3 to_centre = (bend.centre - host.point(station)).normalized();
        const bool inwards = end.inward.dot(to_centre) > 0.2;
        if (inwards && end.inward.cross(host.tangent(station)).norm() < 0.9) continue;
        inside += inwards;
        const CopeProfile profile = profileOf(end, {CopeTube{&host, 22.5, station}}, 40);
        ASSERT_EQ(profile.outer.missedCount(), 0) << i;
        expectFirstMeeting(end, end.outer_radius_mm, profile.outer, host, 22.5);
        expectFirstMeeting(end, end.bore_radius_mm, profile.bore, host, 22.5);
    }
    EXPECT_GT(inside, 10);
}

TEST(Cope, ExtremesAreNoLessThanAnyStationOfAFineCut) {
    std::mt19937_64 random(43);
    const Centreline host =
        tubeLine({{{0, 600, 0}}, {{0, 600, 1000}, 150}, {{200, -600, 1000}, 120}, {{200, -600, 0}}});
    for (int i = 0; i < 30; ++i) {
        const auto [end, station] = randomEnd(random, host, 300, 1100);
        const std::vector<CopeHost> hosts = {CopeTube{&host, 22.5, station}};
        const CopeProfile coarse = profileOf(end, hosts, 12);
        const CopeProfile fine = profileOf(end, hosts, 3600);
        for (double s : fine.outer.s_mm) {
            ASSERT_LE(s, coarse.outer.greatest_mm + 1e-9);
            ASSERT_GE(s, coarse.outer.least_mm - 1e-9);
        }
        for (double g : fine.to_full_wall_mm) ASSERT_LE(g, coarse.grind_mm + 1e-9);
        EXPECT_NEAR(coarse.outer.greatest_mm, *std::ranges::max_element(fine.outer.s_mm), 1e-3);
        EXPECT_NEAR(coarse.outer.least_mm, *std::ranges::min_element(fine.outer.s_mm), 1e-3);
        EXPECT_NEAR(coarse.grind_mm, *std::ranges::max_element(fine.to_full_wall_mm), 1e-3);
        EXPECT_NEAR(coarse.least_dihedral_rad, fine.least_dihedral_rad, 1e-6);
        EXPECT_NEAR(coarse.edge_length_mm, fine.edge_length_mm, fine.edge_length_mm * 1e-3);
    }
}

TEST(Cope, StationsOfAnyNumberSampleTheSameCut) {
    const Centreline host = longHost();
    const CopeEnd end = endAt({0, 2, 0}, 55 * kDegree, 19, 2.5);
    const CopeProfile all = profileOf(end, {CopeTube{&host, 22.5, 1000}}, 720);
    for (int n : {9, 17, 100, 719, 1440, 8, 36, 48, 180, 240}) {
        const CopeProfile some = profileOf(end, {CopeTube{&host, 22.5, 1000}}, n);
        ASSERT_EQ(some.outer.s_mm.size(), static_cast<size_t>(n));
        ASSERT_EQ(some.to_full_wall_mm.size(), static_cast<size_t>(n));
        EXPECT_NEAR(some.outer.greatest_mm, all.outer.greatest_mm, 1e-10);
        EXPECT_NEAR(some.outer.least_mm, all.outer.least_mm, 1e-10);
        if (720 % n != 0) continue;
        EXPECT_EQ(some.bore.s_mm[1], all.bore.s_mm[static_cast<size_t>(720 / n)]);
    }
}

TEST(Cope, TurningTheClockTurnsTheCut) {
    const Centreline host = longHost();
    const CopeEnd end = endAt({0, 2, 0}, 55 * kDegree, 19, 2.5);
    CopeEnd turned = end;
    turned.clock = Eigen::AngleAxisd(30 * kDegree, end.inward) * end.clock;
    const CopeProfile one = profileOf(end, {CopeTube{&host, 22.5, 1000}}, 36);
    const CopeProfile other = profileOf(turned, {CopeTube{&host, 22.5, 1000}}, 36);
    for (size_t i = 0; i < 36; ++i) EXPECT_NEAR(other.outer.s_mm[i], one.outer.s_mm[(i + 3) % 36], 1e-10);
    EXPECT_NEAR(other.outer.greatest_mm, one.outer.greatest_mm, 1e-10);
}

TEST(Cope, OfEqualTubesHasItsCornersWhateverTheClock) {
    const Centreline host = longHost();
    for (double turn : {0.0, 0.3, 1.0, 2.2}) {
        CopeEnd end = endAt({0, 0, 0}, 60 * kDegree, 22.5, 2.5);
        end.clock = Eigen::AngleAxisd(turn, end.inward) * end.clock;
        const CopeProfile profile = profileOf(end, {CopeTube{&host, 22.5, 1000}}, 36);
        EXPECT_EQ(profile.outer.missedCount(), 0);
        EXPECT_NEAR(profile.outer.least_mm, 0, 1e-8);
        EXPECT_NEAR(std::abs(std::remainder(profile.outer.least_phi_rad + turn, pi)), pi / 2, 1e-8);
        EXPECT_NEAR(profile.outer.greatest_mm, 22.5 / std::tan(30 * kDegree), 1e-9);
        EXPECT_NEAR(profile.least_dihedral_rad, 60 * kDegree, 1e-8);
    }
}

TEST(Cope, AHairOffEqualMissesOnlyAHair) {
    const Centreline host = longHost();
    const CopeProfile profile =
        profileOf(endAt({0, 0.01, 0}, 60 * kDegree, 22.5, 2.5), {CopeTube{&host, 22.5, 1000}}, 720);
    EXPECT_GT(profile.outer.missedCount(), 0);
    EXPECT_LE(profile.outer.missedCount(), 9);
    EXPECT_EQ(profile.bore.missedCount(), 0);
    for (size_t i = 1; i < 720; ++i) EXPECT_NEAR(profile.outer.s_mm[i], profile.outer.s_mm[i - 1], 1.0);
}

TEST(Cope, AMissGivesThePlaceWhereTheHostComesNearest) {
    const Centreline host = longHost();
    const CopeEnd end = endAt({0, 8, 0}, 70 * kDegree, 19, 2.5);
    const CopeProfile profile = profileOf(end, {CopeTube{&host, 22.5, 1000}}, 360);
    ASSERT_TRUE(profile.outer.missed[90]);
    const double s = profile.outer.s_mm[90];
    const double gap = over(host, 22.5, onCut(end, 19, pi / 2, s));
    EXPECT_NEAR(gap, 8 + 19 - 22.5, 1e-9);
    EXPECT_LT(gap, over(host, 22.5, onCut(end, 19, pi / 2, s + 0.5)));
    EXPECT_LT(gap, over(host, 22.5, onCut(end, 19, pi / 2, s - 0.5)));
}

TEST(Cope, AMissBesideABendGivesThePlaceWhereItComesNearest) {
    const Centreline host = tubeLine({{{-600, 0, 0}}, {{0, 0, 0}, 150}, {{0, -600, 0}}});
    const double station = host.pieces()[1].station_mm + 0.5 * host.pieces()[1].length_mm;
    const Vec3 out = (host.point(station) - host.pieces()[1].centre).normalized();
    CopeEnd end;
    end.foot = host.point(station) + 10 * out;
    end.inward = Vec3::UnitZ();
    end.clock = out;
    end.outer_radius_mm = 19;
    end.bore_radius_mm = 16.5;
    const CopeProfile profile = profileOf(end, {CopeTube{&host, 22.5, station}}, 72);
    ASSERT_TRUE(profile.outer.missed[0]);
    EXPECT_NEAR(profile.outer.s_mm[0], 0, 1e-6);
    EXPECT_FALSE(profile.outer.missed[36]);
    expectFirstMeeting(end, 19, profile.outer, host, 22.5);
}

TEST(Cope, WhatHangsOverTheHostsEndIsMissedAndCutAsIfItWentOn) {
    const Centreline long_host = longHost();
    const Centreline short_host = tubeLine({{{-1000, 0, 0}}, {{5, 0, 0}}});
    const CopeEnd end = endAt({0, 0, 0}, 90 * kDegree, 19, 2.5);
    const CopeProfile whole = profileOf(end, {CopeTube{&long_host, 22.5, 1000}});
    const CopeProfile cut = profileOf(end, {CopeTube{&short_host, 22.5, 1000}});
    for (size_t i = 0; i < 72; ++i) {
        EXPECT_NEAR(cut.outer.s_mm[i], whole.outer.s_mm[i], 1e-10);
        EXPECT_EQ(cut.outer.missed[i], 19 * std::cos(phiOf(i, 72)) > 5);
    }
    EXPECT_LT(cut.edge_length_mm, 0.7 * whole.edge_length_mm);
}

TEST(Cope, ABendAtTheVeryEndIsCarriedOnStraight) {
    const Centreline line = tubeLine({{{-600, 0, 0}}, {{0, 0, 0}, 150}, {{0, -150, 0}}});
    ASSERT_EQ(line.pieces().back().kind, Piece::Kind::bend);
    CopeEnd end;
    end.foot = line.end();
    end.inward = Vec3::UnitZ();
    end.clock = Vec3::UnitY();
    end.outer_radius_mm = 19;
    end.bore_radius_mm = 16.5;
    const CopeProfile profile = profileOf(end, {CopeTube{&line, 22.5, line.length_mm()}}, 72);
    EXPECT_TRUE(profile.outer.missed[36]);  // y < -150: past the end
    EXPECT_FALSE(profile.outer.missed[0]);  // y > -150: on the bend
    EXPECT_NEAR(profile.outer.s_mm[36], 22.5, 1e-9);
    EXPECT_NEAR(profile.outer.s_mm[18], std::sqrt(22.5 * 22.5 - 19 * 19), 0.1);
}

TEST(Cope, SeveralHostsCutAsTheOutermostOfThem) {
    std::mt19937_64 random(44);
    const Centreline main = longHost();
    const Centreline other = tubeLine({{{0, 0, 0}}, {{400, 300, 300}}});
    for (int i = 0; i < 40; ++i) {
        const auto [end, station] = randomEnd(random, main, 900, 1100);
        const CopeHost a = CopeTube{&main, 22.5, station}, b = CopeTube{&other, 19, 0};
        if (end.inward.cross(other.tangent(0)).norm() < 0.3) continue;
        const CopeProfile both = profileOf(end, {a, b}), first = profileOf(end, {a});
        const auto second = cope(end, std::vector<CopeHost>{b}, 72);
        for (size_t k = 0; k < 72; ++k) {
            const bool second_met = second && !second->outer.missed[k];
            const double expected =
                second_met ? std::max(first.outer.s_mm[k], second->outer.s_mm[k]) : first.outer.s_mm[k];
            EXPECT_NEAR(both.outer.s_mm[k], expected, 1e-12);
        }
        EXPECT_GE(both.outer.greatest_mm, first.outer.greatest_mm - 1e-9);
    }
}

TEST(Cope, AnotherHostTheBranchRunsAlongIsLeftOut) {
    const Centreline main = longHost();
    const CopeEnd end = endAt({0, 0, 0}, 60 * kDegree, 19, 2.5);
    const Centreline opposite = tubeLine({{{0, 0, 0}}, {-500 * end.inward}});
    const CopeProfile both = profileOf(end, {CopeTube{&main, 22.5, 1000}, CopeTube{&opposite, 22.5, 0}});
    const CopeProfile one = profileOf(end, {CopeTube{&main, 22.5, 1000}});
    EXPECT_EQ(both.outer.s_mm, one.outer.s_mm);
}

TEST(Cope, OnAPlateIsAnEllipseInItsFace) {
    const CopePlane face{{10, 20, 30}, Vec3::UnitZ()};
    CopeEnd square = endAt({0, 0, 50}, 90 * kDegree, 22.5, 2.5);
    const CopeProfile flat = profileOf(square, {face});
    for (double s : flat.outer.s_mm) EXPECT_NEAR(s, -20, 1e-12);
    EXPECT_NEAR(flat.edge_length_mm, 2 * pi * 22.5, 1e-2);
    EXPECT_NEAR(flat.least_dihedral_rad, pi / 2, 1e-12);
    EXPECT_EQ(flat.grind_mm, 0);
    const CopeEnd leaning = endAt({0, 0, 30}, 60 * kDegree, 22.5, 2.5);
    const CopeProfile slant = profileOf(leaning, {face});
    EXPECT_NEAR(slant.outer.greatest_mm, 22.5 / std::tan(60 * kDegree), 1e-9);
    EXPECT_NEAR(slant.outer.least_mm, -22.5 / std::tan(60 * kDegree), 1e-9);
    EXPECT_NEAR(slant.least_dihedral_rad, 60 * kDegree, 1e-9);
    EXPECT_NEAR(slant.grind_mm, 2.5 / std::tan(60 * kDegree), 1e-9);
    for (size_t i = 0; i < 72; ++i)
        EXPECT_NEAR(onCut(leaning, 22.5, phiOf(i, 72), slant.outer.s_mm[i]).z(), 30, 1e-12);
}

TEST(Cope, VolumeOfAPlaneCutIsThatOfTheTubeToItsMiddle) {
    const CopeEnd end = endAt({0, 0, 30}, 60 * kDegree, 22.5, 2.5);
    const CopeProfile slant = profileOf(end, {CopePlane{{0, 0, 30}, Vec3::UnitZ()}});
    EXPECT_NEAR(copedVolume_mm3(end, slant, 200), pi * (22.5 * 22.5 - 20 * 20) * 200, 1e-6);
}

TEST(Cope, GrindIsHowFarTheBoreEdgeLiesBehind) {
    const Centreline host = longHost();
    const CopeEnd end = endAt({0, 3, 0}, 50 * kDegree, 19, 2.5);
    const CopeProfile profile = profileOf(end, {CopeTube{&host, 22.5, 1000}});
    int leads = 0;
    for (size_t i = 0; i < 72; ++i) {
        const double behind = profile.bore.s_mm[i] - profile.outer.s_mm[i];
        EXPECT_DOUBLE_EQ(profile.to_full_wall_mm[i], std::max(behind, 0.0));
        leads += behind < 0;
    }
    EXPECT_GT(leads, 5);
}

TEST(Cope, ASolidBarHasABoreEdgeOnItsAxis) {
    const Centreline host = longHost();
    const CopeProfile profile =
        profileOf(endAt({0, 0, 0}, 90 * kDegree, 10, 10), {CopeTube{&host, 22.5, 1000}});
    for (double s : profile.bore.s_mm) EXPECT_NEAR(s, 22.5, 1e-12);
}

TEST(Cope, SaysWhyThereIsNone) {
    const Centreline host = longHost();
    EXPECT_THAT(whyNot(endAt({0, 0, 0}, 1 * kDegree, 19, 2.5), {CopeTube{&host, 22.5, 1000}}),
                HasSubstr("runs along"));
    EXPECT_THAT(whyNot(endAt({0, 0, 0}, -60 * kDegree, 19, 2.5), {CopePlane{}}), HasSubstr("runs along"));
    EXPECT_THAT(whyNot(endAt({0, 60, 0}, 60 * kDegree, 19, 2.5), {CopeTube{&host, 22.5, 1000}}),
                HasSubstr("without meeting"));
    EXPECT_THAT(whyNot(endAt({0, 0, 0}, 60 * kDegree, 0, 0), {CopeTube{&host, 22.5, 1000}}),
                HasSubstr("no wall"));
    EXPECT_THAT(whyNot(endAt({0, std::nan(""), 0}, 1, 19, 2), {CopeTube{&host, 22.5, 1000}}),
                HasSubstr("no place"));
}

}  // namespace
}  // namespace hoopwright
