// Shapes of rules, each on its limit, inside, outside, and where it does not apply: tubes (alternative pairs
// by role, by material, by mass; all properties of a size at once; a reference tube; the same tube as another
// bar; allowed and banned making) and counts (at least, at most, layouts, sides, mirror, ends).
#include "tests/rules/shapes.h"

namespace hoopwright::test {
namespace {

/// The small cage whose 45 mm bars have this wall.
Job withWall(double wall) {
    Job job = smallJob();
    job.stock.tubes[0].section.wall_mm = wall;
    return job;
}

TEST(ShapePairsByRole, AnyPairWillDo) {
    const HeldRule rule{"measure: tube\nof: {role: main_hoop}\nfits: t",
                        "tubes:\n  t: {any_of: [{od: 45, wall: 2.5}, {od: 50, wall: 2.0}]}"};
    expectLimit(rule, withWall, 2.5, 2.6, 2.49);
    const auto wide = [](double wall) {
        Job job = smallJob();
        job.stock.tubes[0].section = {50, wall};
        return job;
    };
    expectLimit(rule, wide, 2.0, 2.1, 1.99);
    expectNotApplying(rule, without(smallJob(), "main_hoop"));
}

TEST(ShapePairsByMaterial, EachMaterialHasItsOwn) {
    const HeldRule rule{
        "measure: tube\nof: {role: hoop_diagonal}\nfits: t",
        "tubes:\n  t:\n    rows:\n"
        "      - {for: {having: [{measure: family, is: mild_steel}]}, any_of: [{od: 45, wall: 2.5}]}\n"
        "      - {for: {having: [{measure: family, is: chrome_moly}]}, any_of: [{od: 38, wall: 2.0}]}\n"};
    expectLimit(rule, withWall, 2.5, 2.6, 2.49);
    const auto moly = [](double wall) {
        Job job = smallJob();
        memberOf(job, "diagonal").stock = "moly";
        job.stock.tubes[2].section.wall_mm = wall;
        return job;
    };
    expectLimit(rule, moly, 2.0, 2.1, 1.99);
    expectNotApplying(rule, without(smallJob(), "hoop_diagonal"));
}

TEST(ShapePairsByMass, TheBracketDecidesAndItsBasisCounts) {
    const HeldRule rule{"measure: tube\nof: {role: rear_brace}\nfits: t",
                        "facts:\n  race_mass: {kind: mass, meaning: M, stated_as: {basis: with_driver}}\n"
                        "  basis: {kind: word, meaning: B}\n"
                        "tubes:\n  t:\n    by: race_mass\n    rows:\n"
                        "      - {up_to: 900 kg, any_of: [{od: 38, wall: 2.5}]}\n"
                        "      - {over: 900 kg, any_of: [{od: 45, wall: 2.5}]}\n"};
    const auto weighing = [](double kg) {
        Job job = smallJob();
        job.cage.entry["race_mass"] = {kg, Dimension::mass};
        job.cage.entry["basis"] = {std::string("with_driver"), Dimension::none};
        return job;
    };
    expectLimit(rule, weighing, 900, 899.9, 900.1);
    expectNotApplying(rule, without(weighing(900), "rear_brace"));
    Job job = weighing(900);
    job.cage.entry["basis"] = {std::string("without_driver"), Dimension::none};
    EXPECT_EQ(worst(job, rule), Answer::cannot_tell);
}

TEST(ShapeAllOfASize, EveryPropertyMustReach) {
    const TubeSection least{45, 2.5};
    const HeldRule rule{"measure: tube\nof: {role: main_hoop}\nfits: t",
                        "tubes:\n  t: {any_of: [{od: 25, wall: 2, area: " + shortest(least.area_mm2()) +
                            " mm2, inertia: " + shortest(least.inertia_mm4()) + " mm4}]}"};
    expectLimit(rule, withWall, 2.5, 2.6, 2.49);  // OD and wall are enough in all three
    expectNotApplying(rule, without(smallJob(), "main_hoop"));
}

TEST(ShapeReferenceTube, StiffAndStrongAsAnother) {
    const HeldRule rule{
        "measure: tube\nof: {role: rear_brace}\nfits: t",
        "materials:\n  - {family: mild_steel, modulus: 205000 MPa}\n"
        "reference_tubes:\n  plain: {od: 38, wall: 2.5, modulus: 205000 MPa, yield: 355 MPa}\n"
        "tubes:\n  t: {any_of: [{wall: 1.6, stiffness_over: {with: {tube: plain}, at_least: 1}, "
        "strength_over: {with: {tube: plain}, at_least: 1}}]}"};
    const auto with = [](double wall) {
        Job job = smallJob();
        job.stock.tubes[1].section.wall_mm = wall;
        return job;
    };
    expectLimit(rule, with, 2.5, 2.6, 2.49);
    expectNotApplying(rule, without(smallJob(), "rear_brace"));
    // Stiff enough, yet of a weaker steel.
    Job weak = smallJob();
    weak.stock.materials[0].yield_mpa = 300;
    EXPECT_EQ(worst(weak, rule), Answer::fails);
}

TEST(ShapeSameTube, AsAnotherBar) {
    const HeldRule rule{
        "measure: same_tube_as\nof: {role: hoop_diagonal}\nwith: {members: {role: main_hoop}}\nis: yes"};
    const auto with = [](double od) {
        Job job = smallJob();
        TubeStock own = job.stock.tubes[0];
        own.id = "own";
        own.section.od_mm = od;
        job.stock.tubes.push_back(own);
        memberOf(job, "diagonal").stock = "own";
        return job;
    };
    EXPECT_EQ(worst(with(45), rule), Answer::meets);
    EXPECT_EQ(worst(with(45.1), rule), Answer::fails);
    EXPECT_EQ(worst(with(44.9), rule), Answer::fails);
    expectNotApplying(rule, without(smallJob(), "hoop_diagonal"));
}

TEST(ShapeAllowedAndBanned, HowATubeIsMade) {
    const HeldRule allowed{
        "measure: form\nof: {role: hoop_diagonal}\none_of: [seamless, drawn_over_mandrel]"};
    const HeldRule banned{"measure: form\nof: {role: hoop_diagonal}\nis_not: welded"};
    const auto with = [](TubeForm form) {
        Job job = smallJob();
        job.stock.tubes[0].form = form;
        return job;
    };
    for (const HeldRule& rule : {allowed, banned}) {
        EXPECT_EQ(worst(with(TubeForm::seamless), rule), Answer::meets);
        EXPECT_EQ(worst(with(TubeForm::drawn_over_mandrel), rule), Answer::meets);
        EXPECT_EQ(worst(with(TubeForm::welded), rule), Answer::fails);
        expectNotApplying(rule, without(smallJob(), "hoop_diagonal"));
    }
}

/// The small cage with so many roof bars.
Job withRoofBars(double count) {
    Job job = smallJob();
    for (int i = 0; i < static_cast<int>(count); ++i) {
        const double y = 100.0 * i;
        job.cage.members.push_back(
            straight("roof_" + std::to_string(i), "roof_bar", {0, y, 1000}, {600, y, 800}));
    }
    return job;
}

TEST(ShapeMustExist, AtLeastAndExactlySoMany) {
    const std::string count = "measure: member_count\nof: {role: roof_bar}\n";
    expectLimit({count + "at_least: 2"}, withRoofBars, 2, 3, 1);
    const HeldRule exactly{count + "exactly: 2"};
    EXPECT_EQ(worst(withRoofBars(2), exactly), Answer::meets);
    EXPECT_EQ(worst(withRoofBars(1), exactly), Answer::fails);
    EXPECT_EQ(worst(withRoofBars(3), exactly), Answer::fails);
    expectNotApplying({"when: {frame: ladder}\n" + count + "at_least: 2"}, withRoofBars(0));
}

TEST(ShapeAtMost, SoMany) {
    const std::string count = "measure: member_count\nof: {role: roof_bar}\nat_most: 2";
    expectLimit({count}, withRoofBars, 2, 1, 3);
    expectNotApplying({"when: {frame: ladder}\n" + count}, withRoofBars(3));
}

TEST(ShapeOneOfSeveral, AWholeLayoutWillDo) {
    const HeldRule rule{
        "either:\n"
        "  - {name: roof bars, all: [{measure: member_count, of: {role: roof_bar}, at_least: 2}]}\n"
        "  - {name: a diagonal, all: [{measure: member_count, of: {role: roof_diagonal}, at_least: 1}, "
        "{measure: bend_count, of: {role: roof_diagonal}, at_most: 0}]}"};
    expectLimit(rule, withRoofBars, 2, 3, 1);
    Job other = withRoofBars(1);
    other.cage.members.push_back(straight("cross", "roof_diagonal", {0, 500, 1000}, {600, -500, 800}));
    EXPECT_EQ(worst(other, rule), Answer::meets);
    expectNotApplying({"when: {frame: ladder}\n" + rule.says}, withRoofBars(1));
}

/// A door bar on each side, the right one this long.
Job withRightDoorBar(double length) {
    Job job = smallJob();
    job.cage.members.push_back(straight("left_bar", "door_bar", {0, 700, 300}, {900, 700, 300}));
    job.cage.members.push_back(straight("right_bar", "door_bar", {0, -700, 300}, {length, -700, 300}));
    return job;
}

TEST(ShapePerSide, EachSideForItself) {
    const HeldRule rule{"measure: length\nof: {role: door_bar}\nper_side: yes\nat_least: 800"};
    expectLimit(rule, withRightDoorBar, 800, 800.1, 799.9);
    expectNotApplying(rule, smallJob());
    const auto found = findings(withRightDoorBar(1),
                                "measure: member_count\nof: {role: door_bar}\nper_side: yes\nexactly: 1");
    ASSERT_EQ(found.size(), 2u);
    EXPECT_EQ(found[0].answer, Answer::meets);
    EXPECT_EQ(found[1].answer, Answer::meets);
    Job lone = withRightDoorBar(800);
    lone.cage.members.pop_back();
    EXPECT_EQ(worst(lone, {"measure: member_count\nof: {role: door_bar}\nper_side: yes\nexactly: 1"}),
              Answer::fails);
}

TEST(ShapeLeftRightAlike, UnlessNobodySitsThere) {
    const HeldRule rule{
        "only_if:\n  - {measure: driver_count, of: {occupant: passenger}, at_least: 1}\n"
        "measure: mirror_difference\nof: {role: door_bar}\nat_most: 12"};
    const auto with = [](double length) { return withPassenger(withRightDoorBar(length)); };
    expectLimit(rule, with, 912, 911.9, 912.1);
    expectNotApplying(rule, withRightDoorBar(950));
}

TEST(ShapeConnects, BothEndsOnNamedBars) {
    const HeldRule rule{
        "measure: connects\nof: {role: windshield_bar}\nwith: {from: {role: side_bar, side: left}, to: "
        "{role: "
        "side_bar, side: right}}\nis: yes"};
    EXPECT_EQ(worst(smallJob(), rule), Answer::meets);
    Job loose = smallJob();
    memberOf(loose, "windshield_bar").path[1].place = FixedPoint{{600, -400, 800}};
    EXPECT_EQ(worst(loose, rule), Answer::fails);
    expectNotApplying(rule, without(smallJob(), "windshield_bar"));
}

TEST(ShapeSameEnd, AsAnotherBar) {
    const HeldRule rule{
        "measure: end_to_place\nof: {role: hoop_diagonal}\nwith: {place: n, end: upper}\nat_most: 60",
        "places:\n  n: {ends_of: {role: side_bar}}\n"};
    const auto with = [](double height) {
        Job job = smallJob();
        std::get<Landing>(memberOf(job, "diagonal").path[0].place).value = height;
        return job;
    };
    expectLimit(rule, with, 740, 740.1, 739.9);  // the side bar starts at 800
    expectNotApplying(rule, without(smallJob(), "hoop_diagonal"));
}

}  // namespace
}  // namespace hoopwright::test
