// What the trade holds to be good practice can be said in a class table. Every fact here is common practice,
// no source; the numbers are invented. The shipped entry class says most of them, with vectors of its own.
#include "tests/rules/shapes.h"

namespace hoopwright::test::trade {
namespace {

/// The small cage in a car with B-pillars `pillar` mm behind the hoop's axis, and a door bar that `air` mm of
/// free way separate from the shell.
Job inACar(double pillar, double air) {
    Job job = smallJob();
    job.car.symmetric = true;
    job.car.lines.push_back(
        {"b_pillar.left", CarLine::Kind::body, {{-pillar, 600, 100}, {-pillar, 600, 900}}, false});
    const std::vector<Vec2> outline = {{700, -200}, {700, 500}, {700, 1500}, {0, 1500}};
    job.car.shell = {{"rear", -2000, outline}, {"front", 2000, outline}};
    const double y = 700 - 22.5 - air;
    job.cage.members.push_back(straight("door", "door_bar", {0, y, 300}, {900, y, 300}));
    job.cage.entry["shop_gap"] = {30.0, Dimension::length};
    job.cage.entry["torch_room"] = {40.0, Dimension::length};
    return job;
}

const std::string kFacts =
    "facts:\n  shop_gap: {kind: length, meaning: How near the shop gets a hoop to a pillar}\n"
    "  torch_room: {kind: length, meaning: What the torch needs behind a door bar}\n";

// As close to the B-pillar as the shop can, while the door bars can still be welded all round.
TEST(TradeFact, TheHoopStandsByThePillarAndTheTorchGetsRoundTheDoorBars) {
    const HeldRule near{
        "measure: gap_to_line\nof: {role: main_hoop}\nwith: {line: b_pillar}\nat_most: {fact: shop_gap}",
        kFacts};
    expectLimit(
        near, [](double gap) { return inACar(22.5 + gap, 60); }, 30, 29.9, 30.1);
    const HeldRule room{
        "measure: gap_to_skin\nof: {role: door_bar}\nwith: {surface: shell}\nat_least: {fact: torch_room}",
        kFacts};
    expectLimit(
        room, [](double air) { return inACar(50, air); }, 40, 40.1, 39.9);
    expectNotApplying(near, onlyBars({}));
    Job unsaid = inACar(50, 60);
    unsaid.cage.entry.clear();
    EXPECT_EQ(worst(unsaid, near), Answer::cannot_tell);
}

// And as far from the driver's head.
TEST(TradeFact, TheHoopKeepsOffTheHead) {
    const HeldRule rule{
        "measure: bar_behind_helmet\nwith: {members: {role: main_hoop}}\nat_least: 50\nif_none: fails"};
    // The back of the helmet is 170 mm behind its middle, the front of the hoop 22.5 ahead of its axis.
    expectLimit(
        rule,
        [](double air) {
            Job job = smallJob();
            job.drivers[0].helmet.centre.x() = 22.5 + air + 170;
            return job;
        },
        50, 50.1, 49.9);
}

// The belt bar is set for this seat and driver: another driver in it may be out of range.
TEST(TradeFact, TheBeltBarIsForOneDriver) {
    const HeldRule rule{"measure: belt_angle\nbetween: [-10, 20]"};
    const auto seated = [](double shoulder_z) {
        Job job = smallJob();
        job.drivers[0].shoulder_left.z() = job.drivers[0].shoulder_right.z() = shoulder_z;
        return job;
    };
    EXPECT_EQ(worst(seated(600), rule), Answer::meets);
    EXPECT_EQ(worst(seated(700), rule), Answer::fails);
    EXPECT_EQ(worst(seated(520), rule), Answer::fails);
}

// The seat is tied to the cage, not to the floor alone.
TEST(TradeFact, TheSeatIsTiedToTheCage) {
    const HeldRule rule{
        "measure: member_count\nof: {role: seat_bar, lands_on: {not: {role: seat_bar}}}\nat_least: 1"};
    Job floor = smallJob();
    floor.cage.members.push_back(straight("seat", "seat_bar", {-50, 500, 50}, {-50, 100, 50}));
    EXPECT_EQ(worst(floor, rule), Answer::fails);
    Job tied = floor;
    Landing on;
    on.host = "main_hoop";
    on.value = 100;
    on.side = Side::left;
    tied.cage.members.back().path[0].place = on;
    EXPECT_EQ(worst(tied, rule), Answer::meets);
}

/// A frame return on each side from the hoop, and one from the side bar, to plates; `feet` of the four are
/// there.
Job onAFrame(int feet) {
    Job job = smallJob();
    job.car.frame = Car::Frame::ladder;
    for (int corner = 0; corner < feet / 2; ++corner) {
        Plate plate = job.cage.plates[0];
        plate.id = plate.name = "rail_" + std::to_string(corner);
        plate.at = FixedPoint{{corner == 0 ? -100.0 : 1100.0, 400, 0}};
        job.cage.plates.push_back(plate);
        Landing on;
        on.host = corner == 0 ? "main_hoop" : "side_bar";
        on.value = 200;
        on.side = corner == 0 ? Side::left : Side::centre;
        Member tie = straight("tie_" + std::to_string(corner), "frame_return", {}, {});
        tie.mirrored = true;
        tie.path = {{on, {}}, {OnPlate{plate.id}, {}}};
        job.cage.members.push_back(tie);
    }
    return job;
}

// On a car with a frame of its own every foot is returned to it, at all four corners.
TEST(TradeFact, AllFourCornersAreReturnedToTheFrame) {
    const HeldRule rule{
        "when: {frame: [ladder, perimeter]}\nmeasure: member_count\nof: {role: frame_return, on_plate: yes}\n"
        "per_side: yes\nat_least: 2"};
    EXPECT_EQ(worst(onAFrame(4), rule), Answer::meets);
    EXPECT_EQ(worst(onAFrame(2), rule), Answer::fails);
    expectNotApplying(rule, smallJob());
}

// Dash bar, far-side door bar and sill bars are optional at the entry level: advice, that stops no cage.
TEST(TradeFact, SomeBarsAreOptionalAtTheEntryLevel) {
    for (const std::string role : {"dash_bar", "door_bar", "sill_bar"}) {
        const std::string says =
            "severity: recommended\nmeasure: member_count\nof: {role: " + role + "}\nat_least: 1";
        EXPECT_EQ(worst(smallJob(), {says}), Answer::fails) << role;
        EXPECT_TRUE(checkWith(smallJob(), tableText(ruleText(says))).allMeet()) << role;
    }
}

}  // namespace
}  // namespace hoopwright::test::trade
