// Plates, bolts, gussets, joints, pairs, and counting.
#include <cmath>

#include "tests/degrees.h"
#include "tests/rules/test_cage.h"

namespace hoopwright::test {
namespace {

TEST(Plates, HaveAreaThicknessAndSides) {
    const Job j = smallJob();
    const std::string hoop = "\nof: {under: {role: main_hoop}}";
    expectValue(j, "measure: plate_area" + hoop, 150, 0.1, "cm2");
    expectValue(j, "measure: plate_thickness" + hoop, 3, 0.01, "mm");
    expectValue(j, "measure: plate_least_side" + hoop, 100, 0.01, "mm");
    expectValue(j, "measure: plate_greatest_side" + hoop, 150, 0.01, "mm");
    EXPECT_EQ(finding(j, "measure: plate_area\nof: {under: {role: roof_bar}}\nat_least: 120 cm2").answer,
              Answer::does_not_apply);
}

TEST(Plates, HaveAFloorAndACeiling) {
    EXPECT_EQ(finding(smallJob(), "measure: plate_area\nbetween: [60 cm2, 150 cm2]").answer, Answer::meets);
    EXPECT_EQ(findings(smallJob(), "measure: plate_area\nbetween: [60 cm2, 149 cm2]").front().answer,
              Answer::fails);
}

TEST(Plates, CanBeMeasuredInDiameters) {
    const std::string brace = "\nof: {under: {role: rear_brace}}";
    expectValue(smallJob(), "measure: plate_area_over_od" + brace, 6000.0 / 38, 0.01, "mm");
    expectValue(smallJob(), "measure: plate_side_over_od" + brace, 60.0 / 38, 1e-4, "");
}

TEST(Plates, RulesOfBoltsAreForBoltedOnes) {
    Job j = smallJob();
    EXPECT_EQ(finding(j, "measure: bolt_count\nat_least: 3").answer, Answer::does_not_apply);
    EXPECT_EQ(findings(j, "measure: fixing\nis: bolted").front().found, "welded");
    Plate& foot = j.cage.plates[2];
    foot.fixing = Fixing::bolted;
    foot.bolts = {3, 8, "8.8"};
    foot.backing = BackingPlate{100, 60, 3};
    expectValue(j, "measure: bolt_count", 3, 1, "");
    expectValue(j, "measure: bolt_diameter", 8, 0.01, "mm");
    EXPECT_EQ(finding(j, "measure: bolt_grade\none_of: ['8.8', '10.9']").answer, Answer::meets);
    expectValue(j, "measure: backing_area\nof: {fixing: bolted}", 60, 0.1, "cm2");
    expectValue(j, "measure: backing_thickness\nof: {fixing: bolted}", 3, 0.01, "mm");
    expectValue(j, "measure: backing_thickness\nof: {fixing: welded}", 0, 0.01, "mm");
    foot.bolts = {3, 0, ""};
    EXPECT_EQ(findings(j, "measure: bolt_grade\nis: '8.8'").front().missing,
              "the plate's bolts have no grade");
    EXPECT_EQ(findings(j, "measure: bolt_diameter\nat_least: 8").front().missing,
              "the plate's bolts have no diameter");
}

TEST(Plates, StandOnARailOrOnSkin) {
    Job j = smallJob();
    EXPECT_EQ(findings(j, "measure: tied_to_rail\nis: yes").front().answer, Answer::fails);
    for (Plate& plate : j.cage.plates) plate.rail = "sill.left";
    EXPECT_EQ(finding(j, "measure: tied_to_rail\nis: yes").things, 6);
}

TEST(Joints, MeetAtAnAngle) {
    const std::string brace = "\nof: {branch: {role: rear_brace}, host: {role: main_hoop}}";
    expectValue(smallJob(), "measure: joint_angle" + brace, std::atan2(950, 850) * kDegrees, 0.001, "deg");
    expectValue(smallJob(), "measure: joint_angle" + brace + "\nwith: {view: side}",
                std::atan2(950, 850) * kDegrees, 0.001, "deg");
    expectValue(smallJob(), "measure: joint_angle" + brace + "\nwith: {view: front}", 0, 0.001, "deg");
    expectValue(smallJob(), "measure: joint_offset" + brace, 0, 0.001, "mm");
    EXPECT_EQ(
        finding(smallJob(), "measure: joint_angle\nof: {branch: {role: roof_bar}}\nat_least: 30").answer,
        Answer::does_not_apply);
    const Finding f = findings(smallJob(), "measure: joint_angle" + brace + "\nat_least: 60 deg").front();
    EXPECT_EQ(f.subject, "rear_brace.left first end on main_hoop");
    EXPECT_EQ(f.evidence.members, (std::vector<std::string>{"rear_brace.left", "main_hoop"}));
}

TEST(Gussets, AreCountedAndMeasured) {
    Job j = smallJob();
    const std::string belt =
        "measure: gussets_at_joint\nof: {branch: {role: belt_bar}}\nhow_many: any\nat_least: 1";
    EXPECT_EQ(finding(j, belt).answer, Answer::fails);
    EXPECT_EQ(finding(j, "measure: gusset_thickness\nat_least: 1").answer, Answer::does_not_apply);
    Gusset g;
    g.id = "g";
    g.member_a = "belt_bar";
    g.member_b = "main_hoop";
    g.leg_mm = 60;
    g.thickness_mm = 2;
    j.cage.gussets = {g};
    EXPECT_EQ(finding(j, belt).answer, Answer::meets);
    EXPECT_EQ(
        finding(j,
                "measure: gussets_at_joint\nof: {branch: {role: belt_bar}}\nhow_many: exactly 1\nat_least: 1")
            .answer,
        Answer::meets);
    EXPECT_EQ(finding(j, "measure: gussets_at_joint\nof: {branch: {role: rear_brace}}\nat_most: 0").answer,
              Answer::meets);
    expectValue(j, "measure: gusset_count\nof: {between: [{role: main_hoop}, {role: belt_bar}]}", 1, 1, "");
    expectValue(j, "measure: gusset_count\nof: {between: [{role: main_hoop}, {role: rear_brace}]}", 0, 1, "");
    expectValue(j, "measure: gusset_thickness", 2, 0.01, "mm");
    expectValue(j, "measure: gusset_leg", 60, 0.01, "mm");
    expectValue(j, "measure: gusset_leg_over_od", 60.0 / 45, 1e-4, "");
}

TEST(Pairs, HaveAGapAndAnAngle) {
    const std::string belt = "{first: {role: belt_bar}, second: {role: ";
    expectValue(smallJob(), "measure: gap\nof: " + belt + "windshield_bar}}", std::hypot(600, 240) - 45, 0.01,
                "mm");
    expectValue(smallJob(), "measure: included_angle\nof: " + belt + "windshield_bar}}", 0, 0.001, "deg");
    expectValue(smallJob(), "measure: included_angle\nof: " + belt + "hoop_diagonal}}",
                std::atan2(750, 1200) * kDegrees, 0.001, "deg");
    expectValue(smallJob(),
                "measure: pair_count\nof: {first: {role: rear_brace}, second: {role: main_hoop}, within: 10}",
                2, 1, "");
    expectValue(
        smallJob(),
        "measure: pair_count\nof: {first: {role: rear_brace}, second: {role: windshield_bar}, within: 10}", 0,
        1, "");
    expectValue(
        smallJob(),
        "measure: pair_count\nof: {first: {role: rear_brace}, second: {role: side_bar}, same_side: yes}", 2,
        1, "");
    // A pair of two of a kind is one pair.
    expectValue(smallJob(), "measure: pair_count\nof: {first: {role: side_bar}, second: {role: side_bar}}", 1,
                1, "");
}

TEST(Counts, AreOfWhatIsSelected) {
    const Job j = smallJob();
    expectValue(j, "measure: member_count", 8, 1, "");
    expectValue(j, "measure: member_count\nof: {role: [side_bar, rear_brace]}", 4, 1, "");
    expectValue(j, "measure: member_count\nof: {not: {role: [side_bar, rear_brace]}}", 4, 1, "");
    expectValue(j, "measure: member_count\nof: {side: left}", 2, 1, "");
    expectValue(j, "measure: member_count\nof: {bent: yes}", 3, 1, "");
    // The windshield bar; at the node 50 mm about the side bar's end, the diagonal and both braces.
    expectValue(j, "measure: member_count\nof: {lands_on: {role: side_bar}}", 4, 1, "");
    expectValue(j, "measure: member_count\nof: {on_plate: yes}", 5, 1, "");
    expectValue(j, "measure: member_count\nof: {carries_belts: yes}", 1, 1, "");
    expectValue(j, "measure: member_count\nof: {having: [{measure: od, less_than: 40}]}", 2, 1, "");
    expectValue(j, "measure: member_count\nof: {optional: yes}", 0, 1, "");
    expectValue(j, "measure: member_count\nof: {side: driver, role: side_bar}", 1, 1, "");
    expectValue(j, "measure: plate_count", 6, 1, "");
    expectValue(j, "measure: joint_count\nof: {branch: {role: belt_bar}, host: {role: main_hoop}}", 2, 1, "");
    expectValue(j, "measure: joint_count\nof: {branch: {role: belt_bar}, side: left}", 1, 1, "");
    expectValue(j, "measure: driver_count", 1, 1, "");
    const CageTotals totals = resolve(j).totals;
    expectValue(j, "measure: tube_mass", totals.tube_mass_kg, 0.001, "kg");
    expectValue(j, "measure: whole_mass", totals.tube_mass_kg + totals.plate_mass_kg, 0.001, "kg");
}

TEST(Counts, NothingIsACountToo) {
    const Finding f = finding(smallJob(), "measure: member_count\nof: {role: roof_bar}\nat_least: 2");
    EXPECT_EQ(f.answer, Answer::fails);
    EXPECT_EQ(f.way_out, "2 more are needed.");
    EXPECT_EQ(finding(smallJob(), "measure: plate_count\nat_most: 8").answer, Answer::meets);
    EXPECT_EQ(finding(smallJob(), "measure: plate_count\nat_most: 4").way_out, "2 too many.");
    EXPECT_EQ(finding(smallJob(), "measure: plate_count\nmore_than: 6").way_out, "1 more is needed.");
}

TEST(Counts, AMassWithoutStockIsNoMass) {
    Job j = smallJob();
    memberOf(j, "diagonal").stock = "none";
    EXPECT_EQ(finding(j, "measure: tube_mass\nat_most: 60 kg").answer, Answer::cannot_tell);
}

}  // namespace
}  // namespace hoopwright::test
