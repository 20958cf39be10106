#include "rules/grip_range.h"

#include <gtest/gtest.h>

#include <set>

#include "core/model/resolve.h"
#include "tests/core/edit/demo_job.h"

namespace hoopwright {
namespace {

struct Judged {
    Job job = demoJobValue();
    CageGeometry now = resolve(job);
    std::vector<RuleTableRef> tables;
    Judged() {
        for (const std::string& file : job.cage.rule_files) {
            const auto path = std::filesystem::path(HOOPWRIGHT_SOURCE_DIR) / "data" / "cages" / file;
            const RuleTableResult read = readRuleTable(path);
            EXPECT_TRUE(read.table) << path;
            tables.push_back(read.table);
        }
    }
    Grip grip(const std::string& part, Grip::Kind kind) const {
        for (const Grip& one : gripsOf(job, now, part))
            if (one.kind == kind) return one;
        ADD_FAILURE() << part;
        return {};
    }
    /// The whole of it anew, by other means: how many required findings fail, how many problems there are.
    std::pair<int, std::size_t> countAt(const Grip& grip, const Vec3& place) const {
        const auto cage = pulled(job, now, grip, place, 1e-4);
        if (!cage) return {1000, 1000};
        Job next = job;
        next.cage = *cage;
        const CageGeometry made = resolve(next);
        int fails = 0;
        for (const Finding& finding : check(tables, next, made).findings)
            fails += finding.answer == Answer::fails && finding.severity == Severity::required;
        return {fails, made.problems.size()};
    }
};

TEST(GripRange, EndsWhereTheFullCheckTurnsAndNowhereBefore) {
    const Judged held;
    const auto [fails, problems] = held.countAt(held.grip("belt_bar", Grip::Kind::landing),
                                                held.grip("belt_bar", Grip::Kind::landing).at);
    for (const char* part : {"belt_bar", "door_bar.left", "dash_bar"}) {
        const Grip grip = held.grip(part, Grip::Kind::landing);
        const auto range = gripRange(held.tables, held.job, held.now, grip);
        ASSERT_TRUE(range) << part;
        const Centreline& host = held.now.members[std::size_t(held.now.member(grip.host))].line;
        const Vec3 off = grip.at - host.point(host.nearestStation(grip.at));
        const double low = host.nearestStation(range->low.at - off),
                     high = host.nearestStation(range->high.at - off);
        EXPECT_LE(low, host.nearestStation(grip.at));
        EXPECT_GE(high, host.nearestStation(grip.at));
        for (const auto& [limit, station, out] :
             {std::tuple{range->low, low, -1.0}, std::tuple{range->high, high, 1.0}}) {
            if (limit.why.empty()) continue;
            const auto inside = held.countAt(grip, host.point(station - 0.3 * out) + off);
            const auto beyond = held.countAt(grip, host.point(station + 0.3 * out) + off);
            EXPECT_LE(inside.first, fails) << part << " " << limit.why;
            EXPECT_LE(inside.second, problems) << part << " " << limit.why;
            EXPECT_TRUE(beyond.first > inside.first || beyond.second > inside.second)
                << part << " " << limit.why;
        }
        EXPECT_NEAR((range->track.front() - range->low.at).norm(), 0, 1e-9);
        EXPECT_NEAR((range->track.back() - range->high.at).norm(), 0, 1e-9);
    }
}

TEST(GripRange, ABeltBarIsHeldByTheShoulders) {
    const Judged held;
    const auto range = gripRange(held.tables, held.job, held.now, held.grip("belt_bar", Grip::Kind::bar));
    ASSERT_TRUE(range);
    EXPECT_FALSE(range->high.why.empty());
    EXPECT_LT(range->high.at.z() - range->low.at.z(), 400);
}

TEST(GripRange, TellsWhereARuleThatFailsComesToHold) {
    Judged held;
    for (Member& member : held.job.cage.members)
        if (member.id == "belt_bar")
            for (MemberPoint& point : member.path) std::get<Landing>(point.place).value = 380;
    held.now = resolve(held.job);
    const Grip grip = held.grip("belt_bar", Grip::Kind::bar);
    const auto range = gripRange(held.tables, held.job, held.now, grip);
    ASSERT_TRUE(range);
    ASSERT_FALSE(range->mends.empty());
    for (const GripLimit& mend : range->mends) {
        const Vec3 way = (mend.at - grip.at).normalized();
        EXPECT_GT(mend.at.z(), grip.at.z()) << "upwards to the shoulders";
        EXPECT_LT(held.countAt(grip, mend.at).first, held.countAt(grip, mend.at - 0.3 * way).first)
            << mend.why;
    }
}

TEST(GripRange, AHoopMayLeanAndAPlateHasNoOneWay) {
    const Judged held;
    const Grip lean = held.grip("main_hoop", Grip::Kind::lean);
    const auto range = gripRange(held.tables, held.job, held.now, lean);
    ASSERT_TRUE(range);
    for (const Vec3& place : range->track)
        EXPECT_NEAR((place - lean.pivot).norm(), (lean.at - lean.pivot).norm(), 1e-6);
    EXPECT_FALSE(
        gripRange(held.tables, held.job, held.now, held.grip(held.now.plates.front().id, Grip::Kind::plate)));
}

}  // namespace
}  // namespace hoopwright
