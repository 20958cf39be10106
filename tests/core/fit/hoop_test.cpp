// Hoops in cars whose best hoop can be worked out by hand.
#include <gmock/gmock.h>

#include "core/fit/path_of.h"
#include "core/mesh/scan_mesh.h"
#include "core/mesh/tube_gap.h"
#include "tests/core/fit/fit_kit.h"

namespace hoopwright {
namespace {

using testing::Contains;
using testing::HasSubstr;

std::vector<std::string> textsOf(const std::vector<FitLimit>& limits) {
    std::vector<std::string> out;
    for (const FitLimit& limit : limits) out.push_back(limit.text);
    return out;
}

/// Everywhere but in its landings, by the exact search.
double leastGap(const FitCar& car, const HoopWish& wish, const BarFit& fit) {
    const Centreline held =
        partOf(fit.line, wish.foot_landing_mm, fit.line.length_mm() - wish.foot_landing_mm);
    return nearest(held, car.meshes())->distance_mm - wish.tube.od_mm / 2;
}

TEST(HoopFit, InABoxItStandsAtTheGapAllRound) {
    const FitCar car(boxCar(), {});
    const HoopWish wish = hoopAt(650, -100, 2);  // 700 less the radius of 20 and the gap of 30
    const Expected<HoopFit> fit = fitHoop(car, wish);
    ASSERT_TRUE(fit) << fit.reason();
    ASSERT_EQ(fit->bar.path.size(), 4u);
    EXPECT_NEAR((fit->bar.path[1] - Vec3(0, 650, 950)).norm(), 0, 0.2);
    EXPECT_NEAR((fit->bar.path[2] - Vec3(0, -650, 950)).norm(), 0, 0.2);
    EXPECT_NEAR(leastGap(car, wish, fit->bar), 30, kFitError_mm);
    EXPECT_EQ(fit->bar.trouble, "");
    EXPECT_EQ(fit->bar.short_by_mm, 0);
    // A bend's own gap is the wanted one and R (1 - cos) up to its middle: greatest there.
    EXPECT_NEAR(fit->bar.after.greatest_mm, 30 + 120 * (1 - std::sqrt(0.5)), 1);
    EXPECT_THAT(textsOf(fit->bar.limits), Contains("roof gap at the top"));
    EXPECT_THAT(textsOf(fit->bar.limits), Contains("bend radius"));
}

TEST(HoopFit, OfFourBendsInABoxIsNoWorseThanOfTwo) {
    // The lower bends have nothing to give: the same hoop but for a bend of nothing.
    const FitCar car(boxCar(), {});
    const auto two = fitHoop(car, hoopAt(650, -400, 2)), four = fitHoop(car, hoopAt(650, -400, 4));
    ASSERT_TRUE(two && four);
    EXPECT_LE(four->bar.after.score_mm, two->bar.after.score_mm * 1.01);
}

TEST(HoopFit, WithInboardFeetTheLegsLeanOutToTheGap) {
    const FitCar car(boxCar(), {});
    const HoopWish wish = hoopAt(500, -400, 2);
    const Expected<HoopFit> fit = fitHoop(car, wish);
    ASSERT_TRUE(fit) << fit.reason();
    EXPECT_NEAR(leastGap(car, wish, fit->bar), 30, kFitError_mm);
    // The bend touches both: its centre lies its radius inside the lines at the gap.
    const Vec3 centre = fit->bar.line.pieces()[1].centre;
    EXPECT_NEAR(centre.y(), 650 - 120, 0.5);
    EXPECT_NEAR(centre.z(), 950 - 120, 0.5);
    EXPECT_THAT(textsOf(fit->bar.limits), Contains("left side gap at the left roof corner"));
}

TEST(HoopFit, InABarrelTheBendsTouchItFromInside) {
    const FitCar car(barrelCar(), {});
    const HoopWish wish = hoopAt(620, 0, 2, 40);
    const Expected<HoopFit> fit = fitHoop(car, wish);
    ASSERT_TRUE(fit) << fit.reason();
    EXPECT_NEAR(leastGap(car, wish, fit->bar), 40, kFitError_mm);
    // A bend of 120 touches the circle of 800 - 20 - 40 when its centre is 620 off the axis; the barrel is
    // drawn with chords, a millimetre or so nearer.
    const Vec3 centre = fit->bar.line.pieces()[1].centre;
    EXPECT_NEAR(centre.norm(), 620, 1.5);
}

TEST(HoopFit, TakesTheFewestBendsThatAreNearEnough) {
    const FitCar car(barrelCar(), {});
    HoopWish wish = hoopAt(700, 0, 0, 20);
    wish.foot_landing_mm = 80;
    wish.mean_gap_mm = 400;
    const auto easy = fitHoop(car, wish);
    ASSERT_TRUE(easy) << easy.reason();
    EXPECT_EQ(easy->bends, 2);
    EXPECT_EQ(easy->note, "");
    wish.mean_gap_mm = easy->bar.after.mean_mm - 10;
    const auto better = fitHoop(car, wish);
    ASSERT_TRUE(better) << better.reason();
    EXPECT_GT(better->bends, 2);
    EXPECT_LE(better->bar.after.mean_mm, wish.mean_gap_mm);
    ASSERT_GE(better->mean_gaps_mm.size(), 2u);
    EXPECT_EQ(better->mean_gaps_mm[0].first, 2);
    EXPECT_NEAR(better->mean_gaps_mm[0].second, easy->bar.after.mean_mm, 0.01);
    wish.mean_gap_mm = 1;
    const auto none = fitHoop(car, wish);
    ASSERT_TRUE(none);
    EXPECT_THAT(none->note, HasSubstr("no hoop of up to 8 bends"));
    EXPECT_EQ(none->mean_gaps_mm.size(), 4u);
}

TEST(HoopFit, OnAnUnevenCarEachSideGoesItsOwnWay) {
    // The right wall stands 60 mm further in, as a scan of its own.
    Car car = boxCar();
    TriangleMesh wall;
    wall.vertices = {{-1000, -640, -500}, {1000, -640, -500}, {1000, -640, 1200}, {-1000, -640, 1200}};
    wall.triangles = {{0, 1, 2}, {0, 2, 3}};
    CarScan scan;
    scan.file = "wall.stl";
    scan.unit = ScanUnit::mm;
    car.scans = {scan};
    ReadMesh read;
    read.mesh = wall;
    const ScanMeshes meshes = {{"wall.stl", std::make_shared<const ScanMesh>(std::move(read))}};
    const FitCar uneven(car, meshes);
    HoopWish wish = hoopAt(590, -400, 2);
    const auto alike = fitHoop(uneven, wish);
    wish.sides_alike = false;
    const auto own = fitHoop(uneven, wish);
    ASSERT_TRUE(alike && own);
    EXPECT_NEAR(alike->bar.path[1].y(), -alike->bar.path[2].y(), 1e-6);
    EXPECT_GT(own->bar.path[1].y(), -own->bar.path[2].y() + 20);
    EXPECT_LT(own->bar.after.mean_mm, alike->bar.after.mean_mm - 3);
    EXPECT_THAT(textsOf(own->bar.limits), Contains(HasSubstr("scan 'wall.stl' gap at")));
}

TEST(HoopFit, LeansAboutTheLineOfItsFeet) {
    const FitCar car(boxCar(), {});
    HoopWish wish = hoopAt(650, -400, 2);
    wish.lean_rad = 0.15;
    const auto fit = fitHoop(car, wish);
    ASSERT_TRUE(fit) << fit.reason();
    for (const Vec3& p : fit->bar.path) EXPECT_NEAR(p.x(), -std::tan(0.15) * (p.z() + 400), 1e-6);
    EXPECT_NEAR(fit->bar.path[1].z(), 950, 0.2);
}

TEST(HoopFit, FeetMayTravel) {
    const FitCar car(boxCar(), {});
    HoopWish wish = hoopAt(600, -400, 2);
    wish.foot_travel_mm = 30;
    const auto near = fitHoop(car, wish);
    ASSERT_TRUE(near) << near.reason();
    EXPECT_NEAR(near->bar.path.front().y(), 630, 0.1);
    EXPECT_THAT(textsOf(near->bar.limits), Contains("how far point 1 of the path may go"));
    wish.foot_travel_mm = 200;
    const auto far = fitHoop(car, wish);
    ASSERT_TRUE(far);
    EXPECT_NEAR(far->bar.path.front().y(), 650, 1);
    EXPECT_LT(far->bar.after.mean_mm, near->bar.after.mean_mm);
}

TEST(HoopFit, KeepsTheStraightTheDieNeeds) {
    const FitCar car(barrelCar(), {});
    HoopWish wish = hoopAt(700, -500, 4, 20);
    wish.tube.least_straight_mm = 530;
    const auto fit = fitHoop(car, wish);
    ASSERT_TRUE(fit) << fit.reason();
    EXPECT_EQ(fit->bar.trouble, "");
    const auto pieces = fit->bar.line.pieces();
    ASSERT_EQ(pieces.size(), 9u);
    for (const std::size_t between : {2u, 4u, 6u}) EXPECT_GE(pieces[between].length_mm, 530 - 0.1);
    EXPECT_THAT(textsOf(fit->bar.limits), Contains(HasSubstr("least straight between bends")));
    wish.tube.least_straight_mm = 80;
    EXPECT_LT(fitHoop(car, wish)->bar.after.score_mm, fit->bar.after.score_mm);
}

TEST(HoopFit, SaysWhatCannotBeMetAndByHowMuch) {
    // 2 x 160 less two setbacks of a radius each leave 120 between the bends, and 180 are wanted: sides and
    // straight share what is missing, m with 2 (160 + m) - 200 = 180 - m.
    Car car = boxCar();
    for (ShellStation& station : car.shell)
        for (Vec2& p : station.outline) p.x() *= 0.3;
    const FitCar narrow(car, {});
    HoopWish wish = hoopAt(150, -400, 2);
    wish.tube.bend_radius_mm = 100;
    wish.tube.least_straight_mm = 180;
    const auto fit = fitHoop(narrow, wish);
    ASSERT_TRUE(fit) << fit.reason();
    EXPECT_NEAR(fit->bar.short_by_mm, 20, 5);
    EXPECT_THAT(fit->bar.trouble, HasSubstr("no bar from these ends meets every limit"));
    EXPECT_THAT(fit->bar.trouble, HasSubstr("side gap at the"));
    EXPECT_THAT(fit->bar.trouble, HasSubstr("least straight between bends 1 and 2"));
    // Looking everywhere misses no less.
    double least = 1e300;
    for (double y = 150; y < 205; y += 2.5)
        for (double z = 900; z < 990; z += 5) {
            const std::vector<Vec3> path = {wish.left_foot, {0, y, z}, {0, -y, z}, wish.right_foot};
            BarFit one;
            const std::vector<PathPoint> points = {
                {path[0], 0}, {path[1], 100}, {path[2], 100}, {path[3], 0}};
            one.line = makeCentreline(points).line;
            const double straight = one.line.pieces()[2].length_mm;
            least = std::min(least, std::max(30 - leastGap(narrow, wish, one), 180 - straight));
        }
    EXPECT_LE(fit->bar.short_by_mm, least);
    EXPECT_GE(fit->bar.short_by_mm, least - 2.5);
}

TEST(HoopFit, LimitsAreWorthWhatAMillimetreOfThemBrings) {
    const FitCar car(boxCar(), {});
    const auto scoreAt = [&](double foot_mm, double gap_mm, double radius_mm) {
        HoopWish wish = hoopAt(foot_mm, -400, 2, gap_mm);
        wish.tube.bend_radius_mm = radius_mm;
        return fitHoop(car, wish)->bar.after.score_mm;
    };
    // Legs that lean touch each thing in one place; upright ones a whole side at once.
    for (const double foot_mm : {500.0, 650.0}) {
        const auto fit = fitHoop(car, hoopAt(foot_mm, -400, 2));
        ASSERT_TRUE(fit) << fit.reason();
        double gaps = 0, radius = 0;
        for (const FitLimit& limit : fit->bar.limits)
            (limit.kind == FitLimit::Kind::gap ? gaps : radius) += limit.worth_mm_per_mm;
        const double is = scoreAt(foot_mm, 30, 120);
        EXPECT_NEAR(gaps, is - scoreAt(foot_mm, 29, 120), 0.05) << foot_mm;
        const double smaller = is - scoreAt(foot_mm, 30, 119);
        EXPECT_NEAR(radius, std::max(0.0, smaller), 0.01) << foot_mm;
    }
}

TEST(HoopFit, AFootThatStandsTooNearIsSaidAndLeftSlowly) {
    const FitCar car(boxCar(), {});
    const HoopWish wish = hoopAt(650, -100, 2, 50);  // the feet themselves have 30
    const auto fit = fitHoop(car, wish);
    ASSERT_TRUE(fit) << fit.reason();
    EXPECT_EQ(fit->bar.trouble, "");
    EXPECT_THAT(fit->bar.ends_note, HasSubstr("the end of the left leg itself stands 30.0 mm off the skin"));
    EXPECT_THAT(fit->bar.ends_note, HasSubstr("held to from 260.0 mm on"));
    const Centreline held = partOf(fit->bar.line, 260, fit->bar.line.length_mm() - 260);
    EXPECT_NEAR(nearest(held, car.meshes())->distance_mm - 20, 50, kFitError_mm);
}

TEST(HoopFit, IsHeldAgainstWhatIsGiven) {
    const FitCar car(boxCar(), {});
    HoopWish wish = hoopAt(650, -100, 2);
    wish.given = {wish.left_foot, {0, 600, 900}, {0, -600, 900}, wish.right_foot};
    const auto fit = fitHoop(car, wish);
    ASSERT_TRUE(fit) << fit.reason();
    EXPECT_GT(fit->bar.before.mean_mm, fit->bar.after.mean_mm + 10);
    // Just under a right angle; its middle stands 80 + 120 (1 - sqrt 1/2) off both, nearly.
    EXPECT_NEAR(fit->bar.before.greatest_mm, 80 + 120 * (1 - std::sqrt(0.5)), 4);
}

TEST(HoopFit, RefusesWithASentence) {
    const FitCar car(boxCar(), {}), none(Car(), {});
    EXPECT_THAT(fitHoop(none, hoopAt(650, -400, 2)).reason(),
                HasSubstr("nothing to fit to: the car has no skin"));
    EXPECT_THAT(fitHoop(car, hoopAt(0, -400, 2)).reason(), HasSubstr("set them apart"));
    EXPECT_THAT(fitHoop(car, hoopAt(650, -400, 3)).reason(), HasSubstr("ask for 2, 4, 6 or 8"));
    HoopWish wish = hoopAt(650, -400, 2);
    wish.tube.bend_radius_mm = 0;
    EXPECT_THAT(fitHoop(car, wish).reason(), HasSubstr("bend radius is not above zero"));
    wish = hoopAt(650, -400, 2);
    wish.least_gap_mm = -1;
    EXPECT_THAT(fitHoop(car, wish).reason(), HasSubstr("gap is below zero"));
}

}  // namespace
}  // namespace hoopwright
