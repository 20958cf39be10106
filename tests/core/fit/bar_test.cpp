// Bars free in space, and tubes bought bent.
#include <gmock/gmock.h>

#include "core/fit/path_of.h"
#include "core/fit/pre_bent.h"
#include "core/mesh/tube_gap.h"
#include "tests/core/fit/fit_kit.h"

namespace hoopwright {
namespace {

using testing::Contains;
using testing::HasSubstr;

Freedom free(int point, const Vec3& along) {
    return {{Freedom::Straight{point, along}}};
}

TEST(BarFit, FollowsALineOfTheCarAtTheGap) {
    // A rail that runs level and then falls at 45 degrees, as roof rail and pillar do; no skin at all. A bar
    // in its plane may come within the gap of both straights.
    const FitCar car(Car(), {});
    BarWish wish;
    wish.tube = {40, 120, 80, 2};
    wish.least_gap_mm = 30;
    wish.follow = {{{-200, 600, 1000}, {400, 600, 1000}}, {{400, 600, 1000}, {900, 600, 500}}};
    wish.start = {{-200, 600, 950}, {350, 600, 880}, {900 - 50 * std::sqrt(2), 600, 500}};
    for (const int axis : {0, 2}) wish.freedoms.push_back(free(1, Vec3::Unit(axis)));
    const auto fit = fitBar(car, wish);
    ASSERT_TRUE(fit) << fit.reason();
    // 50 mm inside both lines they meet 50 tan(22.5 deg) behind the corner.
    const Vec3 corner(400 - 50 * std::tan(std::numbers::pi / 8), 600, 950);
    EXPECT_NEAR((fit->path[1] - corner).norm(), 0, 1);
    ASSERT_TRUE(fit->after.lines);
    EXPECT_NEAR(fit->after.lines->least_mm, 30, kFitError_mm);
    EXPECT_LT(fit->after.lines->mean_mm, fit->before.lines->mean_mm - 10);
    ASSERT_FALSE(fit->limits.empty());
    EXPECT_THAT(fit->limits[0].text, HasSubstr("gap to the line it follows at "));
}

TEST(BarFit, EndsSlideAlongTheirHosts) {
    // A bar across under a roof that slopes: it goes as near as it may, along two posts.
    const FitCar car(boxCar(), {});
    BarWish wish;
    wish.tube = {40, 120, 80, 2};
    wish.least_gap_mm = 25;
    wish.start = {{0, 400, 500}, {0, -400, 500}};
    Freedom both;
    for (const int point : {0, 1}) {
        const double y = point == 0 ? 400 : -400;
        const std::vector<PathPoint> post = {{{0, y, 0}, 0}, {{0, y, 1500}, 0}};
        both.moves.push_back(Freedom::OnHost{point, makeCentreline(post).line, 500, 1});
    }
    both.low_mm = -600;
    both.high_mm = 600;
    wish.freedoms = {both};
    const auto fit = fitBar(car, wish);
    ASSERT_TRUE(fit) << fit.reason();
    EXPECT_NEAR(fit->path[0].z(), 1000 - 25 - 20, 0.1);
    EXPECT_NEAR(fit->path[1].z(), 1000 - 25 - 20, 0.1);
    EXPECT_NEAR(fit->moved_mm[0], 455, 0.1);
    ASSERT_FALSE(fit->limits.empty());
    EXPECT_EQ(fit->limits[0].text, "roof gap at the straight");
    EXPECT_NEAR(fit->limits[0].worth_mm_per_mm, 1, 0.01);  // a mm less gap is a mm nearer
}

TEST(BarFit, RefusesAStartThroughTheSkin) {
    const FitCar car(boxCar(), {});
    BarWish wish;
    wish.tube = {40, 120, 80, 2};
    wish.start = {{0, 400, 500}, {0, 0, 1200}, {0, -400, 500}};
    wish.freedoms = {free(1, Vec3::UnitZ())};
    EXPECT_THAT(fitBar(car, wish).reason(), HasSubstr("goes through the skin of the car at x 0.0 mm"));
}

/// The hoop of a box as a tube with longer legs.
PreBentWish boughtFor(const BarFit& hoop, double longer_mm) {
    PreBentWish wish;
    const BendTable table = bendTable(hoop.line);
    for (const BendRow& row : table.rows) {
        wish.shape.bend_radius_mm = row.radius_mm;
        wish.shape.straights_mm.push_back(row.straight_before_mm);
        wish.shape.bends.push_back({row.angle_rad, row.rotation_rad});
    }
    wish.shape.straights_mm.push_back(table.last_straight_mm);
    wish.shape.straights_mm.front() += longer_mm;
    wish.shape.straights_mm.back() += longer_mm;
    wish.od_mm = 40;
    wish.least_gap_mm = 30;
    wish.along = hoop.line;
    return wish;
}

class BoughtBentFit : public testing::Test {
protected:
    BoughtBentFit() : car_(boxCar(), {}), hoop_(*fitHoop(car_, hoopAt(650, -100, 2))) {}
    FitCar car_;
    HoopFit hoop_;
};

TEST_F(BoughtBentFit, TheHoopThatSuitsFitsAndItsLegsAreTrimmed) {
    const auto fit = fitPreBent(car_, boughtFor(hoop_.bar, 80));
    ASSERT_TRUE(fit) << fit.reason();
    EXPECT_TRUE(fit->fits) << fit->verdict;
    EXPECT_NEAR(fit->trim_mm[0], 80, 1);
    EXPECT_NEAR(fit->trim_mm[1], 80, 1);
    EXPECT_NEAR(fit->placed.mean_mm, fit->suited.mean_mm, 0.5);
    EXPECT_GE(fit->placed.least_mm, 30 - 0.1);
    EXPECT_THAT(fit->verdict, HasSubstr("it fits, as near to the skin as a bar bent to suit"));
    ASSERT_EQ(fit->pieces.size(), 5u);
    for (const PieceStandOff& piece : fit->pieces) EXPECT_NEAR(piece.more_than_suited_mm, 0, 1);
}

TEST_F(BoughtBentFit, ItsBendsAreNeverChanged) {
    const PreBentWish wish = boughtFor(hoop_.bar, 80);
    const auto fit = fitPreBent(car_, wish);
    ASSERT_TRUE(fit);
    const BendTable is = bendTable(fit->whole);
    ASSERT_EQ(is.rows.size(), wish.shape.bends.size());
    for (std::size_t i = 0; i < is.rows.size(); ++i) {
        EXPECT_NEAR(is.rows[i].straight_before_mm, wish.shape.straights_mm[i], 1e-6);
        EXPECT_NEAR(is.rows[i].angle_rad, wish.shape.bends[i].angle_rad, 1e-9);
        EXPECT_NEAR(is.rows[i].rotation_rad, wish.shape.bends[i].rotation_rad, 1e-6);
    }
    EXPECT_NEAR(is.last_straight_mm, wish.shape.straights_mm.back(), 1e-6);
    EXPECT_NEAR((pathOf(fit->line).front() - fit->path.front()).norm(), 0, 1e-9);
}

TEST_F(BoughtBentFit, ANarrowerOneStandsOffByWhatItLacks) {
    PreBentWish wish = boughtFor(hoop_.bar, 80);
    wish.shape.straights_mm[1] -= 60;  // 30 mm a side
    wish.foot_reach_mm = 60;
    const auto fit = fitPreBent(car_, wish);
    ASSERT_TRUE(fit) << fit.reason();
    EXPECT_TRUE(fit->fits) << fit->verdict;
    // Straights 1 and 3 are the legs: together they stand off by 60 mm more.
    EXPECT_NEAR(fit->pieces[0].more_than_suited_mm + fit->pieces[4].more_than_suited_mm, 60, 3);
    EXPECT_GT(fit->placed.mean_mm, fit->suited.mean_mm + 10);
}

TEST_F(BoughtBentFit, NoMoveOfItAboutItsPlaneStandsNearer) {
    PreBentWish wish = boughtFor(hoop_.bar, 80);
    wish.shape.straights_mm[1] -= 60;
    wish.foot_reach_mm = 50;
    wish.square_to = Vec3::UnitX();
    const auto fit = fitPreBent(car_, wish);
    ASSERT_TRUE(fit) << fit.reason();
    ASSERT_TRUE(fit->fits) << fit->verdict;
    const Vec3 middle = fit->whole.point(fit->whole.length_mm() / 2);
    std::vector<PathPoint> corners;
    for (const Vec3& at : pathOf(fit->whole)) corners.push_back({at, 120});
    double best = 1e300, as_it_is = 0;
    for (int i = -6; i <= 6; ++i)
        for (int k = -6; k <= 6; ++k)
            for (int turn = -6; turn <= 6; ++turn) {
                const Eigen::AngleAxisd by(turn * 0.003, Vec3::UnitX());
                std::vector<PathPoint> there = corners;
                for (PathPoint& p : there) p.at = middle + by * (p.at - middle) + Vec3(0, 4.0 * i, 4.0 * k);
                // Its legs are cut at the feet's height; there they must stand near enough.
                for (const auto& [end, next] : {std::pair{0u, 1u}, std::pair{3u, 2u}}) {
                    const Vec3 along = there[end].at - there[next].at;
                    there[end].at += (-100 - there[end].at.z()) / along.z() * along;
                }
                const Centreline line = makeCentreline(there).line;
                const double reach = std::max((line.start() - wish.along.start()).norm(),
                                              (line.end() - wish.along.end()).norm());
                const Centreline held = partOf(line, 60, line.length_mm() - 60);
                const auto gap = gapAlong(held, 20, car_.meshes());
                if (i == 0 && k == 0 && turn == 0) as_it_is = gap->mean_mm;
                if (reach <= 50 && gap->least_mm >= 30) best = std::min(best, gap->mean_mm);
            }
    EXPECT_NEAR(as_it_is, fit->placed.mean_mm, 0.1);
    EXPECT_LE(fit->placed.mean_mm, best + 0.3);
    // It lies against one side; what it lacks shows on the other.
    EXPECT_THAT(fit->verdict, HasSubstr("farther off the skin than a bar bent to suit, most of all at"));
    std::vector<std::string> texts;
    for (const FitLimit& limit : fit->limits) texts.push_back(limit.text);
    EXPECT_THAT(texts, Contains(HasSubstr("roof gap at ")));
}

TEST_F(BoughtBentFit, SaysWhenItsFeetKeepItThere) {
    PreBentWish wish = boughtFor(hoop_.bar, 80);
    wish.shape.straights_mm[1] -= 60;
    wish.foot_reach_mm = 32;  // 30 a side are lacking, so it cannot go to one side
    const auto fit = fitPreBent(car_, wish);
    ASSERT_TRUE(fit) << fit.reason();
    for (const double off : fit->foot_off_mm) EXPECT_LE(off, 32.1);
    wish.shape.straights_mm[1] -= 20;
    const auto beyond = fitPreBent(car_, wish);
    ASSERT_TRUE(beyond);
    EXPECT_FALSE(beyond->fits);
    EXPECT_THAT(beyond->verdict, HasSubstr("foot stands 40"));
    EXPECT_NEAR(beyond->short_by_mm, 8, 0.5);
    EXPECT_GE(beyond->placed.least_mm, 30 - 0.1) << "its feet are no reason to come too near elsewhere";
    ASSERT_FALSE(beyond->limits.empty());
    EXPECT_THAT(beyond->limits[0].text, HasSubstr("reach of its "));
}

TEST_F(BoughtBentFit, AWiderOneAndAShorterOneDoNotFitAndSayWhy) {
    PreBentWish wide = boughtFor(hoop_.bar, 80);
    wide.shape.straights_mm[1] += 40;
    const auto too_wide = fitPreBent(car_, wide);
    ASSERT_TRUE(too_wide);
    EXPECT_FALSE(too_wide->fits);
    EXPECT_THAT(too_wide->verdict, HasSubstr("it comes within"));
    EXPECT_NEAR(too_wide->placed.least_mm, 10, 3);

    const auto too_short = fitPreBent(car_, boughtFor(hoop_.bar, -50));
    ASSERT_TRUE(too_short);
    EXPECT_FALSE(too_short->fits);
    EXPECT_NEAR(too_short->trim_mm[0], -50, 1);
    EXPECT_THAT(too_short->verdict, HasSubstr("the first leg is "));
    EXPECT_THAT(too_short->verdict, HasSubstr("too short for its foot"));
}

TEST_F(BoughtBentFit, RefusesWithASentence) {
    PreBentWish wish = boughtFor(hoop_.bar, 0);
    EXPECT_THAT(fitPreBent(FitCar(Car(), {}), wish).reason(), HasSubstr("nothing to fit to"));
    wish.along = {};
    EXPECT_THAT(fitPreBent(car_, wish).reason(), HasSubstr("no line"));
    wish.shape.bends.clear();
    EXPECT_THAT(fitPreBent(car_, wish).reason(), HasSubstr("no bend"));
}

}  // namespace
}  // namespace hoopwright
