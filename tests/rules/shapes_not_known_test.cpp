// Shapes of rules where something they need is not known: each says it can't tell and what is missing, never
// that it meets and never that it fails.
#include <ostream>

#include "tests/rules/shapes.h"

namespace hoopwright::test {
namespace {

void noStock(Job& job) {
    job.stock.tubes.clear();
}
void noMaterial(Job& job) {
    job.stock.materials.clear();
}
void noYield(Job& job) {
    for (Material& material : job.stock.materials) material.yield_mpa.reset();
}
void nobody(Job& job) {
    job.drivers.clear();
}
void noHoop(Job& job) {
    job = without(job, "main_hoop");
}
void bolted(Job& job) {
    for (Plate& plate : job.cage.plates) plate.fixing = Fixing::bolted;
}
void noBar(Job& job) {
    job.drivers[0].belts.bar.clear();
}
void nothing(Job&) {}

struct NotKnown {
    const char* name;
    void (*take)(Job&);
    const char* says;
    const char* sections;
    const char* missing;
};
void PrintTo(const NotKnown& one, std::ostream* out) {
    *out << one.name;
}

const char* const kPairs = "tubes:\n  t: {any_of: [{od: 45, wall: 2.5}]}\n";
const char* const kSizes = "tubes:\n  t: {any_of: [{od: 25, wall: 2, area: 300 mm2, inertia: 1 mm4}]}\n";
const char* const kReference =
    "reference_tubes:\n  plain: {od: 38, wall: 2.5, modulus: 205000 MPa, yield: 355 MPa}\n"
    "tubes:\n  t: {any_of: [{wall: 1.6, strength_over: {with: {tube: plain}, at_least: 1}}]}\n";
const char* const kByMass =
    "facts:\n  race_mass: {kind: mass, meaning: M}\n"
    "tubes:\n  t:\n    by: race_mass\n    rows:\n      - {up_to: 900 kg, any_of: [{od: 38, wall: 2.5}]}\n";
const char* const kAFoot = "places:\n  foot: {foot_of: {role: main_hoop}}\n";
const char* const kLine =
    "places:\n  a: {top_of: {role: main_hoop}}\n  b: {top_of: {role: windshield_bar}}\n";
const char* const kHook = "places:\n  hook: {car: roof_hook}\n";

const NotKnown kCases[] = {
    {"PairsByRoleWithoutStock", noStock, "measure: tube\nof: {role: main_hoop}\nfits: t", kPairs,
     "the stock list has no tube '45x2.5'"},
    {"PairsByMassWithoutTheMass", nothing, "measure: tube\nof: {role: main_hoop}\nfits: t", kByMass,
     "the fact 'race_mass' is not given"},
    {"AllOfASizeWithoutStock", noStock, "measure: tube\nof: {role: main_hoop}\nfits: t", kSizes,
     "the stock list has no tube '45x2.5'"},
    {"ReferenceTubeWithoutAYield", noYield, "measure: tube\nof: {role: rear_brace}\nfits: t", kReference,
     "no yield"},
    {"SameTubeWithoutStock", noStock,
     "measure: same_tube_as\nof: {role: hoop_diagonal}\nwith: {members: {role: main_hoop}}\nis: yes", "",
     "the stock list has no tube '45x2.5'"},
    {"MakingWithoutStock", noStock, "measure: form\nof: {role: main_hoop}\none_of: [seamless]", "",
     "the stock list has no tube '45x2.5'"},
    {"FamilyWithoutMaterial", noMaterial, "measure: family\nof: {role: main_hoop}\nis: mild_steel", "",
     "the stock list has no material 'plain'"},
    {"OneOfSeveralWithoutStock", noStock,
     "either:\n  - {name: thick, all: [{measure: wall, of: {role: main_hoop}, at_least: 2.5}]}\n"
     "  - {name: roof, all: [{measure: member_count, of: {role: roof_bar}, at_least: 1}]}",
     "", "the stock list has no tube '45x2.5'"},
    {"PerSideWithoutStock", noStock, "measure: od\nof: {role: rear_brace}\nper_side: yes\nat_least: 30", "",
     "the stock list has no tube '38x2.5'"},
    {"LeftRightAlikeWithoutTheOtherSide",
     [](Job& job) {
         job.cage.members.push_back(straight("left", "door_bar", {0, 700, 300}, {900, 700, 300}));
     },
     "measure: mirror_difference\nof: {role: door_bar}\nat_most: 12", "",
     "there is no bar like it on the other side"},
    {"SameEndWithoutTheOtherBar", noHoop,
     "measure: end_to_place\nof: {role: windshield_bar}\nwith: {place: foot}\nat_most: 60", kAFoot,
     "no place 'foot': no member is of role main_hoop"},
    {"BendCountOverAPlaceNobodyTaped", nothing,
     "measure: bend_count\nof: {role: main_hoop}\nwith: {above: hook}\nat_most: 4", kHook,
     "no place 'hook': the car has no point 'roof_hook'"},
    {"BendRadiusInDiametersWithoutStock", noStock,
     "measure: bend_radius_over_od\nof: {role: main_hoop}\nat_least: 3", "",
     "the stock list has no tube '45x2.5'"},
    {"AngleOfABarThatIsAPointInThatView", nothing,
     "measure: angle_to_vertical\nof: {role: belt_bar}\nwith: {view: side}\nat_least: 30 deg", "",
     "it has no direction in side view"},
    {"LeanOfALevelBar", nothing, "measure: lean\nof: {role: belt_bar}\nat_most: 10 deg", "",
     "it does not rise there"},
    {"EndDistanceWithoutThePlace", nothing,
     "measure: end_to_place\nof: {role: hoop_diagonal}\nwith: {place: hook}\nat_most: 100", kHook,
     "no place 'hook': the car has no point 'roof_hook'"},
    {"HeightBandOverAPlaceNobodyTaped", nothing,
     "measure: height\nof: {role: belt_bar}\nwith: {above: hook}\nbetween: [500, 600]", kHook,
     "no place 'hook': the car has no point 'roof_hook'"},
    {"StationsWithoutThePoint", nothing, "measure: behind\nof: {}\nwith: {place: hook}\nat_most: 0", kHook,
     "no place 'hook': the car has no point 'roof_hook'"},
    {"UnderALineWithoutItsBar", noHoop,
     "measure: line_clearance\nwith: {part: helmet, from: a, to: b}\nat_least: 50", kLine,
     "no place 'a': no member is of role main_hoop"},
    {"UnderALineWithoutADriver", nobody,
     "measure: line_clearance\nwith: {part: helmet, from: a, to: b}\nat_least: 50", kLine,
     "no driver is given"},
    {"StraightedgeWithoutADriver", nobody, "measure: inside_envelope\nwith: {part: helmet}\nat_least: 50", "",
     "no driver is given"},
    {"ClearanceWithoutADriver", nobody, "measure: clearance\nwith: {part: helmet}\nat_least: 50", "",
     "no driver is given"},
    {"ClearanceToBarsThatAreNotThere", nothing,
     "measure: clearance\nwith: {part: helmet, members: {role: roof_bar}}\nat_least: 50", "",
     "no member is of role roof_bar"},
    {"HeadWithoutTheBar", nothing,
     "measure: bar_above_helmet\nwith: {members: {role: roof_bar}}\nat_least: 76", "",
     "no member is of role roof_bar"},
    {"PlateInDiametersWithoutStock", noStock,
     "measure: plate_side_over_od\nof: {under: {role: main_hoop}}\nat_least: 2", "",
     "the stock list has no tube '45x2.5'"},
    {"PlateInDiametersWithNothingOnIt", [](Job& job) { job = without(job, "rear_brace"); },
     "measure: plate_side_over_od\nat_least: 1", "", "no bar stands on it"},
    {"BoltsOfNoDiameter", bolted, "measure: bolt_diameter\nat_least: 8", "",
     "the plate's bolts have no diameter"},
    {"BoltsOfNoGrade", bolted, "measure: bolt_grade\nis: '8.8'", "", "the plate's bolts have no grade"},
    {"GussetsInDiametersWithoutStock",
     [](Job& job) {
         Gusset g;
         g.id = "g";
         g.member_a = "belt_bar";
         g.member_b = "main_hoop";
         g.leg_mm = 90;
         g.thickness_mm = 2;
         job.cage.gussets = {g};
         noStock(job);
     },
     "measure: gusset_leg_over_od\nat_least: 2", "", "the stock list has no tube '45x2.5'"},
    {"BeltsWithoutABar", noBar, "measure: belt_angle\nbetween: [-10 deg, 20 deg]", "",
     "no belt bar is named for this driver"},
    {"BeltsOfABarThatIsNotThere", [](Job& job) { job.drivers[0].belts.bar = "other_bar"; },
     "measure: belt_bar_below_shoulder\nbetween: [0, 100]", "",
     "the cage has no member 'other_bar' for this driver's straps"},
    {"BeltsWiderThanTheBar", [](Job& job) { job.drivers[0].belts.spacing_mm = 5000; },
     "measure: belt_angle\nbetween: [-10 deg, 20 deg]", "",
     "the bar does not reach as far across as the straps"},
    {"LapBeltsWithoutAnchors", [](Job& job) { job.drivers[0].belts.lap_anchors.clear(); },
     "measure: lap_angle\nat_least: 45 deg", "", "no lap belt anchors are given for this driver"},
    {"AdviceOnWhatIsNotKnown", noStock,
     "severity: recommended\nmeasure: od\nof: {role: main_hoop}\nat_least: 45", "",
     "the stock list has no tube '45x2.5'"},
    {"ConditionOnWhatIsNotKnown", noStock,
     "only_if:\n  - {measure: od, of: {role: main_hoop}, at_least: 40}\nmeasure: length\nof: {role: "
     "belt_bar}\nat_least: 1",
     "", "the stock list has no tube '45x2.5'"},
    {"StrictEndsOnWhatIsNotKnown", noStock, "measure: od\nof: {role: main_hoop}\nmore_than: 1", "",
     "the stock list has no tube '45x2.5'"},
    {"HowManyOfWhatIsNotKnown", noStock, "measure: od\nof: {role: rear_brace}\nat_least: 30\nhow_many: any",
     "", "the stock list has no tube '38x2.5'"},
    {"LeastWallNobodyStates",
     [](Job& job) {
         job.stock.tubes[0].least_wall_mm.reset();
         job.stock.tubes[0].form = TubeForm::welded;  // no standard is known for it
     },
     "measure: least_wall\nof: {role: main_hoop}\nat_least: 2", "",
     "the stock list states no least wall for"},
    {"WallNobodyGauged", [](Job& job) { job.stock.tubes[0].measured_wall_mm.reset(); },
     "measure: measured_wall\nof: {role: main_hoop}\nat_least: 2", "", "no measured wall is noted for"},
};

class ShapeNotKnown : public testing::TestWithParam<NotKnown> {};
INSTANTIATE_TEST_SUITE_P(Shapes, ShapeNotKnown, testing::ValuesIn(kCases),
                         [](const auto& it) { return std::string(it.param.name); });

TEST_P(ShapeNotKnown, CannotTellAndSaysWhatIsMissing) {
    Job job = smallJob();
    GetParam().take(job);
    const auto found = findings(job, GetParam().says, GetParam().sections);
    ASSERT_FALSE(found.empty());
    int untold = 0;
    for (const Finding& finding : found) {
        EXPECT_NE(finding.answer, Answer::fails) << finding.subject;
        if (finding.answer != Answer::cannot_tell) continue;
        ++untold;
        EXPECT_NE(finding.missing.find(GetParam().missing), std::string::npos) << finding.missing;
        EXPECT_FALSE(finding.margin) << "nothing to spare where nothing is known";
    }
    EXPECT_GE(untold, 1) << "what it said: " << answerWord(found.front().answer) << ", "
                         << found.front().missing;
}

// What the same rules say of the whole cage: they can tell. Else the cases above would hold of anything.
TEST(ShapeNotKnown, OfTheWholeCageTheSameRulesCanTell) {
    int told = 0;
    for (const NotKnown& one : kCases) {
        if (one.take != noStock && one.take != nobody && one.take != noBar && one.take != noYield) continue;
        for (const Finding& finding : findings(smallJob(), one.says, one.sections))
            EXPECT_NE(finding.answer, Answer::cannot_tell) << one.name << ": " << finding.missing;
        ++told;
    }
    EXPECT_GE(told, 15);
}

// A count of what is selected is always known: nothing is a count too. And an inspector can always be asked.
TEST(ShapeNotKnown, CountsAndQuestionsNeedNothing) {
    const Job nobodys;
    for (const char* count : {"member_count", "plate_count", "driver_count", "gusset_count"}) {
        EXPECT_EQ(worst(nobodys, {std::string("measure: ") + count + "\nat_most: 0"}), Answer::meets)
            << count;
        EXPECT_EQ(worst(nobodys, {std::string("measure: ") + count + "\nat_least: 1"}), Answer::fails)
            << count;
    }
    EXPECT_EQ(worst(nobodys, {"ask: Is it so?"}), Answer::ask_person);
}

// A required rule that can't be told keeps a cage from passing; an advised one does not.
TEST(ShapeNotKnown, IsNoPass) {
    Job job = smallJob();
    noStock(job);
    const std::string measure = "measure: od\nof: {role: main_hoop}\nat_least: 45";
    EXPECT_FALSE(checkWith(job, tableText(ruleText(measure))).allMeet());
    EXPECT_TRUE(checkWith(job, tableText(ruleText("severity: recommended\n" + measure))).allMeet());
}

}  // namespace
}  // namespace hoopwright::test
