// Lines, rails and the roof's skin through the points of the walk: every kind of car gets all it should have.
#include "core/survey/walk_lines.h"

#include <gmock/gmock.h>

#include <algorithm>

#include "core/survey/line_list.h"
#include "core/survey/measuring.h"
#include "core/survey/survey.h"

namespace hoopwright {
namespace {

using Kind = MeasuringItem::Kind;

/// A car that measures what the drawing of its kind shows, point by point, before any line.
Car measured(Car::Body body, Car::Frame frame) {
    Car car;
    car.body = body;
    car.frame = frame;
    for (const MeasuringStage& stage : measuringWalk(body, frame)) {
        for (const MeasuringItem& item : stage.items) {
            if (item.kind == Kind::point) car.points.push_back({item.name, item.drawn, 3, ""});
            if (item.kind == Kind::rail) car.rails.push_back({item.name, {}, 80, 100, 2, {}});
        }
    }
    return car;
}

template <class Visit>
void everyKind(Visit visit) {
    for (const auto body :
         {Car::Body::saloon, Car::Body::hatchback, Car::Body::open, Car::Body::pickup, Car::Body::van}) {
        for (const auto frame : {Car::Frame::unibody, Car::Frame::ladder, Car::Frame::perimeter})
            visit(body, frame);
    }
}

TEST(WalkLines, EveryKindOfCarGetsEveryLineSurfaceAndRailItShouldHave) {
    everyKind([](Car::Body body, Car::Frame frame) {
        const Car bare = measured(body, frame);
        const Car car = withWalkLines(bare);
        for (const LineState& state : lineStates(car))
            EXPECT_EQ(state.state, LineState::State::there)
                << state.wanted.name << " of a " << bodyWord(body);
        for (const FrameRail& rail : car.rails) EXPECT_GE(rail.line.size(), 2u) << rail.name;
        EXPECT_EQ(withWalkLines(car), car) << "nothing twice";
        Car again = car;
        EXPECT_TRUE(settle(again).empty());
        EXPECT_EQ(again, car) << "the points are where the lines say";
    });
}

TEST(WalkLines, OneComesWithItsLastPointAndNoOtherWithIt) {
    Car car = measured(Car::Body::saloon, Car::Frame::unibody);
    std::erase_if(car.points, [](const CarPoint& one) { return one.name == "dash.right"; });
    EXPECT_EQ(withWalkLines(car, "dash.left"), car);
    car.points.push_back({"dash.right", {880, -640, 455}, 3, ""});
    const Car next = withWalkLines(car, "dash.right");
    ASSERT_EQ(next.lines.size(), 1u);
    EXPECT_EQ(next.lines[0].name, "dash");
    EXPECT_EQ(next.lines[0].points.back(), Vec3(880, -640, 455));
}

TEST(WalkLines, FollowTheirPointsWhenMeasuredAgain) {
    Car car = withWalkLines(measured(Car::Body::saloon, Car::Frame::unibody));
    for (CarPoint& point : car.points) {
        if (point.name == "b_pillar_top.left") point.at.z() += 20;
    }
    ASSERT_TRUE(settle(car).empty());
    EXPECT_EQ(car.line("b_pillar.left")->points.back().z(), 975);  // 955 as drawn, 20 up
    EXPECT_EQ(car.line("b_pillar.right")->points.back().z(), 955);
    const Car next = withWalkLines(car, "b_pillar_top.left");
    EXPECT_EQ(next.shell[1].name, "roof_middle");
    EXPECT_EQ(next.shell[1].outline[2].y(), 965) << "half way between its two sides";
}

TEST(WalkLines, LeaveWhatTheBuilderDrewAlone) {
    Car car = measured(Car::Body::saloon, Car::Frame::unibody);
    CarLine own;
    own.name = "dash";
    own.points = {Vec3(900, 600, 400), Vec3(900, -600, 400)};
    car.lines.push_back(own);
    car.shell.push_back({"mine", 0, {Vec2(600, 0), Vec2(0, 900)}});
    const Car next = withWalkLines(car);
    EXPECT_EQ(*next.line("dash"), own);
    EXPECT_EQ(next.shell, car.shell);
}

TEST(WalkLines, ARailLiesUnderItsPointsAndASillBesideThem) {
    const Car car = withWalkLines(measured(Car::Body::saloon, Car::Frame::unibody));
    // 80 wide and 100 high: its middle is 50 under the top, and the sill's 40 out from the inner edge.
    EXPECT_EQ(car.rail("sill.right")->line[1], Vec3(0, -670, -50));
    EXPECT_EQ(car.rail("rear_leg.left")->line[0], car.point("rear_leg.left")->at - Vec3(0, 0, 50));
}

}  // namespace
}  // namespace hoopwright
