// A tube bent in two planes, every figure of its sheet worked by hand.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "core/model/resolve.h"
#include "core/shop/bend_sheet.h"

namespace hoopwright {
namespace {

/// Along x, then along y, then up: legs 1000, 800 and 600, two right angles of radius 100, 40 mm tube.
BendSheet threeLegs() {
    Job job;
    job.stock.tubes.push_back({"t", {40, 2}, "", TubeForm::seamless, {}, {}, {}, ""});
    Die die;
    die.id = "d";
    die.od_mm = 40;
    die.radius_mm = 100;
    die.mark_to_tangent_mm = 8;
    job.dies.dies = {die};
    Member bar;
    bar.id = bar.role = "bar";
    bar.stock = "t";
    for (const Vec3& at : {Vec3(0, 0, 0), Vec3(1000, 0, 0), Vec3(1000, 800, 0), Vec3(1000, 800, 600)})
        bar.path.push_back({FixedPoint{at}, {}});
    job.cage.members = {bar};
    const Expected<BendSheet> sheet = bendSheet(job, resolve(job), 0);
    EXPECT_TRUE(sheet) << sheet.reason();
    return sheet ? *sheet : BendSheet{};
}

// The tangent of a circular curve is T = R tan(A/2), its length R A, both handbook formulas of route
// surveying and of pipe bending: here T = 100 and the arc 50 pi.
TEST(Outside_BendSheet, ATubeBentInTwoPlanesWorkedByHand) {
    const BendSheet sheet = threeLegs();
    ASSERT_EQ(sheet.bends.size(), 2u);
    const double arc = 50 * std::numbers::pi;
    EXPECT_NEAR(sheet.bends[0].start_mm, 900, 1e-9);
    EXPECT_NEAR(sheet.bends[0].end_mm, 900 + arc, 1e-9);
    EXPECT_NEAR(*sheet.bends[0].mark_mm, 892, 1e-9);
    EXPECT_NEAR(sheet.bends[1].straight_before_mm, 600, 1e-9);
    EXPECT_NEAR(sheet.bends[1].start_mm, 1500 + arc, 1e-9);
    EXPECT_NEAR(sheet.finished_mm, 900 + 600 + 500 + 2 * arc, 1e-9);
    // The first bend turns about +z, the second about +x: about +y, the way from A to B, z goes to x by +90.
    EXPECT_NEAR(sheet.bends[1].rotation_rad, std::numbers::pi / 2, 1e-9);
    EXPECT_FALSE(sheet.flat);
}

// On the floor with the legs of bend 1 level A is at (0, 0) and B straight over (1000, 800). Along that line,
// u = (5, 4)/sqrt 41, the tube reaches to 8200 / sqrt 41 + 20 at B, where it stands upright, and at A, sawn
// square to x, back by 20 * 4 / sqrt 41. Square to it, v = (4, -5)/sqrt 41, the bend's middle is at (900,
// 100): farthest is 3100 / sqrt 41 + 100 + 20. A tape held along the line in space from A to B, which is
// longer by 133 mm, would read neither: so the words say how it lies.
TEST(Outside_BendSheet, ATubeThatIsNotFlatTapesOnTheFloorAsItsWordsSay) {
    const BendSheet sheet = threeLegs();
    const double root = std::sqrt(41.0);
    ASSERT_GE(sheet.checks.size(), 3u);
    EXPECT_NEAR(sheet.checks[0].value_mm, std::sqrt(1000.0 * 1000 + 800 * 800 + 600 * 600), 1e-9);
    EXPECT_EQ(sheet.checks[1].what,
              "Legs of bend 1 level, from above: widest along A to B, outside to outside");
    EXPECT_NEAR(sheet.checks[1].value_mm, 8200 / root + 20 + 80 / root, 1e-9);
    EXPECT_EQ(sheet.checks[2].what,
              "Legs of bend 1 level, from above: from line A to B to the farthest outside");
    EXPECT_NEAR(sheet.checks[2].value_mm, 3100 / root + 120, 1e-9);
    // How far the ends are off the level of bend 1's legs.
    ASSERT_GE(sheet.checks.size(), 2u);
    const TapeCheck &a = sheet.checks[sheet.checks.size() - 2], &b = sheet.checks.back();
    EXPECT_NEAR(a.value_mm, 0, 1e-9) << a.what;
    EXPECT_NEAR(std::abs(b.value_mm), 600, 1e-9) << b.what;
}

}  // namespace
}  // namespace hoopwright
