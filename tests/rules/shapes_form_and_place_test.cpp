// Shapes of rules, each on its limit, inside, outside, and where it does not apply: straightness, bend
// radius, number and sum of bends, angles in a view, lean either way, angle between bars, ends, free lengths,
// height bands, stations of the car.
#include <cmath>

#include "tests/degrees.h"
#include "tests/rules/shapes.h"

namespace hoopwright::test {
namespace {

/// Nothing but these bars.
Job only(std::vector<Member> members) {
    Job job = smallJob();
    job.cage.members = std::move(members);
    return job;
}

/// A bar 1000 mm between its ends with a bend of radius 135 in its middle, drawn `rise` off the chord.
Job bowed(double rise) {
    Member m = straight("bar", "door_bar", {0, 600, 500}, {1000, 600, 500});
    m.path.insert(m.path.begin() + 1, {FixedPoint{{500, 600, 500 + rise}}, 135.0});
    return only({m});
}
/// The bend rounds the corner off.
double bowOf(double rise) {
    return rise - 135 * (1 / std::cos(std::atan(rise / 500)) - 1);
}

TEST(ShapeStraight, HowFarItStraysAndWhetherItBends) {
    const HeldRule rule{"measure: bow\nof: {role: door_bar}\nat_most: " + shortest(bowOf(10))};
    expectLimit(rule, bowed, 10, 9.99, 10.01);
    expectNotApplying(rule, smallJob());
    EXPECT_EQ(worst(bowed(10), {"measure: bend_count\nof: {role: door_bar}\nexactly: 0"}), Answer::fails);
    EXPECT_EQ(worst(smallJob(), {"measure: bend_count\nof: {role: rear_brace}\nexactly: 0"}), Answer::meets);
}

TEST(ShapeBendRadius, InDiameters) {
    const HeldRule rule{"measure: bend_radius_over_od\nof: {role: main_hoop}\nat_least: 3"};
    const auto with = [](double radius) {
        Job job = smallJob();
        memberOf(job, "main_hoop").bend_radius_mm = radius;
        return job;
    };
    expectLimit(rule, with, 135, 135.1, 134.9);
    expectNotApplying({"measure: bend_radius_over_od\nof: {role: rear_brace}\nat_least: 3"}, smallJob());
}

TEST(ShapeBendCount, AtMostSoMany) {
    const HeldRule rule{"measure: bend_count\nof: {role: door_bar}\nat_most: 2"};
    const auto with = [](double count) {
        Member m = straight("bar", "door_bar", {0, 600, 500}, {2000, 600, 500});
        for (int i = 1; i <= static_cast<int>(count); ++i)
            m.path.insert(m.path.end() - 1, {FixedPoint{{500.0 * i, 600, i % 2 ? 550.0 : 500.0}}, 135.0});
        return only({m});
    };
    expectLimit(rule, with, 2, 1, 4);
    expectNotApplying(rule, smallJob());
}

TEST(ShapeBendSum, GiveOrTake) {
    const HeldRule rule{"measure: bend_sum\nof: {role: main_hoop}\nexactly: 180 deg\ntolerance: 2 deg"};
    // Legs splayed by t from upright take t off each bend.
    const auto with = [](double sum) {
        const double foot = 600 + 1000 * std::tan((180 - sum) / 2 * kDegree);
        Member m = straight("hoop", "main_hoop", {0, foot, 0}, {0, -foot, 0});
        m.path.insert(m.path.begin() + 1,
                      {{FixedPoint{{0, 600, 1000}}, {}}, {FixedPoint{{0, -600, 1000}}, {}}});
        return only({m});
    };
    expectLimit(rule, with, 178, 178.01, 177.99);
    expectLimit(rule, with, 182, 181.99, 182.01);
    expectNotApplying(rule, without(smallJob(), "main_hoop"));
}

/// A straight bar leaning in side view by the first angle, in front view by the second [deg].
Job leaning(double side, double front = 0) {
    return only({straight("bar", "rear_brace", {0, 0, 0},
                          {1000 * std::tan(side * kDegree), 1000 * std::tan(front * kDegree), 1000})});
}

TEST(ShapeAngle, ToUprightOrLevelInAView) {
    const std::string of = "\nof: {role: rear_brace}\nwith: {view: ";
    const auto side = [](double a) { return leaning(a, 10); };
    const auto front = [](double a) { return leaning(10, a); };
    expectLimit({"measure: angle_to_vertical" + of + "side}\nat_least: 30 deg"}, side, 30, 30.01, 29.99);
    expectLimit({"measure: angle_to_vertical" + of + "front}\nat_most: 30 deg"}, front, 30, 29.99, 30.01);
    expectLimit({"measure: angle_to_horizontal" + of + "side}\nat_most: 60 deg"}, side, 30, 30.01, 29.99);
    expectLimit({"measure: angle_to_vertical" + of + "side}\nmore_than: 30 deg", "", Answer::fails}, side, 30,
                30.01, 29.99);
    expectNotApplying({"measure: angle_to_vertical" + of + "side}\nat_least: 30 deg"},
                      without(smallJob(), "rear_brace"));
}

TEST(ShapeOneSidedAngle, AnyForwardLittleBackward) {
    const HeldRule rule{"measure: lean\nof: {role: rear_brace}\nat_most: 10 deg"};
    const auto back = [](double a) { return leaning(-a); };
    expectLimit(rule, back, 10, 9.99, 10.01);
    EXPECT_EQ(worst(back(-60), rule), Answer::meets);
    expectNotApplying(rule, without(smallJob(), "rear_brace"));
}

TEST(ShapeIncludedAngle, BetweenTwoBars) {
    const HeldRule rule{
        "measure: included_angle\nof: {first: {role: belt_bar}, second: {role: door_bar}}\nat_least: 30 deg"};
    const auto with = [](double angle) {
        return only({straight("a", "belt_bar", {0, -500, 500}, {0, 500, 500}),
                     straight("b", "door_bar", {0, 0, 0},
                              {300 * std::sin(angle * kDegree), 500 * std::cos(angle * kDegree),
                               400 * std::sin(angle * kDegree)})});
    };
    expectLimit(rule, with, 30, 30.01, 29.99);
    expectNotApplying(rule, smallJob());
}

TEST(ShapeEndDistance, ToANamedPlace) {
    const HeldRule rule{
        "measure: end_to_place\nof: {role: hoop_diagonal}\nwith: {place: foot, end: lower}\nat_most: 100",
        "places:\n  foot: {foot_of: {role: main_hoop}}\n"};
    const auto with = [](double height) {
        Job job = smallJob();
        std::get<Landing>(memberOf(job, "diagonal").path[1].place).value = height;
        return job;
    };
    expectLimit(rule, with, 100, 99.9, 100.1);
    expectNotApplying(rule, without(smallJob(), "hoop_diagonal"));
}

TEST(ShapeFreeLength, OfStraightAndOfBentBars) {
    const std::string free = "measure: unsupported_length\nof: {role: door_bar}\nwith: {spans: ";
    const auto straightBar = [](double length) {
        return only({straight("bar", "door_bar", {0, 0, 0}, {length, 0, 0})});
    };
    const HeldRule straight_rule{free + "straight}\nat_most: 1016"};
    expectLimit(straight_rule, straightBar, 1016, 1015.9, 1016.1);
    expectNotApplying(straight_rule, bowed(100));
    // Along the bar: two straights to the corner less two setbacks, and the arc.
    const double half = std::atan(100.0 / 500), setback = 135 * std::tan(half);
    const double length = 2 * (std::hypot(500, 100) - setback) + 135 * 2 * half;
    for (const double step : {-0.1, 0.0, 0.1}) {
        const HeldRule bent_rule{free + "bent}\nat_most: " + shortest(length + step)};
        EXPECT_EQ(worst(bowed(100), bent_rule), step < 0 ? Answer::fails : Answer::meets) << step;
        expectNotApplying(bent_rule, straightBar(2000));
    }
    // A bar that lands on it holds it: 600 and 500 are left.
    Job held = straightBar(1100);
    held.cage.members.push_back(straight("post", "roof_bar", {0, 0, 500}, {600, 0, 0}));
    Landing on_bar;
    on_bar.host = "bar";
    on_bar.by = Landing::By::station_x;
    on_bar.value = 600;
    held.cage.members[1].path[1].place = on_bar;
    EXPECT_EQ(worst(held, {free + "straight}\nat_most: 600"}), Answer::meets);
    EXPECT_EQ(worst(held, {free + "straight}\nat_most: 599.9"}), Answer::fails);
}

Job barAtHeight(double middle) {
    return only({straight("bar", "door_bar", {0, 600, middle}, {900, 600, middle})});
}

TEST(ShapeHeightBand, OfTheWholeTube) {
    const HeldRule rule{"measure: height\nof: {role: door_bar}\nbetween: [500, 600]"};
    expectLimit(rule, barAtHeight, 522.5, 522.6, 522.4);
    expectLimit(rule, barAtHeight, 577.5, 577.4, 577.6);
    expectNotApplying(rule, smallJob());
}

// A height where a bar passes somebody's elbow: (350, +-, 400) in the small cage.
TEST(HeightAt, IsOfTheCentrelineOverThePlace) {
    const std::string places = "places:\n  elbow: {driver: elbow}\n  roof: {car: roof_hook}\n";
    const HeldRule rule{"measure: height_at\nof: {role: door_bar}\nwith: {place: elbow}\nat_least: 0",
                        places};
    // 600 mm high at the hoop, falling to `end` at x = 700: half way at the elbow.
    const auto with = [](double end) {
        return only({straight("bar", "door_bar", {0, 640, 600}, {700, 640, end})});
    };
    expectLimit(rule, with, 200, 200.1, 199.9);
    expectNotApplying(rule, only({straight("bar", "door_bar", {0, 640, 600}, {349, 640, 600})}));
    expectValue(with(300), "measure: height_at\nof: {role: door_bar}\nwith: {place: elbow}", 50, 0.01, "mm",
                places);
    EXPECT_EQ(finding(with(300), "measure: height_at\nof: {role: door_bar}\nwith: {place: roof}\nat_least: 0",
                      places)
                  .missing,
              "no place 'roof': the car has no point 'roof_hook'");
    Job two = withPassenger(with(300));
    two.drivers[1].elbow_left.x() = two.drivers[1].elbow_right.x() = 900;
    EXPECT_EQ(finding(two, rule.says, places).missing, "it passes only some of the places");
}

TEST(ShapeStations, ACageStaysBetweenWithAnExemption) {
    const HeldRule rule{"measure: behind\nof: {not: {role: rear_brace}}\nwith: {place: rear}\nat_most: 0",
                        "places:\n  rear: {car: rear_mount}\n"};
    const auto with = [](double x) {
        Job job = smallJob();
        job.car.points.push_back({"rear_mount", {x, 0, 0}, 0, ""});
        return job;
    };
    expectLimit(rule, with, -22.5, -22.6, -22.4);  // the hoop's rear face; the braces reach to -950
    Job braces = with(0);
    std::erase_if(braces.cage.members, [](const Member& m) { return m.role != "rear_brace"; });
    expectNotApplying(rule, braces);
    EXPECT_EQ(worst(smallJob(), rule), Answer::cannot_tell);
}

}  // namespace
}  // namespace hoopwright::test
