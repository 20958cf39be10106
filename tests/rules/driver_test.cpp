// People and belts. Values are worked out by hand from the small cage of test_cage.h.
#include <algorithm>
#include <cmath>

#include "core/driver/body.h"
#include "tests/degrees.h"
#include "tests/rules/test_cage.h"

namespace hoopwright::test {
namespace {

/// The small cage with a bar level over the helmet (underside 57.5 above it) and one beside the left elbow.
Job job() {
    Job out = smallJob();
    out.cage.members.push_back(straight("roof", "roof_bar", {250, -400, 1000}, {250, 500, 1000}));
    out.cage.members.push_back(straight("door", "door_bar", {100, 640, 400}, {700, 640, 400}));
    return out;
}

TEST(Clearance, IsToTheNearestOutside) {
    Job j = job();
    expectValue(j, "measure: clearance\nwith: {part: helmet, members: {role: roof_bar}}", 1000 - 22.5 - 920,
                0.01, "mm");
    expectValue(j, "measure: clearance\nwith: {part: elbow, members: {role: door_bar}}", 120 - 22.5, 0.01,
                "mm");
    expectValue(j, "measure: clearance\nwith: {part: [elbow, knee], members: {role: door_bar}}", 120 - 22.5,
                0.01, "mm");
    memberOf(j, "roof").padding_mm = 20;
    expectValue(j, "measure: clearance\nwith: {part: helmet, members: {role: roof_bar}, padded: yes}", 37.5,
                0.01, "mm");
    expectValue(j, "measure: clearance\nwith: {part: helmet, members: {role: roof_bar}}", 57.5, 0.01, "mm");
    // Over all bars the nearest is found: nothing is nearer to the helmet than the roof bar.
    EXPECT_LE(*finding(j, "measure: clearance\nwith: {part: helmet}\nat_least: 10").value, 57.5 + 1e-6);
}

TEST(Clearance, ShowsWhereAndWho) {
    const Finding f =
        finding(job(), "measure: clearance\nwith: {part: helmet, members: {role: roof_bar}}\nat_least: 60");
    EXPECT_EQ(f.answer, Answer::fails);
    EXPECT_EQ(f.way_out, "2.5 mm more is needed.");
    EXPECT_EQ(f.evidence.driver, "tall");
    EXPECT_EQ(f.evidence.members, std::vector<std::string>{"roof"});
    ASSERT_EQ(f.evidence.shapes.size(), 1u);
    const auto& line = std::get<ShownLine>(f.evidence.shapes[0]);
    EXPECT_NEAR((line.to - line.from).norm(), 57.5, 1e-3);
}

TEST(Clearance, CannotBeToldWithoutADriver) {
    Job j = job();
    j.drivers.clear();
    const Finding f = finding(j, "measure: clearance\nwith: {part: helmet}\nat_least: 50");
    EXPECT_EQ(f.answer, Answer::cannot_tell);
    EXPECT_EQ(f.missing, "no driver is given");
    EXPECT_EQ(
        finding(job(), "measure: clearance\nof: {occupant: passenger}\nwith: {part: helmet}\nat_least: 50")
            .answer,
        Answer::does_not_apply);
    EXPECT_EQ(
        finding(job(), "measure: clearance\nwith: {part: helmet, members: {role: dash_bar}}\nat_least: 50")
            .missing,
        "no member is of role dash_bar");
}

TEST(LineClearance, IsLaidWhereTheHeadIs) {
    // At y = 300: over the hoop at (0, 1022.5) and the windshield bar at (600, 822.5).
    const double length = std::hypot(200, 600), nx = 200 / length, nz = 600 / length;
    const double reach = std::hypot(170 * nx, 140 * nz);
    const double gap = nz * 1022.5 - (250 * nx + 780 * nz) - reach;
    const std::string places =
        "places:\n  a: {top_of: {role: main_hoop}}\n  b: {top_of: {role: windshield_bar}}\n  c: {top_of: "
        "{role: rear_brace}}\n";
    expectValue(smallJob(), "measure: line_clearance\nwith: {part: helmet, from: a, to: b}", gap, 0.01, "mm",
                places);
    Job j = smallJob();
    j.drivers[0].helmet.centre.z() += 300;
    // Over the edge it says how far the helmet is from being clear below it.
    expectValue(j, "measure: line_clearance\nwith: {part: helmet, from: a, to: b}", gap - 300 * nz, 0.01,
                "mm", places);
    // An eye is a point.
    expectValue(smallJob(), "measure: line_clearance\nwith: {part: eye, from: a, to: b}",
                nz * 1022.5 - (330 * nx + 800 * nz), 0.01, "mm", places);
    EXPECT_EQ(
        finding(smallJob(), "measure: line_clearance\nwith: {part: helmet, from: a, to: gone}\nat_least: 50",
                places + "  gone: {top_of: {role: dash_bar}}\n")
            .missing,
        "no place 'gone': no member is of role dash_bar");
}

TEST(InsideEnvelope, IsToASheetOverTheBars) {
    Job j = smallJob();
    expectValue(j, "measure: inside_envelope\nwith: {part: elbow, towards: sides}", 622.5 - 520, 0.01, "mm");
    j.drivers[0].elbow_left.y() = 700;
    expectValue(j, "measure: inside_envelope\nwith: {part: elbow, towards: sides}", 622.5 - 700, 0.01, "mm");
    EXPECT_EQ(
        finding(j, "measure: inside_envelope\nwith: {part: elbow, members: {role: main_hoop}}\nat_least: 76")
            .missing,
        "those bars enclose no space");
}

TEST(Head, BarsAreAboveAndBehind) {
    const std::string hoop = "\nwith: {members: {role: main_hoop}}";
    expectValue(smallJob(), "measure: bar_above_helmet" + hoop, 1022.5 - 920, 0.01, "mm");
    expectValue(smallJob(), "measure: bar_behind_helmet" + hoop, 80 - 22.5, 0.01, "mm");
    expectValue(smallJob(), "measure: helmet_ahead_of_rear_face" + hoop, 80 + 22.5, 0.01, "mm");
    EXPECT_EQ(
        finding(smallJob(), "measure: bar_behind_helmet\nwith: {members: {role: belt_bar}}\nat_most: 150")
            .missing,
        "the bars do not pass the height of the helmet");
}

TEST(Posture, DecidesWhichLimitApplies) {
    expectValue(smallJob(), "measure: back_angle", 20, 0.001, "deg");
    const std::string reclined =
        "measure: lap_angle\nof: {having: {measure: back_angle, more_than: 30}}\nbetween: [60, 80]";
    EXPECT_EQ(finding(smallJob(), reclined).answer, Answer::does_not_apply);
    Job j = smallJob();
    j.drivers[0].back_angle_rad = 31 / kDegrees;
    EXPECT_EQ(finding(j, reclined).answer, Answer::fails);
}

TEST(Belts, RunFromTheShoulderToTheTopOfTheBar) {
    const Job j = smallJob();
    expectValue(j, "measure: belt_bar_below_shoulder", 640 - 582.5, 0.01, "mm");
    // From the shoulder to a bar of 45 whose middle is 200 behind and 80 below, the strap touching it.
    const double far = std::hypot(200, 80), free = std::sqrt(far * far - 22.5 * 22.5);
    const double fall = std::atan2(80, 200) - std::asin(22.5 / far);
    expectValue(j, "measure: belt_angle", fall * kDegrees, 0.001, "deg");
    expectValue(j, "measure: belt_plan_angle", std::atan2(80, free * std::cos(fall)) * kDegrees, 0.001,
                "deg");
    expectValue(j, "measure: belt_run", std::hypot(free, 80), 0.01, "mm");
    expectValue(j, "measure: belt_spacing", 200, 0.01, "mm");
    expectValue(j, "measure: lap_angle", 45, 0.001, "deg");
    expectValue(j, "measure: belt_bar_below_shoulder\nwith: {members: {carries_belts: yes}}", 57.5, 0.01,
                "mm");
}

TEST(Belts, ABarOverTheShoulderIsBelowByLessThanNothing) {
    Job j = smallJob();
    for (MemberPoint& p : memberOf(j, "belt_bar").path) std::get<Landing>(p.place).value = 660;
    expectValue(j, "measure: belt_bar_below_shoulder", 640 - 682.5, 0.01, "mm");
    expectValue(j, "measure: belt_angle",
                (std::atan2(-20, 200) - std::asin(22.5 / std::hypot(200, 20))) * kDegrees, 0.001, "deg");
    const Finding f = finding(j, "measure: belt_bar_below_shoulder\nbetween: [0, 100]");
    EXPECT_EQ(f.answer, Answer::fails);
    EXPECT_NEAR(*f.margin, -42.5, 1e-6);
    EXPECT_EQ(f.limit_text, "0 to 100 mm");
}

TEST(Belts, BothStrapsMustHold) {
    Job j = smallJob();
    j.drivers[0].shoulder_left.z() = 660;
    EXPECT_EQ(finding(j, "measure: belt_bar_below_shoulder\nbetween: [57, 78]").answer, Answer::meets);
    EXPECT_EQ(finding(j, "measure: belt_bar_below_shoulder\nbetween: [58, 78]").answer, Answer::fails);
    EXPECT_EQ(finding(j, "measure: belt_bar_below_shoulder\nbetween: [57, 77]").answer, Answer::fails);
}

TEST(Belts, SayWhatIsMissing) {
    Job j = smallJob();
    j.drivers[0].belts.bar.clear();
    EXPECT_EQ(finding(j, "measure: belt_angle\nbetween: [-10, 20]").missing,
              "no belt bar is named for this driver");
    j.drivers[0].belts.bar = "harness";
    EXPECT_EQ(finding(j, "measure: belt_angle\nbetween: [-10, 20]").missing,
              "the cage has no member 'harness' for this driver's straps");
    j = smallJob();
    j.drivers[0].belts.spacing_mm = 2000;
    EXPECT_EQ(finding(j, "measure: belt_angle\nbetween: [-10, 20]").missing,
              "the bar does not reach as far across as the straps");
    j.drivers[0].belts.lap_anchors.clear();
    EXPECT_EQ(finding(j, "measure: lap_angle\nbetween: [45, 65]").missing,
              "no lap belt anchors are given for this driver");
}

TEST(Belts, RunToEyesWithoutABar) {
    Job j = smallJob();
    j.drivers[0].belts.bar.clear();
    j.drivers[0].belts.shoulder_anchors = StrapAnchors{{0, 400, 600}, {0, 200, 600}};
    expectValue(j, "measure: belt_angle", std::atan2(40, 200) * kDegrees, 0.001, "deg");
    expectValue(j, "measure: belt_run", std::sqrt(200.0 * 200 + 80 * 80 + 40 * 40), 0.01, "mm");
    expectValue(j, "measure: belt_bar_below_shoulder", 40, 0.01, "mm");
}

TEST(Belts, BehindTheSeat) {
    Job j = smallJob();
    EXPECT_EQ(finding(j, "measure: belt_behind_seat\nat_most: 250").missing,
              "no seat is measured for this driver");
    j.drivers[0].seat = Seat{600, 400, {150, 400, 620}, {150, 200, 620}};
    j.drivers[0].belts.bar.clear();
    j.drivers[0].belts.shoulder_anchors = StrapAnchors{{0, 400, 600}, {0, 200, 600}};
    expectValue(j, "measure: belt_behind_seat", std::hypot(150, 20), 0.01, "mm");
}

TEST(BodyParts, AreSolidsThatTouchWhatWasMeasured) {
    Job j = job();
    const auto door = [](const std::string& part) {
        return "measure: clearance\nwith: {part: " + part + ", members: {role: door_bar}}";
    };
    // The upper arm is a capsule of 45 that comes in from the wider shoulder: looked for place by place.
    const Vec3 shoulder = shoulderJoint(j.drivers[0], 1), elbow = elbowJoint(j.drivers[0], 1);
    double least = 1e300;
    for (int i = 0; i <= 100000; ++i) {
        const Vec3 p = shoulder + i * 1e-5 * (elbow - shoulder);
        least = std::min(least, std::hypot(640 - p.y(), 400 - p.z()));
    }
    expectValue(j, door("arm"), least - 45 - 22.5, 0.01, "mm");
    expectValue(j, door("elbow"), 640 - 22.5 - 520, 0.01, "mm");
    j.drivers[0].hand_left = {600, 560, 400};
    expectValue(j, door("hand"), 80 - 45 - 22.5, 0.01, "mm");
    EXPECT_EQ(finding(j, door("wheel") + "\nat_least: 50").missing,
              "no steering wheel is measured for this driver");
    j.drivers[0].steering_wheel = SteeringWheel{{600, 300, 400}, 350, 0};
    expectValue(j, door("wheel"), 640 - 22.5 - 475, 0.01, "mm");
}

TEST(HelmetTravel, IsHowFarItCanGoOneWay) {
    const std::string measure = "measure: helmet_travel\nwith: {direction: ";
    expectValue(job(), measure + "up}", 57.5, 0.01, "mm");
    Job padded = job();
    memberOf(padded, "roof").padding_mm = 20;
    expectValue(padded, measure + "up, padded: yes}", 37.5, 0.01, "mm");
    EXPECT_EQ(finding(job(), measure + "right, members: {role: roof_bar}}\nat_least: 50").answer,
              Answer::does_not_apply);
    EXPECT_EQ(finding(job(), measure + "up, members: {role: dash_bar}}\nat_least: 50").missing,
              "no member is of role dash_bar");
}

TEST(View, PastTheBars) {
    Job j = job();
    j.car.points.push_back({"mirror.left", {1000, 800, 700}, 0, ""});
    j.cage.members.push_back(straight("pillar", "pillar_brace", {900, 500, 0}, {900, 500, 1200}));
    const std::string places = "places:\n  mirror: {car: mirror}\n  nowhere: {car: rear_glass}\n";
    // From the eye at (330, 300, 800): the pillar is upright, so its nearest ball is near eye height.
    const Finding seen = finding(j, "measure: sight_gap\nwith: {place: mirror}\nat_least: 1 deg", places);
    ASSERT_TRUE(seen.value);
    EXPECT_EQ(finding(j, "measure: sight_gap\nwith: {place: nowhere}\nat_least: 1 deg", places).missing,
              "no place 'nowhere': the car has no point 'rear_glass'");
    EXPECT_EQ(finding(j, "measure: windshield_hidden\nat_most: 0.2").missing,
              "the car has no line 'windshield' ahead of the eye");
    j.car.lines.push_back({"windshield",
                           CarLine::Kind::glass,
                           {{1000, 500, 700}, {1000, -500, 700}, {900, -500, 1000}, {900, 500, 1000}},
                           true});
    EXPECT_EQ(finding(j, "measure: windshield_hidden\nat_most: 1").answer, Answer::meets);
}

TEST(ClearOpening, OfTheDoorOnTheDriversSide) {
    Job j = smallJob();
    const std::string measure = "measure: clear_opening\nwith: {line: door_opening}";
    EXPECT_EQ(finding(j, measure + "\nat_least: 400").missing,
              "the car has no line 'door_opening' of at least three points on the driver's side");
    j.car.lines.push_back({"door_opening.left",
                           CarLine::Kind::opening,
                           {{100, 700, 100}, {700, 700, 100}, {700, 700, 700}, {100, 700, 700}},
                           true});
    expectValue(j, measure, 600, 0.2, "mm");
    j.cage.members.push_back(straight("door", "door_bar", {0, 680, 250}, {900, 680, 250}));
    expectValue(j, measure, 700 - 272.5, 0.2, "mm");
}

}  // namespace
}  // namespace hoopwright::test
