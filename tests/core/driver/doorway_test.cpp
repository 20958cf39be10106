// What tubes leave of a door, against rectangles worked out by hand and against a fine grid.
#include "core/driver/doorway.h"

#include <gtest/gtest.h>

#include <cmath>

#include "people.h"

namespace hoopwright {
namespace {

using testing::cageOf;
using testing::someone;
using testing::straight;

/// A door of 1000 x 900, upright at y = 750.
Car carWithDoor(const char* name = "door_opening.left", double y = 750) {
    Car car;
    car.lines = {
        {name, CarLine::Kind::opening, {{0, y, 0}, {1000, y, 0}, {1000, y, 900}, {0, y, 900}}, true}};
    return car;
}

TEST(Doorway, OfABareOpeningIsTheOpening) {
    const auto door = doorway(someone(), carWithDoor(), {});
    ASSERT_TRUE(door) << door.reason();
    EXPECT_TRUE(door->left);
    EXPECT_EQ(door->line, "door_opening.left");
    EXPECT_NEAR(door->clear_round_mm, 900, 0.1);
    EXPECT_NEAR(door->round_at.y(), 750, 0.1);
    EXPECT_TRUE(door->round_members.empty());
    ASSERT_EQ(door->spans.size(), 4u);
    EXPECT_NEAR(door->spans[0].length_mm, 1000, 0.01);  // level with the shoulder
    EXPECT_NEAR(door->spans[3].length_mm, 900, 0.01);   // up at the knee
    EXPECT_NEAR(door->shoulder_width_mm, 280 + 240, 1e-6);
    EXPECT_NEAR(door->chest_mm, 200, 1e-9);
}

TEST(Doorway, IsLessByADoorBar) {
    // A level bar of 40 with its middle at 300: 580 is left over it, 280 under it.
    const CageGeometry cage = cageOf({straight("door_bar", {-100, 700, 300}, {1100, 700, 300}, 40)});
    const auto door = doorway(someone(), carWithDoor(), cage);
    EXPECT_NEAR(door->clear_round_mm, 580, 0.1);
    EXPECT_EQ(door->round_members, std::vector<int>{0});
    const ClearSpan& up = door->spans[2];
    EXPECT_TRUE(up.upright);
    EXPECT_EQ(up.at, "shoulder");
    EXPECT_NEAR(up.length_mm, 580, 0.01);
    EXPECT_EQ(up.from_member, 0);
    EXPECT_EQ(up.to_member, -1);
    EXPECT_NEAR(up.from.z(), 320, 0.01);
}

TEST(Doorway, CountsOnlyBarsInIt) {
    const CageGeometry cage = cageOf({straight("seat_bar", {-100, 300, 300}, {1100, 300, 300}, 40),
                                      straight("far_side", {-100, -700, 300}, {1100, -700, 300}, 40)});
    EXPECT_NEAR(doorway(someone(), carWithDoor(), cage)->clear_round_mm, 900, 0.1);
    // A bar that comes in from the middle counts from 250 off the opening, here from x = 600 on.
    const CageGeometry slant = cageOf({straight("slant", {1000, 750, 450}, {200, 250, 450}, 40)});
    const auto door = doorway(someone(), carWithDoor(), slant);
    // A round of radius c in the lower corner touches the rod's round end at (600, 450):
    // (600 - c)^2 + (450 - c)^2 = (c + 20)^2.
    EXPECT_NEAR(door->clear_round_mm, 2140 - std::sqrt(2140.0 * 2140 - 4 * 562100), 0.1);
}

TEST(Doorway, TheRoundestPlaceBeatsEveryOther) {
    const CageGeometry cage = cageOf({straight("one", {-50, 700, 700}, {1050, 700, 60}, 38),
                                      straight("two", {-50, 700, 100}, {1050, 700, 500}, 38)});
    const auto door = doorway(someone(), carWithDoor(), cage);
    double most = 0;
    for (double x = 2; x < 1000; x += 4)
        for (double z = 2; z < 900; z += 4) {
            double clear = std::min({x, 1000 - x, z, 900 - z});
            for (const ResolvedMember& bar : cage.members) {
                const Vec3 a = bar.line.start(), b = bar.line.end();
                const Vec2 along = Vec2(b.x() - a.x(), b.z() - a.z()).normalized(), off(x - a.x(), z - a.z());
                clear = std::min(clear, std::abs(along.x() * off.y() - along.y() * off.x()) - 19);
            }
            most = std::max(most, clear);
        }
    EXPECT_GE(door->clear_round_mm, 2 * most - 0.1);
    EXPECT_LE(door->clear_round_mm, 2 * (most + 2 * std::sqrt(2.0)));
}

TEST(Doorway, IsOnTheDriversSideMirroredIfNeedBe) {
    Driver d = someone();
    d.hip.y() = -350;
    const auto door = doorway(d, carWithDoor(), {});
    ASSERT_TRUE(door);
    EXPECT_FALSE(door->left);
    EXPECT_NEAR(door->round_at.y(), -750, 0.1);
    EXPECT_EQ(doorway(someone(), carWithDoor("hatch"), {}).reason(),
              "the car has no line 'door_opening' of at least three points on the driver's side");
    EXPECT_TRUE(doorway(someone(), carWithDoor("hatch.left"), {}, "hatch"));
}

TEST(Doorway, SaysWhereItDoesNotReach) {
    Driver d = someone();
    d.shoulder_left.x() = -200;
    d.knee_left.z() = 950;
    const auto door = doorway(d, carWithDoor(), {});
    EXPECT_FALSE(door->spans[2].there);
    EXPECT_FALSE(door->spans[1].there);
    EXPECT_EQ(door->spans[2].length_mm, 0);
}

}  // namespace
}  // namespace hoopwright
