// Shapes of rules about feet, bolts, holes and welds, and what a rule may say of itself or ask a person: each
// on its limit, inside, outside, and where it does not apply; questions answered yes, no and not at all.
#include <cmath>

#include "tests/rules/shapes.h"

namespace hoopwright::test {
namespace {

TEST(ShapeContactArea, OfAllPlanesAsRead) {
    const HeldRule rule{"measure: contact_area\nof: {under: {role: main_hoop}}\nat_least: 120 cm2"};
    const auto with = [](double cm2) {
        Job job = withReading(smallJob(), "hoop_foot.left", "contact_area", cm2 * 100, Dimension::area);
        return withReading(job, "hoop_foot.right", "contact_area", 20000, Dimension::area);
    };
    expectLimit(rule, with, 120, 120.1, 119.9);
    expectNotApplying({"measure: contact_area\nof: {under: {role: roof_bar}}\nat_least: 120 cm2"},
                      smallJob());
    EXPECT_EQ(findings(smallJob(), rule.says).front().missing, "no reading 'contact_area' of it is kept");
}

/// The main hoop's feet bolted so, all others welded.
Job boltedHoop(const Bolts& bolts, double thickness = 3) {
    Job job = smallJob();
    job.cage.plates[0].fixing = Fixing::bolted;
    job.cage.plates[0].bolts = bolts;
    job.cage.plates[0].thickness_mm = thickness;
    return job;
}

TEST(ShapePlateByFixing, WeldedThinnerThanBolted) {
    const HeldRule bolted{"measure: plate_thickness\nof: {fixing: bolted}\nat_least: 3/16 in"};
    const HeldRule welded{"measure: plate_thickness\nof: {fixing: welded}\nat_least: 0.080 in"};
    const Bolts bolts{3, 10, "8.8"};
    expectLimit(
        bolted, [&](double t) { return boltedHoop(bolts, t); }, 4.7625, 4.8, 4.7);
    expectLimit(
        welded,
        [](double t) {
            Job job = smallJob();
            job.cage.plates[0].thickness_mm = t;
            return job;
        },
        2.032, 2.04, 2.02);
    expectNotApplying(bolted, smallJob());
}

TEST(ShapeBoltPattern, PitchAndEdge) {
    const auto pitch = [](double mm) { return boltedHoop({3, 8, "8.8", mm, 20}); };
    const auto edge = [](double mm) { return boltedHoop({3, 8, "8.8", 50, mm}); };
    expectLimit({"measure: bolt_pitch\nat_most: 50"}, pitch, 50, 49.9, 50.1);
    expectLimit({"measure: bolt_edge\nat_least: 12"}, edge, 12, 12.1, 11.9);
    expectLimit({"measure: bolt_edge_over_diameter\nat_least: 1.5"}, edge, 12, 12.1, 11.9);
    for (const char* one : {"bolt_pitch", "bolt_edge", "bolt_edge_over_diameter"}) {
        const std::string says = std::string("measure: ") + one + "\nat_least: 0";
        expectNotApplying({says}, smallJob());  // welded
        EXPECT_EQ(worst(boltedHoop({3, 8, "8.8"}), {says}), Answer::cannot_tell) << one;
    }
}

TEST(ShapeBoltArea, AgainstAnotherGroup) {
    const HeldRule rule{
        "measure: bolt_area_over\nof: {under: {role: rear_brace}}\nwith: {members: {role: "
        "main_hoop}}\nat_least: 0.75"};
    // Four of the hoop's 8 mm; braces of three: by count 3/4 with the same diameter.
    const auto braces = [](double diameter) {
        Job job = boltedHoop({4, 8, "8.8"});
        job.cage.plates[2].fixing = Fixing::bolted;
        job.cage.plates[2].bolts = {3, diameter, "8.8"};
        return job;
    };
    expectLimit(rule, braces, 8, 8.1, 7.9);
    expectNotApplying(rule, boltedHoop({4, 8, "8.8"}));  // the braces' feet are welded
    Job welded_hoop = braces(8);
    welded_hoop.cage.plates[0].fixing = Fixing::welded;
    EXPECT_EQ(worst(welded_hoop, rule), Answer::cannot_tell);
    // Four of 8 mm: 201.06 mm2.
    expectValue(boltedHoop({4, 8, "8.8"}), "measure: bolt_area", 4 * M_PI * 16, 0.01, "mm2");
}

TEST(ShapeWeld, HowFarRoundAsRead) {
    const HeldRule rule{"measure: weld_share\nof: {role: belt_bar}\nat_least: 0.75"};
    const auto with = [](double share) {
        return withReading(smallJob(), "belt_bar", "weld_share", share, Dimension::none);
    };
    expectLimit(rule, with, 0.75, 0.76, 0.74);
    expectNotApplying(rule, without(smallJob(), "belt_bar"));
    EXPECT_EQ(worst(smallJob(), rule), Answer::cannot_tell);
}

TEST(ShapeHole, SizeAndPlaceAsRead) {
    const auto hole = [](double mm) {
        return withReading(smallJob(), "main_hoop", "inspection_hole", mm, Dimension::length);
    };
    const HeldRule size{"measure: inspection_hole\nof: {role: main_hoop}\nbetween: [3/16 in, 1/4 in]"};
    expectLimit(size, hole, 4.7625, 4.8, 4.7);
    expectLimit(size, hole, 6.35, 6.3, 6.4);
    const auto away = [](double mm) {
        return withReading(smallJob(), "main_hoop", "hole_from_weld", mm, Dimension::length);
    };
    expectLimit({"measure: hole_from_weld\nof: {role: main_hoop}\nat_least: 3 in"}, away, 76.2, 76.3, 76.1);
    expectNotApplying(size, without(smallJob(), "main_hoop"));
    EXPECT_EQ(worst(smallJob(), size), Answer::cannot_tell);
}

TEST(ShapeBeltSpacing, ARangeOrByTheWidthOfTheBelt) {
    const auto with = [](double spacing) {
        Job job = smallJob();
        job.drivers[0].belts.spacing_mm = spacing;
        job.drivers[0].belts.strap_width_mm = 50;
        return job;
    };
    const HeldRule range{"measure: belt_spacing\nbetween: [175, 235]"};
    expectLimit(range, with, 175, 175.1, 174.9);
    expectLimit(range, with, 235, 234.9, 235.1);
    // Three inches between the inner edges.
    expectLimit({"measure: belt_gap\nat_most: 76"}, with, 126, 125.9, 126.1);
    expectNotApplying({"measure: belt_gap\nof: {occupant: passenger}\nat_most: 76"}, smallJob());
}

TEST(ShapePermission, AsksForNothing) {
    const Finding f = finding(smallJob(), "permits: More bolts than these may be put in.");
    EXPECT_EQ(f.answer, Answer::does_not_apply);
    EXPECT_EQ(f.missing, "it permits, and asks for nothing: More bolts than these may be put in.");
    EXPECT_TRUE(checkWith(smallJob(), tableText(ruleText("permits: It may."))).allMeet());
}

TEST(ShapeExemption, WhereASubstituteIsThere) {
    const HeldRule rule{
        "unless:\n  - {measure: plate_area, of: {under: {role: main_hoop}}, at_least: 200 cm2}\n"
        "  - {measure: plate_thickness, of: {under: {role: main_hoop}}, at_least: 3}\n"
        "measure: bolt_count\nof: {under: {role: main_hoop}}\nat_least: 4"};
    const auto with = [](double length, double thickness) {
        Job job = boltedHoop({3, 8, "8.8"}, thickness);
        job.cage.plates[0].length_mm = length;
        return job;
    };
    expectNotApplying(rule, with(200, 3));
    expectNotApplying(rule, with(201, 3.1));
    EXPECT_EQ(worst(with(199, 3), rule), Answer::fails);
    EXPECT_EQ(worst(with(200, 2.9), rule), Answer::fails);
    EXPECT_EQ(worst(boltedHoop({4, 8, "8.8"}), rule), Answer::meets);
    expectNotApplying(rule, without(with(100, 3), "main_hoop"));
    EXPECT_EQ(finding(with(200, 3), rule.says).missing,
              "it asks for nothing with plate area at least 200 cm2 and plate thickness at least 3 mm");
    const HeldRule untold{
        "unless:\n  - {measure: od, of: {role: belt_bar}, at_least: 1}\nmeasure: member_count\n"
        "at_most: 0"};
    Job job = smallJob();
    memberOf(job, "belt_bar").stock = "gone";
    EXPECT_EQ(worst(job, untold), Answer::cannot_tell);
}

TEST(ShapeCertificate, IsKept) {
    const HeldRule rule{"measure: certificate\nof: {role: main_hoop}\nis: yes"};
    EXPECT_EQ(worst(smallJob(), rule), Answer::fails);
    Job job = smallJob();
    job.cage.certificates = {{"belt_bar", "H1", "C1"}};
    EXPECT_EQ(worst(job, rule), Answer::fails) << "that is another bar's";
    job.cage.certificates.push_back({"main_hoop", "H1", "C1"});
    EXPECT_EQ(worst(job, rule), Answer::meets);
    expectNotApplying(rule, without(job, "main_hoop"));
}

TEST(ShapeDefinition, AMemberIsWhatTheTableSays) {
    // A longitudinal: not bent, from the hoop to a bar across the front, about level.
    const HeldRule rule{"measure: member_count\nof: {group: longitudinals}\nat_least: 1",
                        "roles:\n  nose_bar: Nose bar\n"
                        "groups:\n  longitudinals: {role: nose_bar, bent: no, having: {measure: "
                        "angle_to_horizontal, at_most: 10 deg}}\n"};
    const auto with = [](double degrees) {
        return onlyBars({straight(
            "bar", "nose_bar", {0, 600, 500},
            {1000 * std::cos(degrees * M_PI / 180), 600, 500 + 1000 * std::sin(degrees * M_PI / 180)})});
    };
    expectLimit(rule, with, 10, 9.99, 10.01);
    expectNotApplying({"measure: length\nof: {group: longitudinals}\nat_least: 1", rule.sections}, with(11));
}

/// The answers of one question with these words more.
Answer asked(const Job& job, const std::string& more, const std::string& sections = "") {
    return worst(job, {"ask: Is it so?" + more, sections});
}
Job answered(bool good, const std::string& note = "", const std::string& photo = "") {
    Job job = smallJob();
    job.cage.answers = {{"test", "r", "", good, "A. Fitter", "2026-03-02", note, photo}};
    return job;
}

TEST(ShapeEvidence, AGoodAnswerIsKeptWithIt) {
    const std::string photo = "\nevidence: photo", both = "\nevidence: [photo, paper]";
    EXPECT_EQ(asked(smallJob(), photo), Answer::ask_person);
    EXPECT_EQ(asked(answered(true, "", "weld.jpg"), photo), Answer::meets);
    EXPECT_EQ(asked(answered(true), photo), Answer::ask_person);
    EXPECT_EQ(asked(answered(false), photo), Answer::fails) << "a bad answer needs nothing";
    EXPECT_EQ(asked(answered(true, "report 12", "weld.jpg"), both), Answer::meets);
    EXPECT_EQ(asked(answered(true, "", "weld.jpg"), both), Answer::ask_person);
    EXPECT_EQ(asked(answered(true, "report 12"), both), Answer::ask_person);
    EXPECT_EQ(asked(answered(true, "2.1 mm"), "\nevidence: reading"), Answer::meets);
    expectNotApplying({"ask: Is it so?\neach: member\nof: {role: roof_bar}\nevidence: photo"}, smallJob());
    EXPECT_EQ(finding(smallJob(), "ask: Is it so?" + both).missing,
              "Is it so? Keep with the answer: a photo and a paper.");
    EXPECT_EQ(
        finding(answered(true), "ask: Is it so?" + both).missing,
        "Is it so? Keep with the answer: a photo and a paper. Answered good by A. Fitter, and still to be "
        "kept: a photo and a note that says where the evidence is.");
}

TEST(ShapeLoad, IsWorkedOutForTheQuestion) {
    const std::string facts = "facts:\n  race_mass: {kind: mass, meaning: M}\n";
    const std::string load = "\nload: {times: 7.5, of: race_mass, plus: 150 kg, on: straight down on a pad}";
    Job job = answered(true);
    EXPECT_EQ(asked(job, load, facts), Answer::cannot_tell) << "nobody said the mass";
    job.cage.entry["race_mass"] = {1200.0, Dimension::mass};
    EXPECT_EQ(asked(job, load, facts), Answer::meets);
    job.cage.answers.front().good = false;
    EXPECT_EQ(asked(job, load, facts), Answer::fails);
    job.cage.answers.clear();
    // 7.5 x 1350 kg x 9.80665 m/s2 = 99292.3 N, by hand.
    EXPECT_EQ(finding(job, "ask: Is it held?" + load, facts).missing,
              "Is it held? The load: 99.29 kN (7.5 times the weight of 1350 kg), straight down on a pad.");
    EXPECT_EQ(finding(job, "ask: Is it held?\nload: {newton: 15000}").missing,
              "Is it held? The load: 15 kN.");
    expectNotApplying({"when: {frame: ladder}\nask: Is it held?" + load, facts}, job);
    // Two straps near to each other share an anchor, and the load is another.
    const std::string near =
        "only_if:\n  - {measure: belt_spacing, less_than: 125}\nask: Is it held?\nload: {newton: "
        "30000}";
    EXPECT_EQ(worst(smallJob(), {near}), Answer::does_not_apply);
    Job close = smallJob();
    close.drivers[0].belts.spacing_mm = 124;
    EXPECT_EQ(worst(close, {near}), Answer::ask_person);
}

}  // namespace
}  // namespace hoopwright::test
