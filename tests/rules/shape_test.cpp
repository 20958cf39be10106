// Bends, angles, ends and places of bars. Values are worked out by hand from the small cage of test_cage.h.
#include <cmath>

#include "tests/degrees.h"
#include "tests/rules/test_cage.h"

namespace hoopwright::test {
namespace {

TEST(Bends, AreCountedSummedAndMeasured) {
    const Job job = smallJob();
    expectValue(job, "measure: bend_count\nof: {role: main_hoop}", 2, 1, "");
    expectValue(job, "measure: bend_count\nof: {role: rear_brace}", 0, 1, "");
    expectValue(job, "measure: bend_sum\nof: {role: main_hoop}", 180, 0.001, "deg");
    expectValue(job, "measure: greatest_bend\nof: {role: main_hoop}", 90, 0.001, "deg");
    expectValue(job, "measure: bend_radius_over_od\nof: {role: main_hoop}", 3, 1e-4, "");
    EXPECT_EQ(finding(job, "measure: bend_radius_over_od\nof: {role: rear_brace}\nat_least: 3").answer,
              Answer::does_not_apply);
}

TEST(Bends, CanBeCountedOverAndUnderAPlace) {
    const std::string places = "places:\n  half_way: {car: nose}\n";
    expectValue(smallJob(), "measure: bend_count\nof: {role: main_hoop}\nwith: {above: half_way}", 2, 1, "",
                places);
    expectValue(smallJob(), "measure: bend_count\nof: {role: main_hoop}\nwith: {below: half_way}", 0, 1, "",
                places);
    EXPECT_EQ(
        finding(smallJob(), "measure: bend_count\nof: {role: main_hoop}\nwith: {below: gone}\nat_most: 1",
                "places:\n  gone: {car: roof_hook}\n")
            .missing,
        "no place 'gone': the car has no point 'roof_hook'");
}

TEST(Bends, AtANodeNeedNotCount) {
    // The side bar's bend is at (800, 600, 800): 200 mm from where the windshield bar lands on it.
    const double turn = std::atan2(800, 400) * kDegrees;
    expectValue(smallJob(), "measure: greatest_bend\nof: {role: side_bar}", turn, 0.001, "deg");
    expectValue(smallJob(), "measure: greatest_bend\nof: {role: side_bar}\nwith: {away_from_nodes: 100}",
                turn, 0.001, "deg");
    expectValue(smallJob(), "measure: greatest_bend\nof: {role: side_bar}\nwith: {away_from_nodes: 300}", 0,
                0.001, "deg");
    expectValue(smallJob(), "measure: greatest_bend\nof: {role: side_bar}\nwith: {view: side}", turn, 0.001,
                "deg");
    // Seen from ahead both legs stand upright: no corner is seen.
    expectValue(smallJob(), "measure: greatest_bend\nof: {role: main_hoop}\nwith: {view: plan}", 0, 0.001,
                "deg");
}

TEST(Straightness, IsTheFarthestStrayFromTheChord) {
    const Job job = smallJob();
    expectValue(job, "measure: bow\nof: {role: rear_brace}", 0, 0.001, "mm");
    expectValue(job, "measure: bow\nof: {role: main_hoop}", 1000, 0.01, "mm");
    expectValue(job, "measure: bow\nof: {role: side_bar}\nwith: {view: plan}", 0, 0.001, "mm");
    expectValue(job, "measure: out_of_plane\nof: {role: main_hoop}", 0, 0.001, "mm");
}

TEST(Straightness, AKinkOutOfThePlaneShows) {
    Job job = smallJob();
    memberOf(job, "main_hoop").path[1].place = FixedPoint{{-80, 600, 1000}};
    EXPECT_EQ(finding(job, "measure: out_of_plane\nof: {role: main_hoop}\nat_most: 10").answer,
              Answer::fails);
}

TEST(Lengths, AreOfTheDevelopedCentreline) {
    // Two legs and a top less two setbacks of 135 at each 90 degree bend, plus the arcs.
    const double hoop = 1000 * 2 + 1200 - 4 * 135 + 2 * 135 * M_PI / 2;
    expectValue(smallJob(), "measure: length\nof: {role: main_hoop}", hoop, 0.01, "mm");
    const double area = M_PI / 4 * (45.0 * 45 - 40.0 * 40);
    expectValue(smallJob(), "measure: mass\nof: {role: main_hoop}", area * hoop * 7850e-9, 1e-4, "kg");
    expectValue(smallJob(), "measure: length\nof: {role: belt_bar}", 1200, 0.01, "mm");
}

TEST(UnsupportedLength, RunsBetweenJoints) {
    const Job job = smallJob();
    // Over the top, between the two braces at 850: 15 + 135 is less than a setback, so the joint is at a
    // straight's end.
    const double top = 1200 - 2 * 135 + 2 * 135 * M_PI / 2 + 2 * (1000 - 135 - 850);
    expectValue(job, "measure: unsupported_length\nof: {role: main_hoop}", top, 0.01, "mm");
    expectValue(job, "measure: unsupported_length\nof: {role: main_hoop}\nwith: {spans: bent}", top, 0.01,
                "mm");
    expectValue(job, "measure: unsupported_length\nof: {role: main_hoop}\nwith: {spans: straight}", 560, 0.01,
                "mm");
    EXPECT_EQ(
        finding(job, "measure: unsupported_length\nof: {role: belt_bar}\nwith: {spans: bent}\nat_most: 711")
            .answer,
        Answer::does_not_apply);
}

TEST(Angles, ToVerticalAndLevelDependOnTheView) {
    const Job job = smallJob();
    // The brace falls from (0, 600, 850) to (-950, 600, 0).
    const double off = std::atan2(950, 850) * kDegrees;
    expectValue(job, "measure: angle_to_vertical\nof: {role: rear_brace}\nwith: {view: side}", off, 0.001,
                "deg");
    expectValue(job, "measure: angle_to_vertical\nof: {role: rear_brace}", off, 0.001, "deg");
    expectValue(job, "measure: angle_to_vertical\nof: {role: rear_brace}\nwith: {view: front}", 0, 0.001,
                "deg");
    expectValue(job, "measure: angle_to_horizontal\nof: {role: rear_brace}\nwith: {view: side}", 90 - off,
                0.001, "deg");
    expectValue(job, "measure: angle_to_fore_aft\nof: {role: rear_brace}\nwith: {view: plan}", 0, 0.001,
                "deg");
    // From (0, 600, 800) down to (0, -600, 50).
    expectValue(job, "measure: angle_to_horizontal\nof: {role: hoop_diagonal}\nwith: {view: front}",
                std::atan2(750, 1200) * kDegrees, 0.001, "deg");
    EXPECT_EQ(
        finding(job, "measure: angle_to_vertical\nof: {role: belt_bar}\nwith: {view: side}\nat_least: 30")
            .missing,
        "it has no direction in side view");
}

TEST(Angles, CanBeOfAllStraightsOrOfOneEnd) {
    const Job job = smallJob();
    const std::string of = "measure: angle_to_horizontal\nof: {role: side_bar}\nwith: {view: side, part: ";
    expectValue(job, of + "lower}", std::atan2(800, 400) * kDegrees, 0.001, "deg");
    expectValue(job, of + "upper}", 0, 0.001, "deg");
    EXPECT_EQ(finding(job, of + "straights}\nbetween: [0, 64]").answer, Answer::meets);
    EXPECT_EQ(findings(job, of + "straights}\nat_least: 1").front().answer, Answer::fails);
}

TEST(Lean, HasASign) {
    Job job = smallJob();
    expectValue(job, "measure: lean\nof: {role: main_hoop}", 0, 0.001, "deg");
    memberOf(job, "main_hoop").path[1].place = FixedPoint{{-100, 600, 1000}};
    memberOf(job, "main_hoop").path[2].place = FixedPoint{{-100, -600, 1000}};
    expectValue(job, "measure: lean\nof: {role: main_hoop}", std::atan2(100, 1000) * kDegrees, 0.001, "deg");
    memberOf(job, "main_hoop").path[1].place = FixedPoint{{100, 600, 1000}};
    memberOf(job, "main_hoop").path[2].place = FixedPoint{{100, -600, 1000}};
    const double forward = -std::atan2(100, 1000) * kDegrees;
    expectValue(job, "measure: lean\nof: {role: main_hoop}", forward, 0.001, "deg");
    const std::string places = "places:\n  belt: {meeting: [{role: main_hoop}, {role: belt_bar}]}\n";
    expectValue(job, "measure: lean\nof: {role: main_hoop}\nwith: {above: belt}", forward, 0.001, "deg",
                places);
    expectValue(job, "measure: lean\nof: {role: main_hoop}\nwith: {below: belt}", forward, 0.001, "deg",
                places);
    EXPECT_EQ(finding(job, "measure: lean\nof: {role: belt_bar}\nat_most: 10").missing,
              "it does not rise there");
}

TEST(Heights, AreOfTheWholeTube) {
    const Job job = smallJob();
    EXPECT_EQ(finding(job, "measure: height\nof: {role: belt_bar}\nbetween: [537.5, 582.5]").answer,
              Answer::meets);
    EXPECT_EQ(
        finding(job, "measure: height\nof: {role: belt_bar}\nbetween: [537.5, 582.5]\nopen: low").answer,
        Answer::fails);
    EXPECT_EQ(
        finding(job, "measure: height\nof: {role: belt_bar}\nbetween: [537.5, 582.5]\nopen: high").answer,
        Answer::fails);
    EXPECT_EQ(finding(job, "measure: height\nof: {role: belt_bar}\nbetween: [537.6, 582.5]").answer,
              Answer::fails);
    EXPECT_EQ(finding(job, "measure: height\nof: {role: belt_bar}\nbetween: [537.5, 582.4]").answer,
              Answer::fails);
    const std::string places = "places:\n  nose: {car: nose}\n";
    expectValue(job, "measure: top_height\nof: {role: main_hoop}\nwith: {above: nose}", 1022.5 - 300, 0.01,
                "mm", places);
}

TEST(Extent, StopsAtAStationOfTheCar) {
    const Job job = smallJob();
    const std::string places = "places:\n  nose: {car: nose}\n";
    // The windshield bar's front face is at 622.5; the nose is at 1500.
    expectValue(job, "measure: ahead_of\nof: {role: windshield_bar}\nwith: {place: nose}", 622.5 - 1500, 0.01,
                "mm", places);
    expectValue(job, "measure: behind\nof: {role: windshield_bar}\nwith: {place: nose}", 1500 - 577.5, 0.01,
                "mm", places);
    // With an exemption by role.
    EXPECT_EQ(finding(job, "measure: ahead_of\nof: {not: {role: side_bar}}\nwith: {place: nose}\nat_most: 0",
                      places)
                  .answer,
              Answer::meets);
}

TEST(InsideWidth, IsBetweenTheTubes) {
    const std::string places = "places:\n  foot: {foot_of: {role: main_hoop}}\n";
    expectValue(smallJob(), "measure: inside_width\nof: {role: main_hoop}\nwith: {above: foot, height: 300}",
                1200 - 45, 0.01, "mm", places);
    EXPECT_EQ(
        finding(smallJob(), "measure: inside_width\nof: {role: belt_bar}\nwith: {height: 300}\nat_least: 1")
            .missing,
        "it has no two legs at that height");
}

const char* const kPlaces =
    "places:\n  hoop_top: {top_of: {role: main_hoop}}\n  foot: {foot_of: {role: main_hoop}}\n"
    "  corner: {corners_of: {role: main_hoop}}\n  brace: {meeting: [{role: main_hoop}, {role: rear_brace}]}\n"
    "  ends: {ends_of: {role: belt_bar}}\n  shoulder: {driver: shoulder}\n  low: {bottom_of: {role: "
    "hoop_diagonal}}\n"
    "  screen: {car: screen_top}\n  front: {front_of: {role: windshield_bar}}\n  rear: {rear_of: {role: "
    "rear_brace}}\n";

TEST(Ends, AreMeasuredToNamedPlaces) {
    const Job job = smallJob();
    expectValue(job, "measure: end_to_place\nof: {role: hoop_diagonal}\nwith: {place: foot, end: lower}", 50,
                0.01, "mm", kPlaces);
    expectValue(job, "measure: end_to_place\nof: {role: hoop_diagonal}\nwith: {place: foot}", 50, 0.01, "mm",
                kPlaces);
    expectValue(job, "measure: end_to_place\nof: {role: hoop_diagonal}\nwith: {place: foot, end: farthest}",
                800, 0.01, "mm", kPlaces);
    expectValue(job, "measure: end_to_place\nof: {role: hoop_diagonal}\nwith: {place: ends, end: upper}", 240,
                0.01, "mm", kPlaces);
    expectValue(
        job, "measure: end_to_place\nof: {role: hoop_diagonal}\nwith: {place: ends, end: upper, along: host}",
        240, 0.01, "mm", kPlaces);
    // The middle of the bend lies 135 (1 - sin 45) inside both lines of the corner.
    const double in = 135 * (1 - std::sqrt(0.5));
    expectValue(job, "measure: end_to_place\nof: {role: rear_brace}\nwith: {place: corner, end: upper}",
                std::hypot(in, 150 - in), 0.01, "mm", kPlaces);
    expectValue(job, "measure: end_below_place\nof: {role: rear_brace}\nwith: {place: hoop_top, end: upper}",
                1022.5 - 850, 0.01, "mm", kPlaces);
    // Along the hoop from 850 up the leg and round the bend is longer than straight.
    expectValue(
        job, "measure: end_to_place\nof: {role: rear_brace}\nwith: {place: corner, end: upper, along: host}",
        15 + 135 * M_PI / 4, 0.01, "mm", kPlaces);
    expectValue(job, "measure: end_to_place\nof: {role: windshield_bar}\nwith: {place: screen}",
                std::hypot(100, 150), 0.01, "mm", kPlaces);
    EXPECT_EQ(
        finding(job, "measure: end_to_place\nof: {role: roof_bar}\nwith: {place: foot}\nat_most: 1", kPlaces)
            .answer,
        Answer::does_not_apply);
    EXPECT_EQ(finding(job, "measure: end_to_place\nof: {role: belt_bar}\nwith: {place: top}\nat_most: 1",
                      "places:\n  top: {top_of: {role: roof_bar}}\n")
                  .missing,
              "no place 'top': no member is of role roof_bar");
}

TEST(Ends, MeetAtANode) {
    Job job = smallJob();
    // The diagonal's upper end and the side bar meet at 800 on the left leg; the brace at 850 is within the
    // node's reach.
    const std::string places = "places:\n  n: {meeting: [{role: hoop_diagonal}, {role: side_bar}]}\n";
    EXPECT_EQ(
        finding(job,
                "measure: end_to_place\nof: {role: hoop_diagonal}\nwith: {place: n, end: upper}\nat_most: 50",
                places)
            .answer,
        Answer::meets);
    job.cage.members[3].path[0].place = FixedPoint{{0, 100, 900}};
    EXPECT_EQ(
        finding(job,
                "measure: end_to_place\nof: {role: hoop_diagonal}\nwith: {place: n, end: upper}\nat_most: 50",
                places)
            .answer,
        Answer::cannot_tell);
}

TEST(Connects, AsksWhatBothEndsLandOn) {
    Job job = smallJob();
    const std::string screen =
        "measure: connects\nof: {role: windshield_bar}\nwith: {from: {role: side_bar, side: left}, to: "
        "{role: side_bar, side: right}}\nis: yes";
    EXPECT_EQ(finding(job, screen).answer, Answer::meets);
    EXPECT_EQ(finding(job,
                      "measure: connects\nof: {role: windshield_bar}\nwith: {from: {role: side_bar}, to: "
                      "{role: main_hoop}}\nis: yes")
                  .answer,
              Answer::fails);
    EXPECT_EQ(finding(job,
                      "measure: connects\nof: {role: belt_bar}\nwith: {from: {role: main_hoop}, to: {role: "
                      "main_hoop}}\nis: yes")
                  .answer,
              Answer::meets);
    memberOf(job, "windshield_bar").path[1].place = FixedPoint{{600, -400, 800}};
    EXPECT_EQ(finding(job, screen).answer, Answer::fails);
    expectValue(job, "measure: feet\nof: {role: main_hoop}", 2, 1, "");
    expectValue(job, "measure: feet\nof: {role: rear_brace}", 1, 1, "");
}

TEST(Connects, CanBeOfTheSameSide) {
    EXPECT_EQ(finding(smallJob(),
                      "measure: same_tube_as\nof: {role: side_bar}\nwith: {members: {role: rear_brace, side: "
                      "same}}\nis: no")
                  .answer,
              Answer::meets);
    EXPECT_EQ(findings(smallJob(),
                       "measure: same_tube_as\nof: {role: side_bar}\nwith: {members: {role: side_bar, side: "
                       "other}}\nis: yes")
                  .front()
                  .answer,
              Answer::meets);
}

TEST(Mirror, LeftAndRightAreAlike) {
    Job job = smallJob();
    expectValue(job, "measure: mirror_difference\nof: {role: side_bar}", 0, 0.001, "mm");
    expectValue(job, "measure: mirror_difference\nof: {role: main_hoop}", 0, 0.001, "mm");
    job.cage.members.push_back(straight("left_bar", "door_bar", {100, 700, 300}, {900, 700, 300}));
    EXPECT_EQ(finding(job, "measure: mirror_difference\nof: {role: door_bar}\nat_most: 5").missing,
              "there is no bar like it on the other side");
    job.cage.members.push_back(straight("right_bar", "door_bar", {100, -700, 300}, {900, -700, 312}));
    expectValue(job, "measure: mirror_difference\nof: {role: door_bar}", 12, 0.01, "mm");
}

TEST(GapToLine, IsFromTheOutsideOfTheTube) {
    // The rail runs at (650, 1000); the hoop's bend is nearest: 135 out from its centre at (465, 865).
    const double gap = std::hypot(650 - 465, 1000 - 865) - 135 - 22.5;
    expectValue(smallJob(), "measure: gap_to_line\nof: {role: main_hoop}\nwith: {line: roof_rail}", gap, 0.01,
                "mm");
    EXPECT_EQ(
        finding(smallJob(), "measure: gap_to_line\nof: {role: main_hoop}\nwith: {line: gutter}\nat_most: 20")
            .missing,
        "the car has no line 'gutter'");
}

}  // namespace
}  // namespace hoopwright::test
