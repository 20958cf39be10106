// Shapes of rules, each on its limit, inside, outside, and where it does not apply: people (straightedges,
// bars near, above and behind, belts, padding), feet, bolts and gussets, and what a rule may say of itself
// (advice, bans, questions, strict ends, how many).
#include <cmath>

#include "tests/degrees.h"
#include "tests/rules/shapes.h"

namespace hoopwright::test {
namespace {

const std::string kPassenger = "\nof: {occupant: passenger}";

/// Held for nobody, it does not apply; without any person it can't be told.
void expectForPeople(const std::string& measure, const std::string& rest, const std::string& sections = "") {
    expectNotApplying({measure + kPassenger + rest, sections}, smallJob());
    Job empty = smallJob();
    empty.drivers.clear();
    EXPECT_EQ(worst(empty, {measure + rest, sections}), Answer::cannot_tell) << measure;
}

TEST(ShapeUnderALine, HelmetUnderAStraightedge) {
    const std::string places =
        "places:\n  a: {top_of: {role: main_hoop}}\n  b: {top_of: {role: windshield_bar}}\n";
    const std::string measure = "measure: line_clearance",
                      rest = "\nwith: {part: helmet, from: a, to: b}\nat_least: 50";
    // From (0, 1022.5) to (600, 822.5) seen from the side; the helmet is 340 by 280.
    const double length = std::hypot(200, 600), nx = 200 / length, nz = 600 / length;
    const double on = 1022.5 - (250 * nx + std::hypot(170 * nx, 140 * nz) + 50) / nz;
    const auto with = [](double z) {
        Job job = smallJob();
        job.drivers[0].helmet.centre.z() = z;
        return job;
    };
    expectLimit({measure + rest, places}, with, on, on - 0.1, on + 0.1);
    expectForPeople(measure, rest, places);
}

TEST(ShapeStraightedge, BodyInsideAnyTwoOuterPoints) {
    const std::string measure = "measure: inside_envelope",
                      rest = "\nwith: {part: elbow, towards: sides}\nat_least: 76";
    const auto with = [](double y) {
        Job job = smallJob();
        job.drivers[0].elbow_left = {350, y, 400};
        return job;
    };
    expectLimit({measure + rest}, with, 622.5 - 76, 622.5 - 76.1, 622.5 - 75.9);
    expectForPeople(measure, rest);
}

/// A bar over the helmet with this gap of bare tube, padded so thick.
Job roofBarAt(double gap, double padding = 0) {
    Job job = smallJob();
    job.cage.members = {straight("roof", "roof_bar", {250, -400, 942.5 + gap}, {250, 800, 942.5 + gap})};
    job.cage.members[0].padding_mm = padding;
    return job;
}

TEST(ShapeClearance, OfABodyPartToAnyBar) {
    const std::string measure = "measure: clearance", rest = "\nwith: {part: helmet}\nat_least: 50";
    expectLimit(
        {measure + rest}, [](double gap) { return roofBarAt(gap); }, 50, 50.1, 49.9);
    expectLimit(
        {measure + "\nwith: {part: helmet, padded: yes}\nat_least: 50"},
        [](double gap) { return roofBarAt(gap, 20); }, 70, 70.1, 69.9);
    expectForPeople(measure, rest);
    // The gap of a far body part: an eye 120 under the bar's middle.
    Job job = roofBarAt(50);
    job.drivers[0].eye = {250, 300, 992.5 - 120};
    EXPECT_EQ(worst(job, {"measure: clearance\nwith: {part: eye}\nat_least: 97.5"}), Answer::meets);
    EXPECT_EQ(worst(job, {"measure: clearance\nwith: {part: eye}\nat_least: 97.6"}), Answer::fails);
}

TEST(ShapePadding, OnBarsNearTheHelmet) {
    const std::string measure = "measure: least_padding",
                      rest = "\nwith: {part: helmet, within: 150}\nat_least: 15";
    expectLimit(
        {measure + rest}, [](double thick) { return roofBarAt(100, thick); }, 15, 15.1, 14.9);
    // A bare bar counts up to the reach and no farther.
    EXPECT_EQ(worst(roofBarAt(149.9), {measure + rest}), Answer::fails);
    expectNotApplying({measure + rest}, roofBarAt(150.1));
    const Finding far = finding(roofBarAt(150.1), measure + rest);
    EXPECT_EQ(far.missing, "there is nothing of the sort to measure");
    EXPECT_EQ(finding(roofBarAt(100, 10), measure + rest).evidence.members, std::vector<std::string>{"roof"});
    EXPECT_EQ(finding(smallJob(), measure + "\nwith: {part: helmet, within: 1, members: {role: roof_bar}}"
                                            "\nat_least: 15")
                  .missing,
              "no member is of role roof_bar");
    expectForPeople(measure, rest);
}

TEST(ShapeAboveAndBehind, TheHead) {
    const std::string with_hoop = "\nwith: {members: {role: main_hoop}}";
    const auto high = [](double gap) {
        Job job = smallJob();
        job.drivers[0].helmet.centre.z() = 1022.5 - gap - 140;
        return job;
    };
    expectLimit({"measure: bar_above_helmet" + with_hoop + "\nat_least: 76"}, high, 76, 76.1, 75.9);
    const auto ahead = [](double gap) {
        Job job = smallJob();
        job.drivers[0].helmet.centre.x() = 22.5 + gap + 170;
        return job;
    };
    expectLimit({"measure: bar_behind_helmet" + with_hoop + "\nat_most: 200"}, ahead, 200, 199.9, 200.1);
    expectForPeople("measure: bar_above_helmet", with_hoop + "\nat_least: 76");
    expectForPeople("measure: bar_behind_helmet", with_hoop + "\nat_most: 200");
}

/// Straps that fall by an angle to where they touch a belt bar of 45, 200 mm behind and with its middle at
/// 560.
Job strapsFalling(double degrees) {
    Job job = smallJob();
    for (Vec3* shoulder : {&job.drivers[0].shoulder_left, &job.drivers[0].shoulder_right})
        shoulder->z() = 560 + 200 * std::tan(degrees * kDegree) + 22.5 / std::cos(degrees * kDegree);
    return job;
}

TEST(ShapeBeltAngle, HasARangeAndASign) {
    const std::string measure = "measure: belt_angle", rest = "\nbetween: [-10 deg, 20 deg]";
    expectLimit({measure + rest}, strapsFalling, 20, 19.99, 20.01);
    expectLimit({measure + rest}, strapsFalling, -10, -9.99, -10.01);
    expectForPeople(measure, rest);
}

TEST(ShapeBarAndShoulder, NotAboveNotFarBelow) {
    const std::string measure = "measure: belt_bar_below_shoulder", rest = "\nbetween: [0, 100]";
    const auto with = [](double below) {
        Job job = smallJob();
        job.drivers[0].shoulder_left.z() = job.drivers[0].shoulder_right.z() = 582.5 + below;
        return job;
    };
    expectLimit({measure + rest}, with, 0, 0.1, -0.1);
    expectLimit({measure + rest}, with, 100, 99.9, 100.1);
    expectForPeople(measure, rest);
}

/// The hoop's feet so long and wide.
Job hoopFoot(double length, double width) {
    Job job = smallJob();
    job.cage.plates[0].length_mm = length;
    job.cage.plates[0].width_mm = width;
    return job;
}

TEST(ShapePlateArea, HasAFloorACeilingAndAThickness) {
    const std::string of = "\nof: {under: {role: main_hoop}}";
    const auto area = [](double cm2) { return hoopFoot(cm2, 100); };
    const HeldRule rule{"measure: plate_area" + of + "\nbetween: [60 cm2, 100 cm2]"};
    expectLimit(rule, area, 60, 60.1, 59.9);
    expectLimit(rule, area, 100, 99.9, 100.1);
    expectNotApplying({"measure: plate_area\nof: {under: {role: roof_bar}}\nat_least: 1 cm2"}, smallJob());
    const auto thick = [](double t) {
        Job job = smallJob();
        job.cage.plates[0].thickness_mm = t;
        return job;
    };
    expectLimit({"measure: plate_thickness" + of + "\nat_least: 3"}, thick, 3, 3.1, 2.9);
    const auto narrow = [](double side) { return hoopFoot(150, side); };
    expectLimit({"measure: plate_least_side" + of + "\nat_least: 76"}, narrow, 76, 76.1, 75.9);
}

TEST(ShapePlateInDiameters, SideAndArea) {
    const std::string of = "\nof: {under: {role: main_hoop}}";
    expectLimit(
        {"measure: plate_side_over_od" + of + "\nat_least: 2"},
        [](double side) { return hoopFoot(150, side); }, 90, 90.1, 89.9);
    expectLimit(
        {"measure: plate_area_over_od" + of + "\nat_least: 200"},
        [](double side) { return hoopFoot(100, side); }, 90, 90.1, 89.9);
    expectNotApplying({"measure: plate_side_over_od\nof: {under: {role: roof_bar}}\nat_least: 2"},
                      smallJob());
}

Job boltedFeet(int count, double diameter) {
    Job job = smallJob();
    for (Plate& plate : job.cage.plates) {
        plate.fixing = Fixing::bolted;
        plate.bolts = {count, diameter, "8.8"};
    }
    return job;
}

TEST(ShapeBolts, CountAndSizeOfBoltedFeet) {
    const HeldRule count{"measure: bolt_count\nat_least: 3"}, size{"measure: bolt_diameter\nat_least: 8"};
    expectLimit(
        count, [](double n) { return boltedFeet(static_cast<int>(n), 8); }, 3, 4, 2);
    expectLimit(
        size, [](double d) { return boltedFeet(3, d); }, 8, 8.1, 7.9);
    expectNotApplying(count, smallJob());  // welded
    expectNotApplying(size, smallJob());
}

Job gussets(int count, double leg = 90) {
    Job job = smallJob();
    for (int i = 0; i < count; ++i) {
        Gusset g;
        g.id = "g" + std::to_string(i);
        g.member_a = "belt_bar";
        g.member_b = "main_hoop";
        g.leg_mm = leg;
        g.thickness_mm = 2;
        job.cage.gussets.push_back(g);
    }
    return job;
}

TEST(ShapeGussets, PresenceNumberAndSize) {
    const std::string count = "measure: gusset_count\nof: {between: [{role: main_hoop}, {role: belt_bar}]}\n";
    const auto with = [](double n) { return gussets(static_cast<int>(n)); };
    expectLimit({count + "at_least: 1"}, with, 1, 2, 0);
    expectLimit({count + "at_most: 2"}, with, 2, 1, 3);
    const HeldRule leg{"measure: gusset_leg_over_od\nat_least: 2"};
    expectLimit(
        leg, [](double mm) { return gussets(1, mm); }, 90, 90.1, 89.9);
    expectNotApplying(leg, smallJob());
    expectNotApplying({"when: {frame: ladder}\n" + count + "at_least: 1"}, smallJob());
}

/// A belt bar of so many millimetres and nothing else.
Job beltBar(double length) {
    Job job = smallJob();
    job.cage.members = {straight("belt_bar", "belt_bar", {0, 0, 500}, {0, length, 500})};
    return job;
}

TEST(ShapeSeverity, RequiredAdvisedAndBanned) {
    const std::string measure = "measure: length\nof: {role: belt_bar}\nat_least: 1200";
    for (const std::string& severity : {std::string(), std::string("severity: recommended\n")}) {
        const HeldRule rule{severity + measure};
        expectLimit(rule, beltBar, 1200, 1200.1, 1199.9);
        expectNotApplying(rule, without(smallJob(), "belt_bar"));
        EXPECT_EQ(checkWith(beltBar(1100), tableText(ruleText(rule.says))).allMeet(), !severity.empty());
    }
    const HeldRule ban{"measure: member_count\nof: {role: dash_bar}\nat_most: 0"};
    EXPECT_EQ(worst(smallJob(), ban), Answer::meets);
    Job job = smallJob();
    job.cage.members.push_back(straight("dash", "dash_bar", {500, -500, 500}, {500, 500, 500}));
    EXPECT_EQ(worst(job, ban), Answer::fails);
}

TEST(ShapeInspector, ATickAndANote) {
    const HeldRule rule{"ask: Is it so?"};
    Job job = smallJob();
    EXPECT_EQ(worst(job, rule), Answer::ask_person);
    for (const bool good : {true, false}) {
        job.cage.answers = {{"test", "r", "", good, "A. Fitter", "2026-03-02", "seen bare"}};
        EXPECT_EQ(worst(job, rule), good ? Answer::meets : Answer::fails);
    }
    expectNotApplying({"ask: Is it so?\neach: member\nof: {role: roof_bar}"}, smallJob());
}

TEST(ShapeStrictAndInclusive, EndsOpenOrClosed) {
    const std::string measure = "measure: length\nof: {role: belt_bar}\n";
    expectLimit({measure + "at_least: 1200"}, beltBar, 1200, 1200.1, 1199.9);
    expectLimit({measure + "more_than: 1200", "", Answer::fails}, beltBar, 1200, 1200.1, 1199.9);
    expectLimit({measure + "at_most: 1200"}, beltBar, 1200, 1199.9, 1200.1);
    expectLimit({measure + "less_than: 1200", "", Answer::fails}, beltBar, 1200, 1199.9, 1200.1);
    for (const char* open : {"", "\nopen: low", "\nopen: high", "\nopen: both"}) {
        const std::string says = measure + "between: [1200, 1300]" + open;
        const bool low = says.ends_with("low") || says.ends_with("both");
        const bool high = says.ends_with("high") || says.ends_with("both");
        expectLimit({says, "", low ? Answer::fails : Answer::meets}, beltBar, 1200, 1200.1, 1199.9);
        expectLimit({says, "", high ? Answer::fails : Answer::meets}, beltBar, 1300, 1299.9, 1300.1);
    }
    expectNotApplying({measure + "at_least: 1200"}, without(smallJob(), "belt_bar"));
}

/// Three door bars, so many of them 45 mm, the rest 38 mm.
Job wideDoorBars(double wide) {
    Job job = smallJob();
    for (int i = 0; i < 3; ++i)
        job.cage.members.push_back(straight("door_" + std::to_string(i), "door_bar", {0, 640, 100.0 * i},
                                            {900, 640, 100.0 * i}, i < wide ? "45x2.5" : "38x2.5"));
    return job;
}

TEST(ShapeHowMany, AllAnySoManyNone) {
    const std::string measure = "measure: od\nof: {role: door_bar}\nat_least: 45\nhow_many: ";
    expectLimit({measure + "any"}, wideDoorBars, 1, 2, 0);
    expectLimit({measure + "at_least 2"}, wideDoorBars, 2, 3, 1);
    expectLimit({measure + "at_most 2"}, wideDoorBars, 2, 1, 3);
    EXPECT_EQ(worst(wideDoorBars(3), {measure + "all"}), Answer::meets);
    EXPECT_EQ(worst(wideDoorBars(2), {measure + "all"}), Answer::fails);
    EXPECT_EQ(worst(wideDoorBars(0), {measure + "none"}), Answer::meets);
    EXPECT_EQ(worst(wideDoorBars(1), {measure + "none"}), Answer::fails);
    EXPECT_EQ(worst(wideDoorBars(2), {measure + "exactly 2"}), Answer::meets);
    EXPECT_EQ(worst(wideDoorBars(1), {measure + "exactly 2"}), Answer::fails);
    expectNotApplying({measure + "all"}, smallJob());
    expectNotApplying({measure + "none"}, smallJob());
}

}  // namespace
}  // namespace hoopwright::test
