// Sections, materials and tube tables. Shapes: alternative pairs by role, by material, by bracket; all
// properties of a size at once; a reference tube; the same tube as another bar.
#include "tests/rules/test_cage.h"

namespace hoopwright::test {
namespace {

TEST(TubeQuantities, AreThoseOfTheStock) {
    const Job job = smallJob();
    expectValue(job, "measure: od\nof: {role: main_hoop}", 45, 0.01, "mm");
    expectValue(job, "measure: wall\nof: {role: main_hoop}", 2.5, 0.001, "mm");
    expectValue(job, "measure: least_wall\nof: {role: main_hoop}", 2.25, 0.001, "mm");
    expectValue(job, "measure: measured_wall\nof: {role: main_hoop}", 2.46, 0.001, "mm");
    expectValue(job, "measure: area\nof: {role: main_hoop}", M_PI / 4 * (45.0 * 45 - 40.0 * 40), 0.01, "mm2");
    expectValue(job, "measure: inertia\nof: {role: main_hoop}", M_PI / 64 * (4100625.0 - 2560000.0), 1,
                "mm4");
    expectValue(job, "measure: elastic_modulus\nof: {role: main_hoop}", M_PI / 64 * 1540625.0 / 22.5, 0.1,
                "mm3");
    expectValue(job, "measure: yield\nof: {role: main_hoop}", 355, 0.1, "MPa");
    expectValue(job, "measure: tensile\nof: {role: main_hoop}", 490, 0.1, "MPa");
    expectValue(job, "measure: carbon\nof: {role: main_hoop}", 0.2, 0.001, "");
    expectValue(job, "measure: elongation\nof: {role: main_hoop}", 22, 0.1, "");
}

TEST(TubeQuantities, AreInTheUnitOfTheTable) {
    const Finding f = finding(smallJob(), "measure: od\nof: {role: main_hoop}\nat_least: 1-3/4 in");
    EXPECT_EQ(f.answer, Answer::meets);
    EXPECT_EQ(f.unit.word, "in");
    EXPECT_EQ(f.limit_text, "at least 1.75 in");
    EXPECT_NEAR(*f.margin, 45 - 44.45, 1e-9);
}

TEST(TubeQuantities, CannotBeToldWithoutTheStock) {
    Job job = smallJob();
    memberOf(job, "main_hoop").stock = "45x3";
    const Finding f = finding(job, "measure: wall\nof: {role: main_hoop}\nat_least: 2");
    EXPECT_EQ(f.answer, Answer::cannot_tell);
    EXPECT_EQ(f.missing, "the stock list has no tube '45x3'");
    EXPECT_EQ(
        finding(smallJob(), "measure: least_wall\nof: {role: rear_brace, side: left}\nat_least: 2").missing,
        "the stock list states no least wall for '38x2.5', and no mill tolerance is known for tube of its "
        "size "
        "and form");
    job.stock.materials.clear();
    EXPECT_EQ(finding(job, "measure: family\nof: {role: hoop_diagonal}\nis: mild_steel").missing,
              "the stock list has no material 'plain'");
}

TEST(TubeQuantities, DoNotApplyWhereThereIsNoSuchBar) {
    const Finding f = finding(smallJob(), "measure: wall\nof: {role: roof_bar}\nat_least: 2");
    EXPECT_EQ(f.answer, Answer::does_not_apply);
    EXPECT_EQ(f.missing, "there is no such member of role roof_bar");
}

TEST(Materials, AreAllowedOrBannedByWord) {
    Job job = smallJob();
    EXPECT_EQ(finding(job, "measure: form\none_of: [seamless, drawn_over_mandrel]").answer, Answer::meets);
    memberOf(job, "diagonal").stock = "seamed";
    const std::vector<Finding> found = findings(job, "measure: form\nis_not: welded");
    ASSERT_EQ(found.size(), 2u);
    EXPECT_EQ(found[0].answer, Answer::fails);
    EXPECT_EQ(found[0].subject, "diagonal");
    EXPECT_EQ(found[0].found, "welded");
    EXPECT_EQ(found[0].limit_text, "not welded");
    EXPECT_EQ(found[1].answer, Answer::meets);
    EXPECT_EQ(found[1].things, 7);
    memberOf(job, "diagonal").stock = "moly";
    EXPECT_EQ(findings(job, "measure: family\nis: mild_steel").front().found, "chrome_moly");
}

TEST(Materials, FiguresOfTheTableReplaceThoseOfTheStock) {
    const std::string figures = "materials:\n  - {family: mild_steel, form: seamless, yield: 305 MPa}";
    expectValue(smallJob(), "measure: yield\nof: {role: main_hoop}", 305, 0.1, "MPa", figures);
    expectValue(smallJob(), "measure: yield\nof: {role: rear_brace}", 355, 0.1, "MPa", figures);
}

const char* const kTwoPairs = "tubes:\n  t: {any_of: [{od: 45, wall: 2.5}, {od: 50, wall: 2.0}]}";

TEST(TubeTables, AnyAlternativeWillDo) {
    Job job = smallJob();
    EXPECT_EQ(finding(job, "measure: tube\nof: {role: main_hoop}\nfits: t", kTwoPairs).answer, Answer::meets);
    memberOf(job, "main_hoop").stock = "seamed";
    EXPECT_EQ(finding(job, "measure: tube\nof: {role: main_hoop}\nfits: t", kTwoPairs).answer, Answer::meets);
    job.stock.tubes[0].section = {45, 2.49};
    memberOf(job, "main_hoop").stock = "45x2.5";
    const Finding f = finding(job, "measure: tube\nof: {role: main_hoop}\nfits: t", kTwoPairs);
    EXPECT_EQ(f.answer, Answer::fails);
    EXPECT_EQ(f.found, "45x2.5");
    EXPECT_NEAR(*f.margin, -0.01, 1e-12);
    EXPECT_NEAR(*f.limit, 2.5, 1e-12);
    EXPECT_EQ(f.way_out,
              "A tube that would do: od at least 45 mm, wall at least 2.5 mm; or od at least 50 mm, wall at "
              "least 2 mm.");
}

TEST(TubeTables, ToleranceCountsForTheWholeTable) {
    Job job = smallJob();
    job.stock.tubes[0].section = {45, 2.4};
    const std::string sections = "tubes:\n  t: {any_of: [{od: 45, wall: 2.5}], tolerance: {wall: ";
    EXPECT_EQ(finding(job, "measure: tube\nof: {role: main_hoop}\nfits: t", sections + "0.1}}").answer,
              Answer::meets);
    EXPECT_EQ(finding(job, "measure: tube\nof: {role: main_hoop}\nfits: t", sections + "0.09}}").answer,
              Answer::fails);
}

std::string brackets(const std::string& basis = "") {
    return "facts:\n  race_mass: {kind: mass, meaning: M" + basis +
           "}\n  mass_basis: {kind: word, meaning: B}\n"
           "tubes:\n  t:\n    by: race_mass\n    rows:\n"
           "      - {up_to: 900 kg, any_of: [{od: 38, wall: 2.5}]}\n"
           "      - {over: 900 kg, below: 1200 kg, any_of: [{od: 45, wall: 2.5}]}\n"
           "      - {from: 1201 kg, any_of: [{od: 50, wall: 2.5}]}\n";
}
Finding byMass(double kg, const std::string& basis = "") {
    Job job = smallJob();
    job.cage.entry["race_mass"] = {kg, Dimension::mass};
    job.cage.entry["mass_basis"] = {std::string("without_driver"), Dimension::none};
    return finding(job, "measure: tube\nof: {role: rear_brace}\nfits: t", brackets(basis));
}

TEST(TubeTables, BracketsHaveOpenAndClosedEnds) {
    EXPECT_EQ(byMass(899.9).answer, Answer::meets);
    EXPECT_EQ(byMass(900).answer, Answer::meets);
}
TEST(TubeTables, OverABracketTheNextRowCounts) {
    Job job = smallJob();
    job.cage.entry["race_mass"] = {900.1, Dimension::mass};
    const auto found = findings(job, "measure: tube\nof: {role: rear_brace}\nfits: t", brackets());
    ASSERT_EQ(found.size(), 2u);  // each brace for itself
    EXPECT_EQ(found[0].answer, Answer::fails);
    EXPECT_EQ(*found[0].limit, 45);
    EXPECT_EQ(found[0].subject, "rear_brace.left");
}
TEST(TubeTables, BetweenTwoBracketsNobodyCanTell) {
    Job job = smallJob();
    job.cage.entry["race_mass"] = {1200.0, Dimension::mass};
    const Finding f = findings(job, "measure: tube\nof: {role: rear_brace}\nfits: t", brackets()).front();
    EXPECT_EQ(f.answer, Answer::cannot_tell);
    EXPECT_EQ(f.missing, "the 'race_mass' of this entry is in none of the brackets of tube table 't'");
}
TEST(TubeTables, WithoutTheMassNobodyCanTell) {
    EXPECT_EQ(
        findings(smallJob(), "measure: tube\nof: {role: rear_brace}\nfits: t", brackets()).front().missing,
        "the fact 'race_mass' is not given");
}
TEST(TubeTables, AMassOnAnotherBasisIsNoMass) {
    Job job = smallJob();
    job.cage.entry["race_mass"] = {800.0, Dimension::mass};
    job.cage.entry["mass_basis"] = {std::string("without_driver"), Dimension::none};
    const auto found = findings(job, "measure: tube\nof: {role: rear_brace}\nfits: t",
                                brackets(", stated_as: {mass_basis: with_driver}"));
    EXPECT_EQ(found.front().answer, Answer::cannot_tell);
    EXPECT_EQ(found.front().missing, "'race_mass' must be stated with_driver, and is given without_driver");
}

TEST(TubeTables, RowsCanBeForOneMaterial) {
    const std::string sections =
        "tubes:\n  t:\n    rows:\n"
        "      - {for: {having: [{measure: family, is: mild_steel}]}, any_of: [{od: 45, wall: 2.5}]}\n"
        "      - {for: {having: [{measure: family, is: chrome_moly}]}, any_of: [{od: 38, wall: 2.0}]}\n";
    Job job = smallJob();
    const std::string rule = "measure: tube\nof: {role: main_hoop}\nfits: t";
    EXPECT_EQ(finding(job, rule, sections).answer, Answer::meets);
    memberOf(job, "main_hoop").stock = "moly";
    EXPECT_EQ(finding(job, rule, sections).answer, Answer::meets);
    job.stock.materials[1].family = "aluminium";
    const Finding f = finding(job, rule, sections);
    EXPECT_EQ(f.answer, Answer::fails);
    EXPECT_EQ(f.found, "no row of tube table 't' is for this bar");
}

TEST(TubeTables, HoldAllPropertiesOfASizeAtOnce) {
    const std::string sections =
        "tubes:\n  t: {any_of: [{od: 25, wall: 2.0, area: 173 mm2, inertia: 11320 mm4}]}";
    Job job = smallJob();
    job.stock.tubes[0].section = {25, 2.0};  // OD and wall are enough, inertia is not
    const Finding f = finding(job, "measure: tube\nof: {role: main_hoop}\nfits: t", sections);
    EXPECT_EQ(f.answer, Answer::fails);
    EXPECT_EQ(f.dimension, Dimension::area);
    job.stock.tubes[0].section = {25, 2.5};
    EXPECT_EQ(finding(job, "measure: tube\nof: {role: main_hoop}\nfits: t", sections).answer, Answer::meets);
}

const char* const kPlainReference =
    "materials:\n  - {family: [mild_steel, chrome_moly], modulus: 205000 MPa}\n"
    "reference_tubes:\n  plain: {od: 38, wall: 2.5, modulus: 205000 MPa, yield: 355 MPa}\n";

TEST(ReferenceTubes, CompareStiffnessAndStrength) {
    const double stiffness =
        (4100625.0 - 2560000.0) / (2085136.0 - 1185921.0);  // 45^4 - 40^4 over 38^4 - 33^4
    expectValue(smallJob(), "measure: stiffness_over\nof: {role: main_hoop}\nwith: {tube: plain}", stiffness,
                1e-4, "", kPlainReference);
    expectValue(smallJob(), "measure: strength_over\nof: {role: main_hoop}\nwith: {tube: plain}",
                stiffness * 38 / 45, 1e-4, "", kPlainReference);
    expectValue(smallJob(), "measure: stiffness_over\nof: {role: rear_brace}\nwith: {tube: plain}", 1, 1e-6,
                "", kPlainReference);
    const Finding f = finding(
        smallJob(), "measure: stiffness_over\nof: {role: main_hoop}\nwith: {tube: plain}\nat_least: 1",
        "reference_tubes:\n  plain: {od: 38, wall: 2.5, modulus: 205000 MPa, yield: 355 MPa}\n");
    EXPECT_EQ(f.missing, "no modulus (in the table's materials) is stated for material 'plain'");
}

TEST(SameTube, ComparesSectionAndMaterial) {
    const std::string rule =
        "measure: same_tube_as\nof: {role: hoop_diagonal}\nwith: {members: {role: main_hoop}}\nis: yes";
    Job job = smallJob();
    EXPECT_EQ(finding(job, rule).answer, Answer::meets);
    memberOf(job, "diagonal").stock = "38x2.5";
    EXPECT_EQ(finding(job, rule).answer, Answer::fails);
    job.stock.tubes[1].section = {45, 2.5};
    EXPECT_EQ(finding(job, rule).answer, Answer::meets);
    job.stock.tubes[1].material = "moly";
    EXPECT_EQ(finding(job, rule).answer, Answer::fails);
    EXPECT_EQ(
        finding(
            job,
            "measure: same_tube_as\nof: {role: hoop_diagonal}\nwith: {members: {role: roof_bar}}\nis: yes")
            .missing,
        "no member is of role roof_bar");
    EXPECT_EQ(
        finding(job, "measure: same_tube\nof: {first: {role: main_hoop}, second: {role: belt_bar}}\nis: yes")
            .answer,
        Answer::meets);
}

}  // namespace
}  // namespace hoopwright::test
