// The bend sheet: what is printed, followed to the letter, bends the tube that was drawn.
#include "core/shop/bend_sheet.h"

#include <gmock/gmock.h>

#include <cmath>
#include <numbers>
#include <random>
#include <regex>

#include "core/base/text.h"
#include "core/model/resolve.h"
#include "tests/core/model/small_cage.h"
#include "tests/degrees.h"

namespace hoopwright {
namespace {

using namespace hoopwright::testing;
using std::numbers::pi;
using ::testing::HasSubstr;
using ::testing::Not;

std::shared_ptr<ShopBook> book() {
    auto shop = std::make_shared<ShopBook>();
    Bender bender;
    bender.id = "b";
    bender.height_mm = 3000;
    shop->benders = {bender};
    for (const double angle : {30.0, 60.0, 90.0})
        shop->samples.push_back({"45x2.5", "d45", (angle + 2) * kDegree, angle * kDegree, {}, ""});
    shop->bend_long_mm = 40;
    return shop;
}

/// A person who knows nothing but the words: turns and swings the tube, bends it where the words say.
class Follower {
public:
    /// The rotation of each bend's plane since the bend before, right-handed from A to B; index by bend.
    static std::vector<double> rotations(const std::vector<std::string>& words) {
        std::vector<double> clock(words.size(), 0);
        double rolled = 0;
        bool a_leads = true;
        for (const std::string& say : words) {
            std::smatch m;
            EXPECT_TRUE(std::regex_search(say, m, std::regex("^Bend (\\d+): "))) << say;
            const auto bend = static_cast<std::size_t>(*plainNumber(m[1].str())) - 1;
            if (std::regex_search(say, m, std::regex("end ([AB]) in front"))) a_leads = m[1] == "A";
            if (std::regex_search(say, m, std::regex("turn the tube (clockwise|anticlockwise) ([0-9.]+)°")))
                rolled += (m[1] == "clockwise" ? 1 : -1) * *plainNumber(m[2].str()) * kDegree;
            if (say.find("half way round") != std::string::npos) rolled += pi;
            // The die turns the front end about an axis that stands still: with A in front the way from A to
            // B turns about its one sense, with B in front about the other.
            clock[bend] = (a_leads ? pi : 0) - rolled;
        }
        std::vector<double> out(clock.size(), 0);
        for (std::size_t i = 1; i < clock.size(); ++i)
            out[i] = std::remainder(clock[i] - clock[i - 1], 2 * pi);
        return out;
    }
};

Job benderJob(const std::vector<MemberPoint>& path) {
    Job job = emptyJob();
    job.dies.dies[0].mark_to_tangent_mm = 12;
    job.shop = book();
    job.cage.members = {bar("rail", path)};
    return job;
}

TEST(BendSheetWords, FollowedBlindlyBendTheTubeOnBothHandsAndInAnyOrder) {
    std::mt19937 random(5);
    std::uniform_real_distribution<double> turn(-1, 1);
    int middle_out = 0, turned_over = 0, bends = 0;
    for (int k = 0; k < 60; ++k) {
        // A rail of three bends in different planes; every third flat.
        std::vector<MemberPoint> path = {at(0, 400, 0)};
        Vec3 p(0, 400, 0), way(1, 0, 0);
        for (int b = 0; b < 4; ++b) {
            p += 700 * way;
            path.push_back(at(p.x(), p.y(), p.z()));
            const Vec3 off =
                k % 3 == 0 ? Vec3(0, 0, turn(random) > 0 ? 0.7 : -0.7) : Vec3(0, turn(random), turn(random));
            way = (way + off).normalized();
        }
        Job job = benderJob(path);
        job.cage.members[0].mirrored = true;
        const CageGeometry cage = resolve(job);
        ASSERT_EQ(cage.members.size(), 2u);
        std::vector<std::vector<double>> both;
        for (int side : {0, 1}) {
            const Expected<BendSheet> sheet = bendSheet(job, cage, side);
            ASSERT_TRUE(sheet) << sheet.reason();
            const std::vector<double> got = Follower::rotations(sheet->words);
            both.push_back(got);
            const BendTable table = bendTable(cage.members[static_cast<std::size_t>(side)].line);
            ASSERT_EQ(got.size(), table.rows.size());
            for (std::size_t i = 1; i < got.size(); ++i, ++bends) {
                // Words say a tenth of a degree.
                EXPECT_NEAR(std::remainder(got[i] - table.rows[i].rotation_rad, 2 * pi), 0, 0.2 * kDegree)
                    << k << ", side " << side << "\n"
                    << sheet->words[i];
            }
            middle_out += sheet->order.middle_out;
            for (const BendStep& step : sheet->order.steps) turned_over += step.end_for_end;
        }
        for (std::size_t i = 1; i < both[0].size(); ++i)
            EXPECT_NEAR(std::remainder(both[0][i] + both[1][i], 2 * pi), 0, 0.4 * kDegree);
    }
    EXPECT_GT(middle_out, 20);
    EXPECT_GE(bends, 240);
}

TEST(BendSheetWords, SwingTheTubeEndForEndOnlyWhereItMustBe) {
    BendTable table;
    for (int i = 0; i < 3; ++i)
        table.rows.push_back({.straight_before_mm = i == 0 ? 30.0 : 400.0,
                              .rotation_rad = i == 0 ? 0 : 0.5,
                              .angle_rad = 60 * kDegree,
                              .radius_mm = 135,
                              .arc_mm = 135 * 60 * kDegree});
    table.last_straight_mm = 400;
    Die die{"d45", 45, 135, 90, 20, 2.1, {}, {}, {}};
    // The leg at A is too short for the clamp: bend 1 has to be made with B in front.
    const BendOrder order = bendOrder({table, 45, die, nullptr, LengthUnit::mm});
    ASSERT_TRUE(order.feasible());
    for (const BendStep& step : order.steps) EXPECT_FALSE(step.a_leads);
    for (const BendStep& step : order.steps) EXPECT_FALSE(step.end_for_end);
    // Too short at both ends: bends 1 and 3 from different ends.
    table.last_straight_mm = 30;
    const BendOrder both = bendOrder({table, 45, die, nullptr, LengthUnit::mm});
    ASSERT_TRUE(both.feasible());
    int flips = 0;
    for (const BendStep& step : both.steps) flips += step.end_for_end;
    EXPECT_EQ(flips, 1);
    // The clamp between two bends is too long for what is there: no order helps.
    die.clamp_mm = 900;
    table.rows[1].straight_before_mm = table.rows[2].straight_before_mm = 80;
    const BendOrder none = bendOrder({table, 45, die, nullptr, LengthUnit::mm});
    EXPECT_FALSE(none.feasible());
    EXPECT_THAT(none.steps[0].troubles[0],
                HasSubstr("The clamp needs 900.0 mm of straight in front of bend 1"));
}

/// Two right angles, the second turned a quarter: by hand, the leg of the first stands straight up or down.
BendTable twoTurns(double rotation_rad) {
    BendTable table;
    table.rows.push_back(
        {.straight_before_mm = 800, .angle_rad = pi / 2, .radius_mm = 135, .arc_mm = 135 * pi / 2});
    table.rows.push_back({.straight_before_mm = 500,
                          .rotation_rad = rotation_rad,
                          .angle_rad = pi / 2,
                          .radius_mm = 135,
                          .arc_mm = 135 * pi / 2});
    table.last_straight_mm = 600;
    return table;
}

TEST(BendOrder, TheLegThatIsBentAlreadyRisesAsALevelOnItReads) {
    Bender bender;
    bender.height_mm = 5000;
    const Die die{"d45", 45, 135, 90, 20, 2.1, {}, {}, {}};
    // Swings left. A leads; seen from A, the second plane lies clockwise, so the tube is turned
    // anticlockwise: the leg, which pointed to that person's right, comes up.
    const BendOrder order = bendOrder({twoTurns(pi / 2), 45, die, &bender, LengthUnit::mm});
    ASSERT_EQ(order.steps.size(), 2u);
    EXPECT_TRUE(order.steps[1].a_leads);
    EXPECT_NEAR(order.steps[1].turn_rad, -pi / 2, 1e-12);
    EXPECT_NEAR(*order.steps[1].leg_rises_rad, pi / 2, 1e-9);
    EXPECT_EQ(order.steps[1].leg_bend, 0);
    bender.swings = Bender::Swings::right;
    EXPECT_NEAR(*bendOrder({twoTurns(pi / 2), 45, die, &bender, LengthUnit::mm}).steps[1].leg_rises_rad,
                -pi / 2, 1e-9);
    // Swings up: the leg stood up and now lies level.
    bender.swings = Bender::Swings::up;
    EXPECT_NEAR(*bendOrder({twoTurns(pi / 2), 45, die, &bender, LengthUnit::mm}).steps[1].leg_rises_rad, 0,
                1e-9);
}

TEST(BendOrder, KeepsOutOfTheFloorTheFrameAndTheWall) {
    Bender bender;
    bender.height_mm = 700;
    const Die die{"d45", 45, 135, 90, 20, 2.1, {}, {}, {}};
    // From A the leg of 800 + 135 would have to hang down; from B it stays behind, from B on it rises.
    const BendOrder order = bendOrder({twoTurns(-pi / 2), 45, die, &bender, LengthUnit::mm});
    EXPECT_TRUE(order.feasible());
    bender.height_mm = 300;
    bender.frame = {{"column", {-4000, -4000, 40}, {4000, 4000, 4000}}};
    const BendOrder boxed = bendOrder({twoTurns(-pi / 2), 45, die, &bender, LengthUnit::mm});
    EXPECT_FALSE(boxed.feasible());
    std::string said;
    for (const BendStep& step : boxed.steps)
        for (const std::string& trouble : step.troubles) said += trouble + "\n";
    EXPECT_THAT(said,
                ::testing::AnyOf(HasSubstr("into the floor"), HasSubstr("strikes the bender's column")));
    bender.frame.clear();
    bender.height_mm = 3000;
    bender.tail_mm = 500;
    said.clear();
    for (const BendStep& step : bendOrder({twoTurns(0.3), 45, die, &bender, LengthUnit::mm}).steps)
        for (const std::string& trouble : step.troubles) said += trouble + "\n";
    EXPECT_THAT(said, HasSubstr("of room behind the bender; there are 500.0 mm."));
}

TEST(BendSheet, MarksDialAndBlankOfAHook) {
    const Job job = benderJob({at(0, 0, 0), at(0, 0, 500), at(500, 0, 500)});
    const Expected<BendSheet> sheet = bendSheet(job, resolve(job), 0);
    ASSERT_TRUE(sheet) << sheet.reason();
    ASSERT_EQ(sheet->bends.size(), 1u);
    const SheetBend& bend = sheet->bends[0];
    EXPECT_NEAR(bend.start_mm, 365, 1e-9);
    EXPECT_NEAR(*bend.mark_mm, 353, 1e-9);  // the die's mark lies 12 in front of where it begins
    EXPECT_NEAR(sheet->finished_mm, 730 + 135 * pi / 2, 1e-9);
    EXPECT_NEAR(sheet->blank_mm, sheet->finished_mm + 40, 1e-9);
    EXPECT_NEAR(*bend.dial_rad, 92 * kDegree, 1e-9);
    EXPECT_NEAR(*bend.dial_interval_rad, 0, 1e-9);
    EXPECT_NEAR(bend.outer_wall_mm, 2.5 * 135 / 157.5, 1e-12);
    EXPECT_NEAR(sheet->checks[0].value_mm, std::hypot(500, 540), 1e-9);
    // End B is 40 long; a quarter of a degree turns it about where the bend ends.
    EXPECT_NEAR(bend.quarter_bend_mm, 405 * 0.25 * kDegree, 1e-9);
    EXPECT_THAT(sheet->words[0],
                HasSubstr("Mark 353.0 mm from end A on the die's mark. Dial 92.0°; free of the die "
                          "it must measure 90.0°."));
}

TEST(BendSheet, SaysWhatItDoesNotKnowAndPrintsNoGuess) {
    Job job = benderJob({at(0, 0, 0), at(0, 0, 500), at(500, 0, 500)});
    auto shop = book();
    shop->samples.pop_back();
    job.shop = shop;
    job.dies.dies[0].mark_to_tangent_mm.reset();
    Expected<BendSheet> sheet = bendSheet(job, resolve(job), 0);
    ASSERT_TRUE(sheet);
    EXPECT_FALSE(sheet->bends[0].dial_rad);
    EXPECT_FALSE(sheet->bends[0].mark_mm);
    EXPECT_THAT(sheet->cautions[0], HasSubstr("2 of the 3 trial bends of 45x2.5 on die d45"));
    EXPECT_THAT(sheet->words[0], Not(HasSubstr("Dial")));
    EXPECT_THAT(sheet->words[0], HasSubstr("The bend begins 365.0 mm from end A."));
    job.shop = nullptr;
    sheet = bendSheet(job, resolve(job), 0);
    ASSERT_TRUE(sheet);
    EXPECT_EQ(sheet->bender, "");
    EXPECT_EQ(sheet->bend_long_mm, 0);
    job.dies.dies.erase(job.dies.dies.begin());
    job.cage.members[0].bend_radius_mm = 135;
    EXPECT_EQ(
        bendSheet(job, resolve(job), 0).reason(),
        "Rail: there is no die for a tube of 45.0 mm bent at a radius of 135.0 mm; add it to the die list, "
        "or change the radius.");
    job.cage.members = {bar("straight", {at(0, 0, 0), at(0, 0, 500)})};
    EXPECT_EQ(bendSheet(job, resolve(job), 0).reason(), "Straight has no bends.");
}

TEST(Springback, OfKnownTruthWithScatterIsFoundWithinItsInterval) {
    // dialled = 0.6 deg + 1.03 got, scatter 0.2 deg: the interval must hold a further bend 95 times in 100.
    std::mt19937 random(11);
    std::normal_distribution<double> scatter(0, 0.2 * kDegree);
    int held = 0;
    const int kTrials = 2000;
    for (int k = 0; k < kTrials; ++k) {
        std::vector<BendSample> samples;
        for (const double got : {20.0, 35.0, 50.0, 75.0, 90.0})
            samples.push_back(
                {"t", "d", (0.6 + 1.03 * got) * kDegree + scatter(random), got * kDegree, {}, ""});
        const Springback fit = springback(samples, "t", "d");
        const double truth = (0.6 + 1.03 * 60) * kDegree + scatter(random);
        held += std::abs(truth - fit.dial_rad(60 * kDegree)) <= fit.interval_rad(60 * kDegree);
    }
    EXPECT_NEAR(held / double(kTrials), 0.95, 0.02);
}

TEST(Springback, OfSamplesAtOneAngleTellsNoPlayAndOfOthersNothing) {
    std::vector<BendSample> samples;
    for (const double dialled : {92.0, 92.2, 91.8})
        samples.push_back({"t", "d", dialled * kDegree, 90 * kDegree, 100.0, ""});
    samples.push_back({"t", "other", 60 * kDegree, 50 * kDegree, {}, ""});
    const Springback fit = springback(samples, "t", "d");
    EXPECT_EQ(fit.samples, 3);
    EXPECT_TRUE(fit.through_zero);
    EXPECT_NEAR(fit.dial_rad(45 * kDegree), 46 * kDegree, 1e-9);
    EXPECT_NEAR(*fit.radius_mm, 100, 1e-12);
    EXPECT_TRUE(fit.beyond(60 * kDegree));
    EXPECT_FALSE(fit.beyond(80 * kDegree));
    EXPECT_FALSE(springback(samples, "t", "other").known());
}

}  // namespace
}  // namespace hoopwright
