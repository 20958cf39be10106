// What is seen past tubes, against angles worked out by hand and against rays tried one by one.
#include "core/driver/sight.h"

#include <gtest/gtest.h>

#include <cmath>

#include "people.h"

namespace hoopwright {
namespace {

using testing::cageOf;
using testing::Dice;
using testing::kDeg;
using testing::someone;
using testing::straight;

TEST(SightTo, IsTheAngleToTheEdgeOfABar) {
    // An upright bar 1000 ahead, 200 to the left of the line of sight.
    const CageGeometry cage = cageOf({straight("post", {1000, 200, -2000}, {1000, 200, 2000}, 50)});
    const SightTo seen = sightTo({0, 0, 0}, "mirror", {2000, 0, 0}, cage);
    EXPECT_EQ(seen.member, 0);
    EXPECT_NEAR(seen.clear_rad, std::atan2(200, 1000) - std::asin(25 / std::hypot(1000, 200)), 1e-7);
    EXPECT_NEAR((seen.on_bar - Vec3(1000, 200, 0)).norm(), 0, 0.1);
}

TEST(SightTo, IsHiddenBehindABarAndNotByOneBeyond) {
    const CageGeometry in_the_way = cageOf({straight("post", {1000, 5, -2000}, {1000, 5, 2000}, 50)});
    EXPECT_LT(sightTo({0, 0, 0}, "m", {2000, 0, 0}, in_the_way).clear_rad, 0);
    const SightTo beyond = sightTo({0, 0, 0}, "m", {900, 0, 0}, in_the_way);
    EXPECT_EQ(beyond.member, -1);
    EXPECT_NEAR(beyond.clear_rad, std::numbers::pi, 1e-12);
}

TEST(SightTo, AgreesWithTheDistanceToTheLineOfSight) {
    Dice dice(9);
    for (int i = 0; i < 100; ++i) {
        const CageGeometry cage =
            cageOf({straight("bar", Vec3(800, 0, 0) + dice.point(300), Vec3(800, 0, 0) + dice.point(300))});
        const Vec3 at(2000, dice.between(-300, 300), dice.between(-300, 300));
        const double gap = nearestToSegment(cage.members[0].line, Vec3::Zero(), at).distance_mm - 20;
        const double clear = sightTo({0, 0, 0}, "m", at, cage).clear_rad;
        if (std::abs(gap) > 0.01) {
            EXPECT_EQ(clear > 0, gap > 0) << gap << " " << clear;
        }
    }
}

Car carWithDash() {
    Car car;
    car.ground_z_mm = -300;
    car.lines = {{"dash", CarLine::Kind::body, {{800, -600, 500}, {800, 600, 500}}, false},
                 {"bonnet",
                  CarLine::Kind::body,
                  {{1000, 600, 560}, {2000, 600, 480}, {2000, -600, 480}, {1000, -600, 560}},
                  true},
                 {"windshield",
                  CarLine::Kind::glass,
                  {{700, 500, 700}, {700, -500, 700}, {700, -500, 1000}, {700, 500, 1000}},
                  true}};
    return car;
}

TEST(SightAhead, EndsAtTheHighestOfDashAndBonnet) {
    Driver d = someone();
    d.eye = {215, 350, 845};
    const Sight seen = sight(d, carWithDash(), {});
    ASSERT_TRUE(seen.ahead);
    // Dash: 345 down over 585; bonnet's front edge 365 over 1785, its rear edge 285 over 785.
    EXPECT_EQ(seen.ahead->line, "bonnet");
    EXPECT_NEAR(seen.ahead->down_rad, std::atan2(365, 1785), 1e-12);
    EXPECT_NEAR(*seen.ahead->ground_ahead_mm, 1145 * 1785.0 / 365, 1e-6);
    Car bare = carWithDash();
    bare.lines.resize(1);
    EXPECT_NEAR(sight(d, bare, {}).ahead->down_rad, std::atan2(345, 585), 1e-12);
    EXPECT_FALSE(sight(d, bare, {}).windshield_hidden);
    EXPECT_FALSE(sight(d, Car(), {}).ahead);
}

TEST(Hidden, IsTheWidthOfAnUprightTube) {
    Driver d = someone();
    d.eye = {0, 0, 800};
    const CageGeometry cage =
        cageOf({straight("post", {866.0254037844387, 500, 0}, {866.0254037844387, 500, 2000}, 50),
                straight("low", {500, -500, 100}, {500, 500, 100}),
                straight("rear", {-1000, 0, 0}, {-1000, 0, 2000})});
    const Sight seen = sight(d, Car(), cage);
    ASSERT_EQ(seen.hidden.size(), 1u);
    EXPECT_EQ(seen.hidden[0].member, 0);
    EXPECT_NEAR(seen.hidden[0].from_rad, 30 * kDeg - std::asin(0.025), 2e-4);
    EXPECT_NEAR(seen.hidden[0].to_rad, 30 * kDeg + std::asin(0.025), 2e-4);
}

TEST(WindshieldHidden, IsItsShareOfTheSolidAngle) {
    Driver d = someone();
    d.eye = {0, 0, 850};
    Car car = carWithDash();
    // A bar straight up through the middle of the view.
    const CageGeometry cage = cageOf({straight("post", {500, 0, 0}, {500, 0, 2000}, 60)});
    const Sight seen = sight(d, car, cage);
    ASSERT_TRUE(seen.windshield_hidden);
    // By rays, evenly over the same angles.
    double all = 0, hidden = 0;
    for (double y = -499.5; y < 500; y += 1)
        for (double z = 700.5; z < 1000; z += 3) {
            const Vec3 way = (Vec3(700, y, z) - d.eye).normalized();
            const double weight = std::pow(way.x(), 3);  // of a patch of the plane, seen from the eye
            all += weight;
            if (nearestToSegment(cage.members[0].line, d.eye, d.eye + 2000 * way).distance_mm < 30)
                hidden += weight;
        }
    EXPECT_NEAR(*seen.windshield_hidden, hidden / all, 0.006);
    ASSERT_EQ(seen.windshield_bars.size(), 1u);
    EXPECT_NEAR(seen.windshield_bars[0].share, *seen.windshield_hidden, 1e-12);
    EXPECT_EQ(*sight(d, car, {}).windshield_hidden, 0);
}

TEST(Mirrors, AreTheCarsPointsOfThatName) {
    Car car;
    car.points = {{"mirror.left", {900, 900, 600}, 0, ""},
                  {"sill", {0, 0, 0}, 0, ""},
                  {"mirror", {600, 0, 950}, 0, ""}};
    const Sight seen = sight(someone(), car, testing::smallCage());
    ASSERT_EQ(seen.mirrors.size(), 2u);
    EXPECT_EQ(seen.mirrors[0].name, "mirror.left");
    EXPECT_EQ(seen.mirrors[1].name, "mirror");
}

}  // namespace
}  // namespace hoopwright
