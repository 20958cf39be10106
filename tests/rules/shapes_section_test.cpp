// Shapes of rules about a section, each on its limit, inside, outside, and where it does not apply: brackets
// of speed, a wider tube with a thinner wall, figures the book assigns, tolerance, chemistry, the wall that
// is judged, what bending leaves, bars passed over, either of two forms.
#include "rules/mill_wall.h"
#include "tests/rules/shapes.h"

namespace hoopwright::test {
namespace {

const std::string kHoopTube = "measure: tube\nof: {role: main_hoop}\nfits: t";
const std::string kDiagonalTube = "measure: tube\nof: {role: hoop_diagonal}\nfits: t";
constexpr double kInch = 25.4;

/// The diagonal's own tube.
Job diagonalOf(double od, double wall, TubeForm form = TubeForm::seamless) {
    return withTube(smallJob(), "diagonal", {od, wall}, form);
}

TEST(ShapeBySpeed, TheBracketOfSpeedDecides) {
    const HeldRule rule{"measure: tube\nof: {role: rear_brace}\nfits: t",
                        "facts:\n  top_speed: {kind: speed, meaning: M}\n"
                        "tubes:\n  t:\n    by: top_speed\n    rows:\n      - {below: 215 mph, any_of: [{od: "
                        "38, wall: 2.5}]}\n"
                        "      - {from: 215 mph, any_of: [{od: 45, wall: 2.5}]}\n",
                        Answer::fails};
    const auto going = [](double mph) {
        Job job = smallJob();
        job.cage.entry["top_speed"] = {mph * 0.44704, Dimension::speed};
        return job;
    };
    expectLimit(rule, going, 215, 214.9, 215.1);
    expectNotApplying(rule, without(going(100), "rear_brace"));
    EXPECT_EQ(worst(smallJob(), rule), Answer::cannot_tell);
}

TEST(ShapeRelaxed, AWiderTubeMayBeThinner) {
    const HeldRule rule{
        kDiagonalTube,
        "tubes:\n  t: {any_of: [{od: 44.45, wall: 2.413}], or_wider: {od_more: 6.35, wall: 2.032}}\n"};
    expectLimit(
        rule, [](double wall) { return diagonalOf(50.8, wall); }, 2.032, 2.04, 2.02);
    expectLimit(
        rule, [](double od) { return diagonalOf(od, 2.1); }, 50.8, 50.9, 50.7);
    expectLimit(
        rule, [](double wall) { return diagonalOf(44.45, wall); }, 2.413, 2.42, 2.41);
    expectNotApplying(rule, without(smallJob(), "hoop_diagonal"));
}

TEST(ShapeAssigned, WeldedAndUnweldedStrength) {
    const std::string yield = "measure: yield\nof: {role: belt_bar}\n";
    for (const auto& [welded, figure] : {std::pair{"with: {welded: yes}\n", 180.0}, {"", 305.0}}) {
        for (const double step : {0.0, -1.0, 1.0}) {
            const HeldRule rule{yield + welded + "at_least: " + shortest(figure + step) + " MPa",
                                "materials:\n  - {family: mild_steel, yield: 305 MPa, tensile: 365 MPa, "
                                "welded_yield: 180 MPa, welded_tensile: 300 MPa}\n"};
            EXPECT_EQ(worst(smallJob(), rule), step > 0 ? Answer::fails : Answer::meets) << rule.says;
            expectNotApplying(rule, without(smallJob(), "belt_bar"));
        }
    }
    // The stock list states no strength beside a weld.
    EXPECT_EQ(finding(smallJob(), yield + "with: {welded: yes}\nat_least: 1 MPa").missing,
              "no welded yield strength (in the table's materials) is stated for material 'plain'");
    EXPECT_EQ(
        worst(smallJob(), {"measure: tensile\nof: {role: belt_bar}\nwith: {welded: yes}\nat_least: 300 MPa",
                           "materials:\n  - {family: mild_steel, welded_tensile: 300 MPa}\n"}),
        Answer::meets);
}

TEST(ShapeWallTolerance, MayFallShort) {
    const HeldRule rule{kDiagonalTube,
                        "tubes:\n  t: {any_of: [{od: 38, wall: 2.413}], tolerance: {wall: 0.254}}\n"};
    expectLimit(
        rule, [](double wall) { return diagonalOf(38.1, wall); }, 2.159, 2.16, 2.15);
    expectNotApplying(rule, without(smallJob(), "hoop_diagonal"));
}

TEST(ShapeChemistry, CarbonAndStrength) {
    const HeldRule carbon{"measure: carbon\nof: {role: belt_bar}\nbetween: [0.18, 0.3]"};
    const auto with = [](double percent) {
        Job job = smallJob();
        job.stock.materials[0].carbon_percent = percent;
        return job;
    };
    expectLimit(carbon, with, 0.3, 0.29, 0.31);
    expectLimit(carbon, with, 0.18, 0.19, 0.17);
    expectNotApplying(carbon, without(smallJob(), "belt_bar"));
    const auto strong = [](double mpa) {
        Job job = smallJob();
        job.stock.materials[0].tensile_mpa = mpa;
        return job;
    };
    expectLimit({"measure: tensile\nof: {role: belt_bar}\nat_least: 350 MPa"}, strong, 350, 351, 349);
}

TEST(ShapeSectionShape, RoundAndNoOther) {
    const std::string shape = "measure: section_shape\nof: {role: belt_bar}\n";
    EXPECT_EQ(worst(smallJob(), {shape + "is: round"}), Answer::meets);
    EXPECT_EQ(worst(smallJob(), {shape + "is_not: round"}), Answer::fails);
    EXPECT_EQ(worst(smallJob(), {shape + "one_of: [square, oval]"}), Answer::fails);
    expectNotApplying({shape + "is: round"}, without(smallJob(), "belt_bar"));
}

TEST(ShapeAfterBending, RoundnessAndWallAreRead) {
    const HeldRule round{"measure: bend_roundness\nof: {role: main_hoop}\nat_least: 0.9"};
    const auto read = [](double ratio) {
        return withReading(smallJob(), "main_hoop", "bend_roundness", ratio, Dimension::none);
    };
    expectLimit(round, read, 0.9, 0.91, 0.89);
    expectNotApplying({"measure: bend_roundness\nof: {role: rear_brace}\nat_least: 0.9"}, smallJob());
    EXPECT_EQ(finding(smallJob(), round.says).missing, "no reading 'bend_roundness' of it is kept");
    // The worst of several counts.
    EXPECT_EQ(worst(withReading(read(0.95), "main_hoop", "bend_roundness", 0.88, Dimension::none), round),
              Answer::fails);
    EXPECT_EQ(worst(withReading(smallJob(), "main_hoop", "bend_roundness", 0.95, Dimension::length), round),
              Answer::cannot_tell);
    const HeldRule wall{"measure: gauged_bent_wall\nof: {role: main_hoop}\nat_least: 2"};
    expectLimit(
        wall,
        [](double mm) {
            return withReading(smallJob(), "main_hoop", "gauged_bent_wall", mm, Dimension::length);
        },
        2, 2.01, 1.99);
}

TEST(ShapeJudgedWall, NominalMillMeasuredOrBent) {
    const auto rule = [](const std::string& kind) {
        return HeldRule{"measure: wall\nof: {role: main_hoop}\nwith: {judged_wall: " + kind +
                        "}\nat_least: 2"};
    };
    const auto nominal = [](double wall) {
        Job job = smallJob();
        job.stock.tubes[0].section.wall_mm = wall;
        job.stock.tubes[0].least_wall_mm.reset();
        job.stock.tubes[0].measured_wall_mm.reset();
        return job;
    };
    expectLimit(rule("nominal"), nominal, 2, 2.01, 1.99);
    // EN 10305-1: ten in a hundred.
    expectLimit(rule("mill_least"), nominal, 2 / 0.9, 2 / 0.9 + 0.01, 2 / 0.9 - 0.01);
    const auto gauged = [](double wall) {
        Job job = smallJob();
        job.stock.tubes[0].measured_wall_mm = wall;
        return job;
    };
    expectLimit(rule("measured"), gauged, 2, 2.01, 1.99);
    EXPECT_EQ(worst(nominal(2.5), rule("measured")), Answer::cannot_tell);
    // On the hoop itself it was gauged thinner than on the rack.
    EXPECT_EQ(worst(withReading(gauged(2.4), "main_hoop", "measured_wall", 1.9, Dimension::length),
                    rule("measured")),
              Answer::fails);
    // Bent to 135 mm: 135 / (135 + 22.5) of it is left.
    const double share = 135 / 157.5;
    expectLimit(rule("bent"), gauged, 2 / share, 2 / share + 0.01, 2 / share - 0.01);
    // A straight bar keeps the wall it had.
    EXPECT_EQ(
        worst(gauged(2.0), {"measure: wall\nof: {role: belt_bar}\nwith: {judged_wall: bent}\nat_least: 2"}),
        Answer::meets);
    expectNotApplying(rule("bent"), without(smallJob(), "main_hoop"));
    // A tube table may say it for all its figures.
    const HeldRule table{kHoopTube, "tubes:\n  t: {judged_wall: mill_least, any_of: [{od: 45, wall: 2}]}\n"};
    expectLimit(table, nominal, 2 / 0.9, 2 / 0.9 + 0.01, 2 / 0.9 - 0.01);
}

// Sources: ASTM A513 type 5 and EN 10305-1 as stockists' tables print them, see mill_wall.h.
TEST(MillWall, IsKnownByStandard) {
    const auto least = [](double od, double wall, TubeForm form, const std::string& standard = "") {
        TubeStock stock;
        stock.section = {od, wall};
        stock.form = form;
        stock.standard = standard;
        return leastWall(stock);
    };
    EXPECT_NEAR(least(45, 2.5, TubeForm::seamless)->wall_mm, 2.25, 1e-12);
    EXPECT_NEAR(least(50, 2, TubeForm::seamless)->wall_mm, 1.8, 1e-12);
    EXPECT_NEAR(least(20, 0.8, TubeForm::seamless)->wall_mm, 0.7, 1e-12)
        << "a tenth of a millimetre at least";
    EXPECT_EQ(least(45, 2.5, TubeForm::seamless)->by, "EN 10305-1");
    const auto drawn = TubeForm::drawn_over_mandrel;
    EXPECT_NEAR(least(1.75 * kInch, 0.095 * kInch, drawn)->wall_mm / kInch, 0.092, 1e-12);
    EXPECT_NEAR(least(1.75 * kInch, 0.120 * kInch, drawn)->wall_mm / kInch, 0.116, 1e-12);
    EXPECT_NEAR(least(1.625 * kInch, 0.083 * kInch, drawn)->wall_mm / kInch, 0.080, 1e-12);
    EXPECT_NEAR(least(2 * kInch, 0.120 * kInch, drawn)->wall_mm / kInch, 0.117, 1e-12);
    EXPECT_EQ(least(1.75 * kInch, 0.095 * kInch, drawn)->by, "ASTM A513 type 5");
    EXPECT_NEAR(least(1.5 * kInch, 0.095 * kInch, TubeForm::seamless)->wall_mm / kInch, 0.095 * 0.925, 1e-12);
    EXPECT_NEAR(least(1.25 * kInch, 0.095 * kInch, TubeForm::seamless)->wall_mm / kInch, 0.0855, 1e-12);
    EXPECT_FALSE(least(45, 2.5, drawn)) << "millimetre sizes have no row";
    EXPECT_FALSE(least(1.5 * kInch, 0.049 * kInch, drawn));
    EXPECT_FALSE(least(45, 2.5, TubeForm::welded));
    // What it is sold under outweighs what it looks like.
    EXPECT_EQ(least(1.75 * kInch, 0.120 * kInch, TubeForm::seamless, "EN 10305-1")->by, "EN 10305-1");
    EXPECT_EQ(least(1.75 * kInch, 0.120 * kInch, TubeForm::seamless, "ASTM A513")->by, "ASTM A513 type 5");
    EXPECT_EQ(least(45, 2.5, drawn, "ASTM A519")->by, "ASTM A519, from memory");
    EXPECT_FALSE(least(45, 2.5, TubeForm::seamless, "a mill's own"));
    // Outer wall at 3 and 4 diameters; worked out by hand: 2.5 x 6/7, 2.5 x 8/9.
    EXPECT_NEAR(bentWall_mm(2.5, 45, 135), 15.0 / 7, 1e-12);
    EXPECT_NEAR(bentWall_mm(2.5, 45, 180), 20.0 / 9, 1e-12);
}

// The traps of a wall: 2.5 mm ordered is 2.25 mm allowed; 0.120 in is over 3 mm and may come as 0.116 in,
// which is not; 0.095 in is bracketed with 2.5 mm in print and is 2.413 mm.
TEST(Beware, TheNominalPassesAndAGaugeMayNot) {
    const std::string wall = "measure: wall\nof: {role: main_hoop}\nat_least: 2.5";
    Job job = smallJob();
    EXPECT_EQ(
        finding(job, wall).beware,
        "The nominal wall of 2.5 mm (0.098 in) passes; it was gauged at 2.46 mm (0.097 in), which does not. "
        "Outside its tightest bend about 2.11 mm (0.083 in) is left.");
    job.stock.tubes[0].measured_wall_mm.reset();
    job.stock.tubes[0].least_wall_mm.reset();
    EXPECT_EQ(finding(job, wall).answer, Answer::meets);
    EXPECT_EQ(
        finding(job, wall).beware,
        "The nominal wall of 2.5 mm (0.098 in) passes; the mill may deliver down to 2.25 mm (0.089 in) (EN "
        "10305-1), which does not: gauge it. Outside its tightest bend about 1.93 mm (0.076 in) is left.");
    // A tube table says it too; of a straight bar without the bend.
    const std::string pairs = "tubes:\n  t: {any_of: [{od: 45, wall: 2.5}]}\n";
    EXPECT_EQ(
        finding(job, kDiagonalTube, pairs).beware,
        "The nominal wall of 2.5 mm (0.098 in) passes; the mill may deliver down to 2.25 mm (0.089 in) (EN "
        "10305-1), which does not: gauge it.");
    // Gauged thick enough, asked for less, or judged by the mill's least already: nothing to say.
    job.stock.tubes[0].measured_wall_mm = 2.55;
    EXPECT_EQ(finding(job, wall).beware, "");
    EXPECT_EQ(finding(smallJob(), "measure: wall\nof: {role: main_hoop}\nat_least: 2").beware, "");
    EXPECT_EQ(finding(smallJob(),
                      "measure: wall\nof: {role: main_hoop}\nwith: {judged_wall: mill_least}\nat_least: 2.25")
                  .beware,
              "");
    EXPECT_EQ(finding(smallJob(), "measure: length\nof: {role: main_hoop}\nat_least: 2").beware, "");
}

TEST(Beware, OfInchAndMillimetreSizes) {
    const std::string of_3_mm = "tubes:\n  t: {any_of: [{od: 44, wall: 3}]}\n";
    EXPECT_EQ(
        finding(diagonalOf(1.75 * kInch, 0.120 * kInch, TubeForm::drawn_over_mandrel), kDiagonalTube, of_3_mm)
            .beware,
        "The nominal wall of 3.05 mm (0.12 in) passes; the mill may deliver down to 2.95 mm (0.116 in) (ASTM "
        "A513 "
        "type 5), which does not: gauge it.");
    const std::string of_2_5_mm = "tubes:\n  t: {any_of: [{od: 44, wall: 2.5}]}\n";
    const Finding inch = finding(diagonalOf(1.75 * kInch, 0.095 * kInch), kDiagonalTube, of_2_5_mm);
    EXPECT_EQ(inch.answer, Answer::fails);
    EXPECT_EQ(inch.beware,
              "The tube is made in inches, the limit is in millimetres: 2.41 mm (0.095 in) against 2.5 mm "
              "(0.098 in). "
              "Where the book names both forms, the table must too.");
    // A millimetre tube against inches; and too far off to be the same size.
    const std::string inches = "tubes:\n  t: {any_of: [{od: 1.75 in, wall: 0.100 in}]}\n";
    EXPECT_NE(finding(diagonalOf(45, 2.5), kDiagonalTube, inches).beware, "");
    EXPECT_EQ(finding(diagonalOf(45, 2.0), kDiagonalTube, inches).beware, "");
    EXPECT_EQ(finding(diagonalOf(45, 2.4), kDiagonalTube, of_2_5_mm).beware, "");
}

/// The rear braces of this OD; bars under 40 mm are passed over.
HeldRule passedOver(const std::string& says) {
    return {says, "ignored: {having: {measure: od, less_than: 40}}\n"};
}

TEST(ShapePassedOver, BarsUnderASizeAreNotThere) {
    const auto braces = [](double od) {
        Job job = smallJob();
        job.stock.tubes[1].section.od_mm = od;
        return job;
    };
    expectLimit(passedOver("measure: member_count\nof: {role: rear_brace}\nat_least: 2"), braces, 40, 40.1,
                39.9);
    expectNotApplying(passedOver("measure: length\nof: {role: rear_brace}\nat_least: 1"), smallJob());
    EXPECT_EQ(worst(smallJob(), {"measure: length\nof: {role: rear_brace}\nat_least: 1"}), Answer::meets);
    // Nor do they hold anything, land on anything, or keep anybody clear.
    const std::string free = "measure: unsupported_length\nof: {role: main_hoop}\nat_most: ";
    Job job = smallJob();
    std::erase_if(job.cage.members,
                  [](const Member& m) { return m.id != "main_hoop" && m.id != "rear_brace"; });
    job.drivers.clear();
    const double whole = 1000 * 2 + 1200 - 4 * 135 + 2 * 135 * M_PI / 2;
    EXPECT_EQ(worst(job, {free + shortest(whole - 1)}), Answer::meets);
    EXPECT_EQ(worst(job, passedOver(free + shortest(whole - 1))), Answer::fails);
    EXPECT_EQ(worst(job, passedOver(free + shortest(whole + 1))), Answer::meets);
    EXPECT_EQ(worst(job, passedOver("measure: joint_count\nat_least: 1")), Answer::fails);
    EXPECT_EQ(worst(job, {"measure: joint_count\nat_least: 1"}), Answer::meets);
}

// A group that says which bars are passed over may be asked for again: it is then empty.
TEST(ShapePassedOver, ByAGroupThatIsUsedAgain) {
    const HeldRule rule{"measure: member_count\nof: {group: thin}\nexactly: 0",
                        "groups:\n  thin: {having: {measure: od, less_than: 40}}\nignored: {group: thin}\n"};
    EXPECT_EQ(worst(smallJob(), rule), Answer::meets);
}

TEST(ShapeBothForms, InchAndMetricEachWillDo) {
    const HeldRule rule{
        kDiagonalTube, "tubes:\n  t: {any_of: [{od: 45 mm, wall: 2.5 mm}, {od: 1.75 in, wall: 0.095 in}]}\n"};
    expectLimit(
        rule, [](double in) { return diagonalOf(1.75 * kInch, in * kInch); }, 0.095, 0.096, 0.0945);
    expectLimit(
        rule, [](double mm) { return diagonalOf(45, mm); }, 2.5, 2.51, 2.40);
    expectNotApplying(rule, without(smallJob(), "hoop_diagonal"));
    // Held against the metric form alone the inch tube is too small both ways: nothing is converted quietly.
    const HeldRule metric{kDiagonalTube, "tubes:\n  t: {any_of: [{od: 45 mm, wall: 2.5 mm}]}\n"};
    EXPECT_EQ(worst(diagonalOf(1.75 * kInch, 0.095 * kInch), metric), Answer::fails);
    // The text keeps the words it was written in.
    EXPECT_NE(finding(diagonalOf(1.75 * kInch, 0.095 * kInch), rule.says, rule.sections)
                  .limit_text.find("od at least 1.75 in, wall at least 0.095 in"),
              std::string::npos);
}

}  // namespace
}  // namespace hoopwright::test
