#include "core/geometry/cope.h"

#include <gtest/gtest.h>

#include <numbers>

#include "tests/degrees.h"
#include "tests/outside/records.h"

namespace hoopwright {
namespace {

using std::numbers::pi;

Centreline straightHeader() {
    const std::vector<PathPoint> path = {{{-2000, 0, 0}}, {{2000, 0, 0}}};
    return makeCentreline(path).line;
}

/// Header along x, branch in the xz plane at `angle`, moved `offset` along y; phi from the acute side towards
/// +y.
CopeEnd branchOn(double angle_deg, double offset, double od, double wall) {
    const double angle = angle_deg * kDegree;
    CopeEnd end;
    end.foot = {0, offset, 0};
    end.inward = {std::cos(angle), 0, std::sin(angle)};
    end.clock = {std::sin(angle), 0, -std::cos(angle)};
    end.outer_radius_mm = od / 2;
    end.bore_radius_mm = od / 2 - wall;
    return end;
}

CopeProfile onStraight(const CopeEnd& end, double header_od, int stations) {
    const Centreline header = straightHeader();
    const std::vector<CopeHost> hosts = {CopeTube{&header, header_od / 2, 2000}};
    const auto profile = cope(end, hosts, stations);
    EXPECT_TRUE(profile) << profile.reason();
    return *profile;
}

/// A case and the records of its stations.
struct CopeCase {
    Record head;
    std::vector<Record> stations;
};

std::vector<CopeCase> casesOf(const std::string& file) {
    std::vector<CopeCase> all;
    for (const Record& record : recordsOf(file)) {
        if (record.word(0) == "cope") {
            all.push_back({record, {}});
        } else {
            all.back().stations.push_back(record);
        }
    }
    return all;
}

CopeEnd branchOf(const CopeCase& c) {
    return branchOn(c.head.number(5), c.head.number(6), c.head.number(2), c.head.number(3));
}

TEST(Outside_Copes, OnAStraightTheOrdinatesAreThoseOfTwoCylinders) {
    int missed = 0;
    for (const CopeCase& c : casesOf("copes_on_straight.csv")) {
        const CopeProfile profile = onStraight(branchOf(c), c.head.number(4), 36);
        ASSERT_EQ(c.stations.size(), 36u);
        for (size_t i = 0; i < 36; ++i) {
            const Record& want = c.stations[i];
            ASSERT_EQ(profile.outer.missed[i], !want.has(2)) << c.head.word(1) << " at " << want.word(1);
            ASSERT_EQ(profile.bore.missed[i], !want.has(3)) << c.head.word(1) << " at " << want.word(1);
            const std::string where = c.head.word(1) + " at " + want.word(1);
            if (want.has(2)) {
                EXPECT_NEAR(profile.outer.s_mm[i], want.number(2), 1e-9) << where;
            }
            if (want.has(3)) {
                EXPECT_NEAR(profile.bore.s_mm[i], want.number(3), 1e-9) << where;
            }
            missed += profile.outer.missed[i] + profile.bore.missed[i];
        }
    }
    EXPECT_EQ(missed, 16);
}

TEST(Outside_Copes, OnAStraightTheExtremesFallBetweenStations) {
    int checked = 0;
    for (const CopeCase& c : casesOf("copes_on_straight.csv")) {
        if (!c.head.has(7)) continue;
        const CopeProfile profile = onStraight(branchOf(c), c.head.number(4), 36);
        EXPECT_NEAR(profile.outer.least_mm, c.head.number(7), 1e-8) << c.head.word(1);
        EXPECT_NEAR(profile.outer.greatest_mm, c.head.number(8), 1e-8) << c.head.word(1);
        ++checked;
    }
    EXPECT_EQ(checked, 7);
}

// Where the extremes of C4, C6 and C7 are, from the same source: 111.4828, 194.4775 (or 345.5225), 98.3417
// and 354.6111 deg.
TEST(Outside_Copes, OnAStraightTheExtremesAreAtTheirAngles) {
    const CopeProfile c4 = onStraight(branchOn(60, 0, 38, 2.5), 45, 36);
    EXPECT_NEAR(std::abs(std::remainder(c4.outer.least_phi_rad, 2 * pi)), 111.4828 * kDegree,
                5e-5 * kDegree * 2);
    const CopeProfile c6 = onStraight(branchOn(90, 5, 40, 2), 50, 36);
    EXPECT_NEAR(std::abs(std::remainder(c6.outer.greatest_phi_rad - 1.5 * pi, 2 * pi)), 75.5225 * kDegree,
                1e-4 * kDegree);
    const CopeProfile c7 = onStraight(branchOn(55, 3, 38, 2.5), 45, 36);
    EXPECT_NEAR(c7.outer.least_phi_rad, 98.3417 * kDegree, 1e-4 * kDegree);
    EXPECT_NEAR(c7.outer.greatest_phi_rad, 354.6111 * kDegree, 1e-4 * kDegree);
}

// Volumes from the same source, checked to 2e-8 of themselves, to 5e-6 for equal and flush tubes: their cut
// has a sharp valley.
TEST(Outside_Copes, VolumesOfCopedTubes) {
    for (const CopeCase& c : casesOf("copes_on_straight.csv")) {
        if (!c.head.has(9)) continue;
        const CopeEnd end = branchOf(c);
        const double volume = copedVolume_mm3(end, onStraight(end, c.head.number(4), 36), 200);
        const bool sharp = std::abs(c.head.number(4) - c.head.number(2) - 2 * c.head.number(6)) < 1e-9;
        const bool nearly = c.head.word(1) == "C7";  // 0.5 mm from flush
        const double share = sharp ? 5e-6 : nearly ? 1e-7 : 2e-8;
        EXPECT_NEAR(volume, c.head.number(9), share * volume) << c.head.word(1);
    }
}

TEST(Outside_Copes, OnABendTheOrdinatesAreThoseOfLineAndTorus) {
    const std::vector<PathPoint> path = {{{150, -400, 0}}, {{150, 150, 0}, 150}, {{-400, 150, 0}}};
    const Centreline header = makeCentreline(path).line;  // the bend from 0 to 90 degrees round the origin
    const Piece& bend = header.pieces()[1];
    for (const CopeCase& c : casesOf("copes_on_bend.csv")) {
        const auto vector = [&](size_t at) {
            return Vec3(c.head.number(at), c.head.number(at + 1), c.head.number(at + 2));
        };
        CopeEnd end;
        // The middle of the arc stands for the ring: T1 to T3 and T5 are given at its start, so they are
        // turned 45 degrees.
        const bool at_start = vector(5).y() == 0;
        const Eigen::AngleAxisd turn(at_start ? 45 * kDegree : 0, Vec3::UnitZ());
        end.foot = turn * vector(5);
        end.inward = turn * vector(8);
        end.clock = turn * vector(11);
        end.outer_radius_mm = c.head.number(2);
        end.bore_radius_mm = end.outer_radius_mm - 2.5;
        // Where phi runs the other way round, the case is the same seen in a mirror.
        const Vec3 side = vector(8).cross(vector(11));
        const bool other_way = side.dot(vector(14)) < 0;
        ASSERT_LT((side - (other_way ? -1 : 1) * vector(14)).norm(), 1e-7);
        const double station = bend.station_mm + 150 * (at_start ? 45 : 40) * kDegree;
        const std::vector<CopeHost> hosts = {CopeTube{&header, c.head.number(3), station}};
        const auto profile = cope(end, hosts, 36);
        ASSERT_TRUE(profile) << profile.reason();
        double least_dihedral = 180;
        for (size_t i = 0; i < 36; ++i) {
            const Record& station_of_case = c.stations[other_way ? (36 - i) % 36 : i];
            const double want = station_of_case.number(2);
            const double tolerance =
                want == 0 ? 1e-6 : 1e-9;  // equal walls are tangent at 0: the root of the rounding
            EXPECT_NEAR(profile->outer.s_mm[i], want, tolerance)
                << c.head.word(1) << " " << station_of_case.word(1);
            least_dihedral = std::min(least_dihedral, c.stations[i].number(3));
        }
        EXPECT_LE(profile->least_dihedral_rad / kDegree, least_dihedral + 1e-3);
        EXPECT_GE(profile->least_dihedral_rad / kDegree, least_dihedral - 1);
    }
}

// From the same source: least and greatest s, mm. Square to the bend's plane the greatest is by hand: a
// generator at cos phi = -r / 2R lies over the ring itself, so s is the header's radius there.
TEST(Outside_Copes, OnABendTheExtremes) {
    const std::vector<PathPoint> path = {{{150, -400, 0}}, {{150, 150, 0}, 150}, {{-400, 150, 0}}};
    const Centreline header = makeCentreline(path).line;
    const double station = header.pieces()[1].station_mm + 150 * 45 * kDegree;
    const Vec3 out = Vec3(1, 1, 0).normalized();
    const auto extremes = [&](const Vec3& inward, double radius) {
        CopeEnd end;
        end.foot = 150 * out;
        end.inward = inward;
        end.clock = inward.unitOrthogonal();
        end.outer_radius_mm = radius;
        end.bore_radius_mm = radius - 2.5;
        const std::vector<CopeHost> hosts = {CopeTube{&header, 22.5, station}};
        const auto profile = cope(end, hosts, 36);
        return std::pair(profile->outer.least_mm, profile->outer.greatest_mm);
    };
    const auto [t1_least, t1_greatest] = extremes(out, 19);
    EXPECT_NEAR(t1_least, 12.051970793, 1e-9);
    EXPECT_NEAR(t1_greatest, 21.450430154, 1e-9);
    const auto [t2_least, t2_greatest] = extremes(-out, 19);
    EXPECT_NEAR(t2_least, 12.051970793, 1e-9);
    EXPECT_NEAR(t2_greatest, 23.923634253, 1e-9);
    const auto [t3_least, t3_greatest] = extremes(Vec3::UnitZ(), 19);
    EXPECT_NEAR(t3_least, 12.051970793, 1e-9);
    EXPECT_NEAR(t3_greatest, 22.5, 1e-9);
    const auto [t5_least, t5_greatest] = extremes(out, 22.5);
    EXPECT_NEAR(t5_least, 0, 1e-6);  // the walls are tangent there: s is the root of the rounding
    EXPECT_NEAR(t5_greatest, 21.026313765, 1e-9);
}

TEST(Outside_Copes, FeatherEdgesRoundTheEnd) {
    int checked = 0;
    for (const Record& row : recordsOf("feather_edges.csv")) {
        const CopeProfile profile =
            onStraight(branchOn(row.number(3), 0, row.number(0), row.number(1)), row.number(2), 18);
        const auto i = static_cast<size_t>(std::lround(row.number(4) / 20));
        EXPECT_NEAR(profile.bore.s_mm[i] - profile.outer.s_mm[i], row.number(5), 2e-6);
        EXPECT_NEAR(profile.to_full_wall_mm[i], std::max(0.0, row.number(5)), 2e-6);
        ++checked;
    }
    EXPECT_EQ(checked, 600);
}

// Equal diameters at the ears: length to full wall sqrt(t (D - t)) / sin theta, and the listed values, from
// the same source.
TEST(Outside_Copes, FeatherEdgeAtTheEarsOfEqualTubes) {
    const double rows[][3] = {{45, 2.5, 10.307764},       {38, 2.5, 9.420722},
                              {40, 2, 8.717798},          {50, 2, 9.797959},
                              {44.45, 2.413, 10.071508},  {44.45, 3.048, 11.233579},
                              {41.275, 2.1082, 9.086883}, {38.1, 2.413, 9.279695}};
    for (const auto& [od, wall, grind] : rows) {
        const CopeProfile square = onStraight(branchOn(90, 0, od, wall), od, 36);
        EXPECT_NEAR(square.grind_mm, grind, 5e-7);
        EXPECT_NEAR(std::abs(std::remainder(square.grind_phi_rad, pi)), pi / 2, 1e-6);
        const CopeProfile slant = onStraight(branchOn(60, 0, od, wall), od, 36);
        EXPECT_NEAR(slant.grind_mm, std::sqrt(wall * (od - wall)) / std::sin(60 * kDegree), 1e-8);
    }
}

TEST(Outside_Copes, LengthAndLeastDihedralOfTheWeld) {
    for (const Record& row : recordsOf("weld_lengths.csv")) {
        const CopeProfile profile =
            onStraight(branchOn(row.number(2), 0, row.number(0), 2.5), row.number(1), 720);
        EXPECT_NEAR(profile.edge_length_mm, row.number(3), 1e-3 * row.number(3));
        EXPECT_NEAR(profile.least_dihedral_rad / kDegree, row.number(4), 1e-3);
    }
}

// Equal tee: 4 sqrt(2) r E(1/2), E the complete elliptic integral of the second kind: 171.908901 mm for 45
// on 45.
TEST(Outside_Copes, LengthOfAnEqualTee) {
    EXPECT_NEAR(onStraight(branchOn(90, 0, 45, 2.5), 45, 720).edge_length_mm, 171.908901, 2e-3);
}

}  // namespace
}  // namespace hoopwright
