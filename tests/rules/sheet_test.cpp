// Folded plates and gussets: what is measured of them, and what is said of each one alone.
#include <numbers>

#include "rules/sheet_findings.h"
#include "tests/rules/test_cage.h"

namespace hoopwright::test {
namespace {

constexpr double kSquare = std::numbers::pi / 2;

TEST(FoldedPlates, HaveAnAreaInEveryPlane) {
    Job job = smallJob();
    Plate& foot = job.cage.plates[0];
    foot.flaps = {{PlateEdge::ahead, 40, kSquare}, {PlateEdge::behind, 25, -kSquare}};
    const std::string of = "\nof: {under: {role: main_hoop}, side: left}";
    const double width = foot.width_mm, face = foot.length_mm * width;
    expectValue(job, "measure: plate_developed_area" + of, (face + 65 * width) / 100, 0.01, "cm2");
    expectValue(job, "measure: plate_least_plane" + of, 25 * width / 100, 0.01, "cm2");
    expectValue(job, "measure: plate_planes" + of, 3, 1, "");
    expectValue(job, "measure: plate_area" + of, face / 100, 0.01, "cm2");
    expectValue(job, "measure: riser_area" + of, 0, 1, "cm2");
    foot.flaps.clear();
    foot.riser = Riser{50, 2};
    expectValue(job, "measure: riser_area" + of, 2 * (foot.length_mm + width) * 50 / 100, 0.01, "cm2");
    expectValue(job, "measure: plate_planes" + of, 1, 1, "");
}

TEST(FoldedGussets, SayHowTheyAreMade) {
    Job job = smallJob();
    job.cage.gussets.clear();
    Gusset gusset;
    gusset.id = "corner";
    gusset.member_a = "main_hoop";
    gusset.member_b = "belt_bar";
    gusset.leg_mm = 120;
    gusset.thickness_mm = 2;
    job.cage.gussets = {gusset};
    ASSERT_EQ(resolve(job).gussets.size(), 1u);
    EXPECT_EQ(findings(job, "measure: gusset_formed\nis: yes").front().answer, Answer::fails);
    expectValue(job, "measure: gusset_hole", 0, 1, "mm");
    job.cage.gussets[0].formed = true;
    job.cage.gussets[0].hole_mm = 20;
    EXPECT_EQ(findings(job, "measure: gusset_formed\nis: yes").front().answer, Answer::meets);
    expectValue(job, "measure: gusset_hole", 20, 0.01, "mm");
    job.cage.gussets[0].hole_mm = 80;  // does not fit, and is not cut
    expectValue(job, "measure: gusset_hole", 0, 1, "mm");
}

TEST(SheetFindings, AreOfEachPlateAloneWhetherItMeetsOrNot) {
    Job job = smallJob();
    const CageGeometry cage = resolve(job);
    const RuleTableRef table = mustRead(tableText(ruleText("measure: plate_area\nat_least: 100 cm2", "area") +
                                                  ruleText("measure: plate_count\nat_least: 6", "count") +
                                                  ruleText("measure: bolt_count\nat_least: 3", "bolts")));
    const std::vector<Finding> found = sheetFindings(std::vector{table}, job, cage);
    EXPECT_EQ(found.size(), cage.plates.size()) << "one rule judges them; of bolts there are none";
    for (const Finding& one : found) {
        const int at = cage.plate(one.subject);
        ASSERT_GE(at, 0);
        const double area = cage.plates[static_cast<std::size_t>(at)].area_mm2;
        EXPECT_EQ(one.answer, area >= 1e4 ? Answer::meets : Answer::fails);
        EXPECT_NEAR(*one.value, area, 1e-9);
        EXPECT_EQ(one.limit_text, "at least 100 cm2");
        EXPECT_EQ(one.things, 1);
    }
    EXPECT_TRUE(sheetFindings({}, job, cage).empty());
}

}  // namespace
}  // namespace hoopwright::test
