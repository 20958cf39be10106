// Shapes of rules about where bars are, each on its limit, inside, outside, and where it does not apply:
// lengths, shares of another measure, widths against a body or a panel, openings, what shows in a screen,
// spacing, a gap the shop sets, postures, figures, sight.
#include <cmath>

#include "tests/rules/shapes.h"

namespace hoopwright::test {
namespace {

Job withPoint(Job job, const std::string& name, const Vec3& at) {
    job.car.points.push_back({name, at, 0, ""});
    return job;
}

TEST(ShapeLeastLength, OfAStraightBar) {
    const HeldRule rule{"measure: length\nof: {role: cross_bar}\nat_least: 8 in"};
    const auto with = [](double in) {
        return onlyBars({straight("bar", "cross_bar", {0, 0, 500}, {0, in * 25.4, 500})});
    };
    expectLimit(rule, with, 8, 8.01, 7.99);
    expectNotApplying(rule, smallJob());
}

TEST(ShapeShareOfAMeasure, UpADoorOpening) {
    const HeldRule rule{
        "measure: height_share\nof: {role: door_bar}\nwith: {from: sill, to: top}\nat_most: 0.5",
        "places:\n  sill: {car: door_sill}\n  top: {car: door_top}\n"};
    const auto with = [](double z) {
        Job job = onlyBars({straight("bar", "door_bar", {0, 640, z - 100}, {900, 640, z})});
        return withPoint(withPoint(job, "door_sill", {300, 640, 100}), "door_top", {300, 640, 1100});
    };
    expectLimit(rule, with, 600, 599.9, 600.1);
    expectNotApplying(rule, without(with(0), "door_bar"));
    EXPECT_EQ(
        finding(onlyBars({straight("bar", "door_bar", {0, 640, 0}, {900, 640, 0})}), rule.says, rule.sections)
            .missing,
        "no place 'sill': the car has no point 'door_sill'");
    // Or of a measure that is a fact of the entry.
    const HeldRule fact{"measure: top_height\nof: {role: door_bar}\nat_most: {fact: door_height, times: 0.5}",
                        "facts:\n  door_height: {kind: length, meaning: M}\n"};
    const auto high = [&](double z) {
        Job job = with(z);
        job.cage.entry["door_height"] = {1245.0, Dimension::length};
        return job;
    };
    // The bar slopes: its top end's rim is the radius times the cosine of its slope over its centre.
    const double rim = 22.5 * 900 / std::hypot(900, 100);
    expectLimit(fact, high, 622.5 - rim, 622.5 - rim - 0.1, 622.5 - rim + 0.1);
}

TEST(ShapeWidthAtAHeight, BetweenTheLegs) {
    const HeldRule rule{
        "measure: inside_width\nof: {role: main_hoop}\nwith: {above: foot, height: 300}\nat_least: "
        "1100",
        "places:\n  foot: {foot_of: {role: main_hoop}}\n"};
    const auto with = [](double y) {
        Job job = smallJob();
        job.cage.plates[0].at = FixedPoint{{0, y, 0}};
        memberOf(job, "main_hoop").path[1].place = FixedPoint{{0, y, 1000}};
        memberOf(job, "main_hoop").path[2].place = FixedPoint{{0, -y, 1000}};
        return job;
    };
    expectLimit(rule, with, 572.5, 572.6, 572.4);
    expectNotApplying(rule, without(smallJob(), "main_hoop"));
}

TEST(ShapeWidthAgainstBodyOrPanel, EitherWillDo) {
    const HeldRule rule{
        "either:\n  - {name: as wide as the shoulders, all: [{measure: width_over_shoulders, with: {members: "
        "{role: main_hoop}}, at_least: 0}]}\n"
        "  - {name: near the door, all: [{measure: gap_to_line, of: {role: main_hoop}, with: {line: door}, "
        "at_most: 25}]}"};
    const auto wide = [](double shoulders, double door = 1000) {
        Job job = smallJob();
        job.drivers[0].shoulder_width_mm = shoulders;
        job.drivers[0].shoulder_left = {200, 200, 640};
        job.drivers[0].shoulder_right = {200, -200, 640};
        job.car.lines.push_back({"door", CarLine::Kind::body, {{0, door, 200}, {0, door, 600}}, false});
        return job;
    };
    expectLimit(
        rule, [&](double w) { return wide(w); }, 1155, 1154, 1156);
    expectLimit(
        rule, [&](double y) { return wide(1200, y); }, 647.5, 647.4, 647.6);
    expectNotApplying({"when: {frame: ladder}\n" + rule.says}, wide(1200));
    Job unmeasured = wide(1200);
    unmeasured.drivers[0].shoulder_width_mm.reset();
    EXPECT_EQ(worst(unmeasured, rule), Answer::cannot_tell);
}

/// Two level bars this far apart, centre to centre, and two upright ones, on the left side.
Job aperture(double high, double along) {
    return withPoint(
        onlyBars({straight("low", "sill_bar", {0, 640, 100}, {900, 640, 100}),
                  straight("top", "door_bar", {0, 640, 100 + high}, {900, 640, 100 + high}),
                  straight("rear", "pillar_brace", {100, 640, 0}, {100, 640, 900}),
                  straight("front", "pillar_brace", {100 + along, 640, 0}, {100 + along, 640, 900}),
                  straight("other", "door_bar", {0, -640, 200}, {900, -640, 200})}),
        "hand.left", {300, 640, 150});
}

TEST(ShapeOpening, MixedLimitsOfOneAperture) {
    const std::string places = "places:\n  hand: {car: hand.left}\n";
    const HeldRule high{"measure: free_height_at\nwith: {place: hand}\nat_least: 300", places};
    const HeldRule longest{
        "measure: free_length_at\nwith: {place: hand, members: {role: pillar_brace}}\nat_most: 250", places};
    expectLimit(
        high, [](double gap) { return aperture(gap + 45, 500); }, 300, 300.1, 299.9);
    expectLimit(
        longest, [](double gap) { return aperture(345, gap + 45); }, 250, 249.9, 250.1);
    expectNotApplying({"when: {frame: ladder}\n" + high.says, places}, aperture(1, 1));
    EXPECT_EQ(finding(withPoint(onlyBars({}), "hand.left", {300, 640, 150}), high.says, places).missing,
              "there are no bars on both sides of the place, over and under it");
    // A slanted bar takes more of the height than its diameter.
    Job slanted = aperture(400, 500);
    slanted.cage.members[1].path[0].place = FixedPoint{{300 - 200, 640, 500 - 200}};
    slanted.cage.members[1].path[1].place = FixedPoint{{300 + 200, 640, 500 + 200}};
    expectValue(slanted, "measure: free_height_at\nwith: {place: hand}", 400 - 22.5 - 22.5 * std::sqrt(2),
                0.01, "mm", places);
}

TEST(ShapeVisible, NoDeeperInTheScreenThan) {
    const HeldRule top{
        "measure: seen_inside_line\nof: {role: windshield_bar}\nwith: {line: windshield, towards: "
        "up}\nat_most: 100"};
    const auto glass = [](const Vec3& from, const Vec3& to) {
        Job job = onlyBars({straight("bar", "windshield_bar", from, to)});
        job.car.lines.push_back({"windshield",
                                 CarLine::Kind::glass,
                                 {{700, 500, 500}, {600, 500, 1000}, {600, -500, 1000}, {700, -500, 500}},
                                 true});
        return job;
    };
    const auto level = [&](double shows) {
        const double z = 1000 - (shows - 22.5);
        return glass({600, 700, z}, {600, -700, z});
    };
    expectLimit(top, level, 100, 99.9, 100.1);
    expectNotApplying(top, without(smallJob(), "windshield_bar"));
    const auto upright = [&](double shows) {
        const double y = 500 - (shows - 22.5);
        return glass({600, y, 400}, {600, y, 1100});
    };
    expectLimit({"measure: seen_inside_line\nof: {role: windshield_bar}\nwith: {line: windshield, towards: "
                 "sides, view: "
                 "front}\nat_most: 70"},
                upright, 70, 69.9, 70.1);
    // Beside the glass it does not show; to whichever edge is nearer, without `towards`.
    const std::string any = "measure: seen_inside_line\nof: {role: windshield_bar}\nwith: {line: windshield}";
    EXPECT_EQ(worst(glass({600, 600, 400}, {600, 600, 1100}), {any + "\nexactly: 0"}), Answer::meets);
    expectValue(glass({600, 450, 700}, {600, 450, 701}), any, 50 + 22.5, 0.01, "mm");
    EXPECT_EQ(finding(smallJob(),
                      "measure: seen_inside_line\nof: {role: windshield_bar}\nwith: {line: gone}\nat_most: 1")
                  .missing,
              "the car has no line 'gone'");
}

TEST(ShapeEvenSpacing, OfSeveralBars) {
    const HeldRule rule{"measure: uneven_spacing\nwith: {members: {role: roof_bar}}\nat_most: 20"};
    const auto with = [](double off) {
        return onlyBars({straight("a", "roof_bar", {0, 300, 1000}, {600, 300, 1000}),
                         straight("b", "roof_bar", {0, off, 1000}, {600, off, 1000}),
                         straight("c", "roof_bar", {0, -300, 1000}, {600, -300, 1000})});
    };
    expectLimit(rule, with, 10, 9.9, 10.1);
    Job two = with(0);
    two.cage.members.pop_back();
    expectNotApplying(rule, two);
}

TEST(ShapeAsCloseAsCanBe, ByAGapTheShopSets) {
    const HeldRule rule{
        "measure: gap_to_line\nof: {role: main_hoop}\nwith: {line: door}\nat_most: {fact: shop_gap}",
        "facts:\n  shop_gap: {kind: length, meaning: M}\n"};
    const auto with = [](double gap) {
        Job job = smallJob();
        job.car.lines.push_back({"door", CarLine::Kind::body, {{0, 652.5, 200}, {0, 652.5, 600}}, false});
        job.cage.entry["shop_gap"] = {gap, Dimension::length};
        return job;
    };
    expectLimit(rule, with, 30, 30.1, 29.9);
    expectNotApplying(rule, without(with(30), "main_hoop"));
    EXPECT_EQ(finding(smallJob(), "measure: length\nof: {role: main_hoop}\nat_most: {fact: shop_gap}",
                      rule.sections)
                  .missing,
              "the fact 'shop_gap' is not given");
    EXPECT_EQ(finding(with(30), rule.says, rule.sections).limit_text, "at most shop gap");
}

TEST(ShapeSmallerOrLarger, OfTwoLimits) {
    const std::string facts = "facts:\n  makers: {kind: length, meaning: M}\n";
    const auto bolts = [](double diameter, std::optional<double> makers) {
        Job job = smallJob();
        for (Plate& plate : job.cage.plates) {
            plate.fixing = Fixing::bolted;
            plate.bolts = {3, diameter, "8.8"};
        }
        if (makers) job.cage.entry["makers"] = {*makers, Dimension::length};
        return job;
    };
    const HeldRule smaller{"measure: bolt_diameter\nat_least: {smaller_of: [10, {fact: makers}]}", facts};
    expectLimit(
        smaller, [&](double d) { return bolts(d, 8); }, 8, 8.1, 7.9);
    expectLimit(
        smaller, [&](double d) { return bolts(d, 12); }, 10, 10.1, 9.9);
    expectNotApplying(smaller, smallJob());  // welded
    // Not knowing the maker's figure matters only where it could change the answer.
    EXPECT_EQ(worst(bolts(10, std::nullopt), smaller), Answer::meets);
    EXPECT_EQ(worst(bolts(9, std::nullopt), smaller), Answer::cannot_tell);
    const HeldRule larger{"measure: bolt_diameter\nat_least: {larger_of: [10, {fact: makers, plus: 1}]}",
                          facts};
    expectLimit(
        larger, [&](double d) { return bolts(d, 11); }, 12, 12.1, 11.9);
    EXPECT_EQ(worst(bolts(9, std::nullopt), larger), Answer::fails);
    EXPECT_EQ(worst(bolts(10, std::nullopt), larger), Answer::cannot_tell);
    const HeldRule most{"measure: bolt_diameter\nmore_than: {smaller_of: [10, {fact: makers}]}", facts,
                        Answer::fails};
    expectLimit(
        most, [&](double d) { return bolts(d, 8); }, 8, 8.1, 7.9);
    const HeldRule below{"measure: bolt_diameter\nat_most: {larger_of: [10, {fact: makers}]}", facts};
    expectLimit(
        below, [&](double d) { return bolts(d, 12); }, 12, 11.9, 12.1);
    EXPECT_EQ(worst(bolts(9, std::nullopt), below), Answer::meets);
    EXPECT_EQ(worst(bolts(11, std::nullopt), below), Answer::cannot_tell);
    EXPECT_EQ(finding(bolts(9, 8), smaller.says, facts).limit_text,
              "at least the smaller of 10 mm and makers");
}

TEST(ShapePosture, DecidesWhichLimitApplies) {
    const HeldRule rule{
        "measure: lap_angle\nof: {having: {measure: back_angle, at_most: 30 deg}}\nbetween: [45 deg, 65 "
        "deg]"};
    const auto sitting = [](double back, double hip = 100) {
        Job job = smallJob();
        job.drivers[0].back_angle_rad = back * M_PI / 180;
        job.drivers[0].hip.z() = hip;
        return job;
    };
    EXPECT_EQ(worst(sitting(30, 99), rule), Answer::fails);
    expectNotApplying(rule, sitting(30.01, 99));
    expectLimit(
        rule, [&](double hip) { return sitting(30, hip); }, 100, 100.1, 99.9);
}

TEST(ShapeFigure, APublishedFigureIsPlaced) {
    const std::string places = "places:\n  pedal: {car: pedal}\n";
    const HeldRule reach{
        "measure: part_to_place\nof: {having: {measure: figure, is: student_formula_95}}\nwith: {part: "
        "hip, place: pedal}\nat_least: 915",
        places};
    const auto with = [](double away, const std::string& figure = "student_formula_95") {
        Job job = withPoint(smallJob(), "pedal", {350 + away, 300, 100});
        job.drivers[0].figure = figure;
        return job;
    };
    expectLimit(
        reach, [&](double away) { return with(away); }, 915, 915.1, 914.9);
    expectNotApplying(reach, with(100, ""));
    const std::string seated =
        "measure: driver_count\nof: {having: {measure: figure, is: student_formula_95}}\nat_least: 1";
    EXPECT_EQ(worst(with(915), {seated}), Answer::meets);
    EXPECT_EQ(worst(with(915, ""), {seated}), Answer::fails);
    EXPECT_EQ(worst(with(915, ""), {"measure: figure\nis: measured"}), Answer::meets);
    EXPECT_EQ(
        finding(smallJob(), "measure: part_to_place\nwith: {part: hip, place: pedal}\nat_least: 1", places)
            .missing,
        "no place 'pedal': the car has no point 'pedal'");
    EXPECT_EQ(
        finding(with(1), "measure: part_to_place\nwith: {part: torso, place: pedal}\nat_least: 1", places)
            .missing,
        "the torso has no measured point");
}

TEST(ShapeSight, PastTheBarsToAPlace) {
    const std::string places = "places:\n  ahead: {car: road}\n";
    const auto with = [](double degrees) {
        // A level bar 500 mm ahead of the eye whose lower edge is this far over the line of sight.
        const double centre = degrees * M_PI / 180 + std::asin(22.5 / 500);
        const Vec3 at = Vec3(330, 0, 800) + 500 * Vec3(std::cos(centre), 0, std::sin(centre));
        return withPoint(
            onlyBars({straight("bar", "windshield_bar", at + Vec3(0, 900, 0), at - Vec3(0, 900, 0))}), "road",
            {5330, 300, 800});
    };
    const HeldRule rule{"measure: sight_gap\nwith: {place: ahead}\nat_least: 5 deg", places};
    expectLimit(rule, with, 5, 5.01, 4.99);
    expectNotApplying(
        {"measure: sight_gap\nof: {occupant: passenger}\nwith: {place: ahead}\nat_least: 5 deg", places},
        with(5));
}

}  // namespace
}  // namespace hoopwright::test
