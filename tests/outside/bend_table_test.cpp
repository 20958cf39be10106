#include <gtest/gtest.h>

#include <numbers>

#include "core/geometry/centreline.h"
#include "tests/degrees.h"
#include "tests/outside/records.h"

namespace hoopwright {
namespace {

/// A case of bend_tables.csv: points, the table they must give.
struct Case {
    std::string name;
    std::vector<PathPoint> path;
    std::vector<Record> bends;
    double last_straight = 0, developed = 0;
};

std::vector<Case> cases() {
    std::vector<Case> all;
    for (const Record& record : recordsOf("bend_tables.csv")) {
        if (record.word(0) == "case") all.push_back({record.word(1), {}, {}, 0, 0});
        Case& last = all.back();
        if (record.word(0) == "point") {
            last.path.push_back({{record.number(1), record.number(2), record.number(3)}, 0});
        } else if (record.word(0) == "bend") {
            last.bends.push_back(record);
            last.path.at(last.bends.size()).bend_radius_mm = record.number(4);
        } else if (record.word(0) == "end") {
            last.last_straight = record.number(1);
            last.developed = record.number(2);
        }
    }
    return all;
}

TEST(Outside_BendTables, PointsGiveTheLengthsRotationsAndAngles) {
    int bends = 0;
    for (const Case& c : cases()) {
        const BendTable table = bendTable(makeCentreline(c.path).line);
        ASSERT_EQ(table.rows.size(), c.bends.size()) << c.name;
        for (size_t i = 0; i < c.bends.size(); ++i, ++bends) {
            const BendRow& row = table.rows[i];
            const Record& want = c.bends[i];
            EXPECT_NEAR(row.straight_before_mm, want.number(1), 1e-8) << c.name;
            EXPECT_NEAR(std::remainder(row.rotation_rad - want.number(2) * kDegree, 2 * std::numbers::pi), 0,
                        1e-10)
                << c.name;
            EXPECT_NEAR(row.angle_rad, want.number(3) * kDegree, 1e-11) << c.name;
            EXPECT_NEAR(row.arc_mm, want.number(5), 1e-8) << c.name;
            EXPECT_NEAR(row.mark_start_mm, want.number(6), 1e-8) << c.name;
            EXPECT_NEAR(row.mark_end_mm, want.number(7), 1e-8) << c.name;
        }
        EXPECT_NEAR(table.last_straight_mm, c.last_straight, 1e-8) << c.name;
        EXPECT_NEAR(table.developed_mm, c.developed, 1e-8) << c.name;
    }
    EXPECT_EQ(bends, 24);
}

TEST(Outside_BendTables, TheTableWalkedForwardEndsAtTheLastPoint) {
    for (const Case& c : cases()) {
        const BendTable table = bendTable(makeCentreline(c.path).line);
        const Vec3 feed = (c.path[1].at - c.path[0].at).normalized();
        const Vec3 next = c.path[2].at - c.path[1].at;
        const Centreline walked =
            walkBendTable(table, c.path[0].at, feed, (next - feed.dot(next) * feed).normalized());
        EXPECT_LT((walked.end() - c.path.back().at).norm(), 1e-9) << c.name;
    }
}

// By hand: feed +X, first bend towards +Y. Length 100, 90 deg radius 30; length 50, rotation 90, 180 deg
// radius 50; length 150. Ends of the bends (130, 30, 0) and (130, 80, 100), end (130, -70, 100), 300 + 65 pi
// long.
TEST(Outside_BendTables, AWalkDoneByHand) {
    BendTable table;
    table.rows.push_back({.straight_before_mm = 100, .angle_rad = 90 * kDegree, .radius_mm = 30});
    table.rows.push_back({.straight_before_mm = 50,
                          .rotation_rad = 90 * kDegree,
                          .angle_rad = 180 * kDegree,
                          .radius_mm = 50});
    table.last_straight_mm = 150;
    const Centreline line = walkBendTable(table, Vec3::Zero(), Vec3::UnitX(), Vec3::UnitY());
    EXPECT_LT((line.pieces()[1].end() - Vec3(130, 30, 0)).norm(), 1e-12);
    EXPECT_LT((line.pieces()[3].end() - Vec3(130, 80, 100)).norm(), 1e-12);
    EXPECT_LT((line.end() - Vec3(130, -70, 100)).norm(), 1e-12);
    EXPECT_NEAR(line.length_mm(), 504.203522483, 5e-10);
}

}  // namespace
}  // namespace hoopwright
