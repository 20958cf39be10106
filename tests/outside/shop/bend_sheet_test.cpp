#include "core/shop/bend_sheet.h"

#include <gtest/gtest.h>

#include <numbers>

#include "core/files/job_file.h"
#include "core/model/resolve.h"
#include "tests/degrees.h"
#include "tests/outside/records.h"

namespace hoopwright {
namespace {

std::vector<Job> demos() {
    std::vector<Job> jobs;
    for (const std::string cage : {"hillclimb_saloon", "mile_pickup"}) {
        const JobResult read = readJob(HOOPWRIGHT_SOURCE_DIR "/data/cages/" + cage + ".yaml");
        if (read.job) jobs.push_back(*read.job);
    }
    return jobs;
}

// Elastic, perfectly plastic tube: the angle left is K times the angle bent, the radius left 1/K times the
// die's. Trial bends made up by it at four angles must give K and the radius back.
TEST(Outside_Springback, TrialBendsOfATubeThatIsElasticAndPlasticGiveItsAnglesAndRadiusBack) {
    int cases = 0;
    for (const Record& row : recordsOf("springback.csv")) {
        const double ratio = row.number(6), radius = row.number(5) / ratio;
        std::vector<BendSample> samples;
        for (const double bent : {20.0, 45.0, 70.0, 100.0})
            samples.push_back({"t", "d", bent * kDegree, bent * ratio * kDegree, radius, ""});
        const Springback fit = springback(samples, "t", "d");
        ASSERT_TRUE(fit.known());
        EXPECT_NEAR(fit.dial_rad(90 * kDegree) / kDegree, row.number(9), 2e-4);  // printed to 6 digits
        EXPECT_LT(fit.interval_rad(90 * kDegree), 1e-9);
        EXPECT_NEAR(*fit.radius_mm, row.number(8), 1e-3 * row.number(8) * 0.01 + 1e-3);
        ++cases;
    }
    EXPECT_EQ(cases, 40);
}

// Points of Student's t: Abramowitz and Stegun, table 26.10, Q(t) = 0.025, from memory.
TEST(Outside_Springback, StudentsPointsAreThoseOfTheTable) {
    for (const auto& [freedom, t] : {std::pair{1, 12.706},
                                     {2, 4.303},
                                     {5, 2.571},
                                     {10, 2.228},
                                     {11, 2.201},
                                     {12, 2.179},
                                     {15, 2.131},
                                     {20, 2.086},
                                     {30, 2.042},
                                     {60, 2.000},
                                     {120, 1.980}})
        EXPECT_NEAR(studentT975(freedom), t, 6e-4) << freedom;
}

// The piping codes take off half of what the skin loses if the middle of the tube is not stretched; a cage is
// judged by the lesser wall.
TEST(Outside_Thinning, IsTwiceWhatTheFactorOfThePipingCodesTakesOff) {
    int cases = 0;
    for (const Record& row : recordsOf("thinning.csv")) {
        Job job;
        job.stock.tubes.push_back(
            {"t", {row.number(0), row.number(1)}, "", TubeForm::seamless, {}, {}, {}, ""});
        const double radius = row.number(2) * row.number(0);
        Die die;
        die.id = "d";
        die.od_mm = row.number(0);
        die.radius_mm = radius;
        job.dies.dies = {die};
        Member member;
        member.id = member.role = "hook";
        member.stock = "t";
        member.path = {
            {FixedPoint{{0, 0, 0}}, {}}, {FixedPoint{{0, 0, 900}}, {}}, {FixedPoint{{900, 0, 900}}, {}}};
        job.cage.members = {member};
        const Expected<BendSheet> sheet = bendSheet(job, resolve(job), 0);
        ASSERT_TRUE(sheet) << sheet.reason();
        EXPECT_NEAR(sheet->bends[0].outer_wall_mm, row.number(3), 1e-6);
        EXPECT_NEAR(100 * sheet->bends[0].wall_lost, row.number(4), 6e-4);
        EXPECT_NEAR(sheet->bends[0].wall_lost, 2 * (1 - row.number(5)), 3e-6);
        ++cases;
    }
    EXPECT_EQ(cases, 56);
}

// Setback T = R tan(A/2), arc R A: hoop of 50 x 40 in outside, 1.75 in tube, radius 6 in, two right angles:
// centreline 2 (40 - .875 - 6) + (50 - 1.75 - 12) + 6 pi = 121.35 in. Worked by hand.
TEST(Outside_BendSheet, AHoopWorkedByHand) {
    Job job;
    job.cage.unit = LengthUnit::in;
    job.stock.tubes.push_back({"t", {1.75 * 25.4, 0.095 * 25.4}, "", TubeForm::seamless, {}, {}, {}, ""});
    Die die;
    die.id = "d";
    die.od_mm = 1.75 * 25.4;
    die.radius_mm = 6 * 25.4;
    die.mark_to_tangent_mm = 0.5 * 25.4;
    job.dies.dies = {die};
    const auto at = [](double y, double z) { return MemberPoint{FixedPoint{Vec3(0, y, z) * 25.4}, {}}; };
    Member hoop;
    hoop.id = hoop.role = "main_hoop";
    hoop.stock = "t";
    hoop.path = {at(24.125, 0), at(24.125, 39.125), at(-24.125, 39.125), at(-24.125, 0)};
    job.cage.members = {hoop};
    const Expected<BendSheet> sheet = bendSheet(job, resolve(job), 0);
    ASSERT_TRUE(sheet) << sheet.reason();
    EXPECT_NEAR(sheet->blank_mm / 25.4, 121.35, 5e-3);
    EXPECT_NEAR(sheet->bends[0].start_mm / 25.4, 33.125, 1e-9);
    EXPECT_NEAR(sheet->bends[0].end_mm / 25.4, 33.125 + 3 * std::numbers::pi, 1e-9);
    ASSERT_TRUE(sheet->bends[0].mark_mm);
    EXPECT_NEAR(*sheet->bends[0].mark_mm / 25.4, 32.625, 1e-9);
    EXPECT_NEAR(sheet->checks[0].value_mm / 25.4, 48.25, 1e-9);  // foot to foot, centres
    EXPECT_NEAR(sheet->checks[1].value_mm / 25.4, 50, 1e-9);     // outside to outside
    EXPECT_NEAR(sheet->checks[2].value_mm / 25.4, 40, 1e-9);     // height, outside
    // One degree at the top of a 40 in leg is .70 in at its foot: common practice; here a quarter.
    EXPECT_NEAR(sheet->bends[1].quarter_bend_mm / 25.4, 33.125 * 0.25 * kDegree, 1e-9);
}

// The figures on the sheet, walked forward, land on the model.
TEST(Outside_BendSheet, OfEveryBentBarOfTheDemosWalksForwardOntoTheModel) {
    int bars = 0;
    for (const Job& job : demos()) {
        const CageGeometry cage = resolve(job);
        for (std::size_t m = 0; m < cage.members.size(); ++m) {
            const Expected<BendSheet> sheet = bendSheet(job, cage, static_cast<int>(m));
            if (!sheet) continue;
            ++bars;
            const Centreline& line = cage.members[m].line;
            const Expected<CopeProfile> cut = jointCope(cage, static_cast<int>(m), 0, 36);
            const double a = cut ? std::min(cut->outer.least_mm, cut->bore.least_mm) : 0;
            const Piece& first = line.pieces()[1];
            ASSERT_EQ(first.kind, Piece::Kind::bend);
            const Vec3 up = (first.centre - first.start).normalized();
            const Centreline walked =
                walkBendTable(sheet->table(), line.start() + a * line.tangent(0), line.tangent(0), up);
            for (std::size_t i = 0; i < walked.pieces().size(); ++i) {
                if (walked.pieces()[i].kind != Piece::Kind::bend) continue;
                EXPECT_LT((walked.pieces()[i].start - line.pieces()[i].start).norm(), 1e-6);
                EXPECT_LT((walked.pieces()[i].end() - line.pieces()[i].end()).norm(), 1e-6);
            }
            EXPECT_NEAR(walked.length_mm(), sheet->blank_mm, 1e-6);
        }
    }
    EXPECT_GE(bars, 6);
}

}  // namespace
}  // namespace hoopwright
