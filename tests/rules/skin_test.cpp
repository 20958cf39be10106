// The gap from bars to the car's skin as a rule measures it.
#include "tests/rules/shapes.h"

namespace hoopwright::test {
namespace {

/// The small cage in a box: sides 100 mm off the legs' centrelines, a flat roof.
Job jobInABox(double roof) {
    Job job = smallJob();
    // Two points beside the corner keep the faces flat right up to it.
    const std::vector<Vec2> outline = {{700, -200}, {700, 500},  {700, roof - 2}, {700, roof},
                                       {698, roof}, {350, roof}, {0, roof}};
    job.car.shell = {{"rear", -2000, outline}, {"front", 2000, outline}};
    return job;
}

const std::string kRoof = "measure: gap_to_skin\nof: {role: main_hoop}\nwith: {surface: shell}\nat_least: 50";

TEST(GapToSkinQuantity, HoldsOnItsLimit) {
    // The hoop's top is at z = 1000, its radius 22.5: the gap to a roof at h is h - 1022.5.
    expectLimit({kRoof}, jobInABox, 1072.5, 1072.51, 1072.49);
}

/// One bar, level across, from 100 to 200 mm off the left side.
Job withOneBar(const Vec3& from, const Vec3& to) {
    Job job = jobInABox(3000);
    job.cage.members = {straight("tie", "roof_bar", from, to)};
    job.cage.plates.clear();
    job.cage.gussets.clear();
    return job;
}

TEST(GapToSkinQuantity, LeastAndGreatestMustBothHold) {
    const Job job = withOneBar({0, 600, 300}, {0, 500, 300});
    const std::string says = "measure: gap_to_skin\nof: {role: roof_bar}\nwith: {surface: [shell, glass]}\n";
    EXPECT_EQ(finding(job, says + "at_most: 178.1").answer, Answer::meets);
    EXPECT_EQ(finding(job, says + "at_most: 176.9").answer, Answer::fails);
    EXPECT_EQ(finding(job, says + "at_least: 77.49").answer, Answer::meets);
    EXPECT_EQ(finding(job, says + "at_least: 77.51").answer, Answer::fails);
}

TEST(GapToSkinQuantity, TheMeanIsAlongTheWholeBar) {
    const std::string says = "measure: mean_gap_to_skin\nof: {role: roof_bar}\nwith: {surface: shell}";
    expectValue(withOneBar({-300, 600, 300}, {300, 600, 300}), says, 77.5, 0.01, "mm");
    expectValue(withOneBar({0, 600, 300}, {0, 500, 300}), says, 127.5, 0.01, "mm");
}

TEST(GapToSkinQuantity, CannotBeToldWithoutASurfaceOrAScanThatIsNamed) {
    Job job = smallJob();
    job.car.shell.clear();
    job.car.lines.clear();
    EXPECT_EQ(finding(job, kRoof).answer, Answer::cannot_tell);
    job = jobInABox(1100);
    job.car.scans.emplace_back().file = "cab.stl";
    const Finding all = finding(job, "measure: gap_to_skin\nof: {role: main_hoop}\nat_least: 50");
    EXPECT_EQ(all.answer, Answer::cannot_tell);
    EXPECT_EQ(all.missing, "scan 'cab.stl' is not loaded");
    EXPECT_EQ(finding(job, kRoof).answer, Answer::meets);  // the shell alone is all there
}

TEST(GapToSkinQuantity, SurfacesAreNamedInTheTable) {
    EXPECT_EQ(
        problemsOf(tableText(ruleText("measure: gap_to_skin\nwith: {surface: [shell, glass]}\nat_least: 5"))),
        "");
    EXPECT_NE(problemsOf(tableText(ruleText("measure: gap_to_skin\nwith: {surface: roof}\nat_least: 5")))
                  .find("roof"),
              std::string::npos);
    EXPECT_NE(problemsOf(tableText(ruleText("measure: gap_to_skin\nwith: {surface: []}\nat_least: 5")))
                  .find("no surface"),
              std::string::npos);
}

TEST(GapToSkinQuantity, ShowsWhereItIsLeast) {
    const Finding found = finding(jobInABox(1060), kRoof);
    ASSERT_EQ(found.answer, Answer::fails);
    EXPECT_NEAR(*found.value, 37.5, 0.01);
    EXPECT_NEAR(found.evidence.look_at.z(), (1022.5 + 1060) / 2, 0.1);
}

}  // namespace
}  // namespace hoopwright::test
