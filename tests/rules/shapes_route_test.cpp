// Shapes of rules about how bars run and meet, each on its limit, inside, outside, and where it does not
// apply: layouts, conditions, bays, one piece, crossings, splices, bends, planes, supports, verticals.
#include <cmath>

#include "tests/degrees.h"
#include "tests/rules/shapes.h"

namespace hoopwright::test {
namespace {

/// Two roof bars that cross, or meet in a V whose open end is this wide.
Job roofCross() {
    return onlyBars({straight("one", "roof_diagonal", {0, 500, 1000}, {600, -500, 1000}),
                     straight("two", "roof_diagonal", {0, -500, 1000}, {600, 500, 1000})});
}
Job roofV(double apart) {
    Job job = onlyBars({straight("screen", "windshield_bar", {600, 600, 1000}, {600, -600, 1000}),
                        straight("one", "roof_diagonal", {0, 500, 1000}, {600, apart, 1000}),
                        straight("two", "roof_diagonal", {0, -500, 1000}, {600, -apart, 1000})});
    return job;
}

TEST(ShapeSubLayout, ARoofOfVOrX) {
    const HeldRule rule{
        "either:\n  - {name: crossed, all: [{measure: crossed_by, of: {role: roof_diagonal}, with: {members: "
        "{role: roof_diagonal}}, at_least: 1}]}\n"
        "  - {name: a V, all: [{measure: end_to_place, of: {role: roof_diagonal}, with: {place: middle, end: "
        "front}, at_most: 100}]}",
        "places:\n  middle: {top_of: {role: windshield_bar}}\n"};
    expectLimit(rule, roofV, 100, 99, 101);
    EXPECT_EQ(worst(roofCross(), rule), Answer::meets);
    expectNotApplying({"when: {frame: ladder}\n" + rule.says, rule.sections}, roofV(200));
}

TEST(ShapeIfMeasured, OnlyWhereAMeasureSaysSo) {
    const auto rule = [](double width) {
        return HeldRule{
            "only_if:\n  - {measure: inside_width, of: {role: main_hoop}, with: {above: foot, height: "
            "300}, more_than: " +
                shortest(width) + "}\nmeasure: member_count\nof: {role: hoop_diagonal}\nat_least: 1",
            "places:\n  foot: {foot_of: {role: main_hoop}}\n"};
    };
    const Job bare = without(smallJob(), "hoop_diagonal");
    expectNotApplying(rule(1155), bare);
    expectNotApplying(rule(1155.1), bare);
    EXPECT_EQ(worst(bare, rule(1154.9)), Answer::fails);
    EXPECT_EQ(worst(smallJob(), rule(1154.9)), Answer::meets);
}

TEST(ShapeIfFacts, OnlyFromADayOn) {
    const HeldRule rule{
        "when: {homologated: {from: 2002-01-01}}\nmeasure: member_count\nof: {role: "
        "dash_bar}\nat_least: 1",
        "facts:\n  homologated: {kind: date, meaning: M}\n"};
    const auto papers = [](const std::string& day) {
        Job job = smallJob();
        job.cage.entry["homologated"] = {day, Dimension::none};
        return job;
    };
    expectNotApplying(rule, papers("2001-12-31"));
    EXPECT_EQ(worst(papers("2002-01-01"), rule), Answer::fails);
    Job with = papers("2002-01-02");
    with.cage.members.push_back(straight("dash", "dash_bar", {500, -500, 500}, {500, 500, 500}));
    EXPECT_EQ(worst(with, rule), Answer::meets);
    EXPECT_EQ(worst(smallJob(), rule), Answer::cannot_tell);
}

TEST(ShapeIfFacts, ByVolumeAndBody) {
    const HeldRule rule{
        "when: {body: saloon, engine: {over: 2000 cm3}}\nmeasure: member_count\nof: {role: "
        "dash_bar}\nat_least: 1",
        "facts:\n  engine: {kind: volume, meaning: M}\n"};
    const auto of = [](double cc) {
        Job job = smallJob();
        job.cage.entry["engine"] = {cc * 1000, Dimension::volume};
        return job;
    };
    expectNotApplying(rule, of(2000));
    EXPECT_EQ(worst(of(2000.1), rule), Answer::fails);
    Job open = of(2500);
    open.car.body = Car::Body::open;
    expectNotApplying(rule, open);
}

/// A ring of four bars in one plane, with so many of its diagonals.
Job ring(int diagonals, const std::string& stock = "45x2.5") {
    Member a = straight("a", "side_bar", {0, 0, 500}, {1000, 0, 500}),
           b = straight("b", "side_bar", {0, 0, 1300}, {1000, 0, 1300}),
           c = straight("c", "door_bar", {}, {}), d = straight("d", "door_bar", {}, {});
    c.path = {{onEndOf("a", false), {}}, {onEndOf("b", false), {}}};
    d.path = {{onEndOf("a", true), {}}, {onEndOf("b", true), {}}};
    std::vector<Member> bars = {a, b, c, d};
    for (int i = 0; i < diagonals; ++i) {
        Member across = straight("across" + std::to_string(i), "floor_bar", {}, {}, stock);
        across.path = {{onEndOf("a", i == 1), {}}, {onEndOf("b", i != 1), {}}};
        if (i == 1) across.passes = {"across0"};
        bars.push_back(across);
    }
    Job job = onlyBars(bars);
    job.cage.plates.clear();
    return job;
}

TEST(ShapeTriangulated, EveryBayIsCrossed) {
    const HeldRule rule{"measure: open_bay_count\nexactly: 0"};
    EXPECT_EQ(worst(ring(0), rule), Answer::fails);
    EXPECT_EQ(worst(ring(1), rule), Answer::meets);
    EXPECT_EQ(worst(ring(2), rule), Answer::meets);
    expectNotApplying({"when: {frame: ladder}\n" + rule.says}, ring(0));
    const Finding open = finding(ring(0), rule.says);
    EXPECT_EQ(open.evidence.shapes.size(), 4u);
    EXPECT_EQ(open.evidence.members.size(), 4u);
    // Bays of these bars alone.
    EXPECT_EQ(worst(ring(0), {"measure: open_bay_count\nwith: {members: {role: side_bar}}\nexactly: 0"}),
              Answer::meets);
    EXPECT_EQ(worst(ring(0),
                    {"measure: open_bay_count\nwith: {members: {role: [side_bar, door_bar]}}\nexactly: 0"}),
              Answer::fails);
    // A diagonal that is passed over crosses nothing.
    const std::string passed = "ignored: {having: {measure: od, less_than: 40}}\n";
    EXPECT_EQ(worst(ring(1, "38x2.5"), {rule.says, passed}), Answer::fails);
    EXPECT_EQ(worst(ring(1, "38x2.5"), rule), Answer::meets);
}

TEST(ShapeLowToLow, OnePieceOverFromFootToFoot) {
    const HeldRule rule{"measure: low_to_low\nof: {role: main_hoop}\nis: yes"};
    EXPECT_EQ(worst(smallJob(), rule), Answer::meets);
    Job hanging = smallJob();
    memberOf(hanging, "main_hoop").path[3].place = FixedPoint{{0, -600, 1}};
    EXPECT_EQ(worst(hanging, rule), Answer::fails) << "a millimetre over its plate";
    Job half = smallJob();
    memberOf(half, "main_hoop").path.resize(2);
    EXPECT_EQ(worst(half, rule), Answer::fails) << "ends at the top";
    expectNotApplying(rule, without(smallJob(), "main_hoop"));
    // From low bars instead of plates.
    Job frame = smallJob();
    for (const auto& [id, y] : {std::pair{"low_left", 600.0}, {"low_right", -600.0}}) {
        frame.cage.members.insert(frame.cage.members.begin(),
                                  straight(id, "sill_bar", {-500, y, 0}, {900, y, 0}));
        Landing on;
        on.host = id;
        on.by = Landing::By::station_x;
        on.value = 0;
        memberOf(frame, "main_hoop").path[y > 0 ? 0 : 3].place = on;
    }
    const std::string low =
        "measure: low_to_low\nof: {role: main_hoop}\nwith: {members: {role: sill_bar}}\nis: yes";
    EXPECT_EQ(worst(frame, {low}), Answer::meets);
    EXPECT_EQ(worst(smallJob(), {low}), Answer::fails);
    EXPECT_EQ(worst(frame, rule), Answer::fails) << "it stands on no plate";
}

/// Half a bar that lands on the middle of another.
Member half(const std::string& id, const Vec3& from, const std::string& on, double distance) {
    Member m = straight(id, "hoop_diagonal", from, {});
    Landing l;
    l.host = on;
    l.by = Landing::By::distance;
    l.value = distance;
    m.path[1].place = l;
    return m;
}

TEST(ShapeCrossing, OneLegRunsThrough) {
    const HeldRule rule{
        "measure: crossed_by\nof: {role: hoop_diagonal}\nwith: {members: {role: "
        "hoop_diagonal}}\nhow_many: any\nat_least: 1"};
    const Member through = straight("through", "hoop_diagonal", {0, 500, 900}, {0, -500, 100});
    const double middle = std::hypot(1000, 800) / 2;
    EXPECT_EQ(worst(onlyBars({through, half("upper", {0, -500, 900}, "through", middle),
                              half("lower", {0, 500, 100}, "through", middle)}),
                    rule),
              Answer::meets);
    // Pieced together in the middle: every leg ends there.
    Member first = straight("first", "hoop_diagonal", {0, 500, 900}, {0, 0, 500});
    std::vector<Member> pieces = {first};
    for (const auto& [id, y, z] :
         {std::tuple{"b", -500.0, 900.0}, {"c", 500.0, 100.0}, {"d", -500.0, 100.0}}) {
        pieces.push_back(straight(id, "hoop_diagonal", {0, y, z}, {}));
        pieces.back().path[1].place = onEndOf("first", true);
    }
    EXPECT_EQ(worst(onlyBars(pieces), rule), Answer::fails);
    // A bar that passes through another crosses it too, and it the other.
    expectValue(roofCross(), "measure: crossed_by\nof: {role: roof_diagonal}", 1, 1, "");
    EXPECT_EQ(worst(onlyBars({through}), rule), Answer::fails);
    expectNotApplying({rule.says + "\nif_none: does_not_apply"}, onlyBars({}));
}

TEST(ShapeNoSplice, AHoopIsOfOneTube) {
    const HeldRule rule{"measure: splices\nof: {role: main_hoop}\nexactly: 0"};
    EXPECT_EQ(worst(smallJob(), rule), Answer::meets);
    // Two halves butted in the middle of the top, the second turned out of line by so much.
    const auto two = [](double degrees) {
        Job job = smallJob();
        std::erase_if(job.cage.members, [](const Member& m) { return m.id != "main_hoop"; });
        Member& hoop = job.cage.members.front();
        hoop.path.resize(3);
        hoop.path[2].place = FixedPoint{{0, 0, 1000}};
        Member second = straight("second", "main_hoop", {}, {});
        second.path = {
            {onEndOf("main_hoop", true), {}},
            {FixedPoint{{600 * std::sin(degrees * kDegree), -600 * std::cos(degrees * kDegree), 1000}}, {}}};
        job.cage.members.push_back(second);
        return job;
    };
    EXPECT_EQ(worst(two(0), rule), Answer::fails);
    expectLimit(rule, two, 10.1, 90, 9.9);
    expectNotApplying(rule, without(smallJob(), "main_hoop"));
    // A corner cut and welded is no bend, whatever its angle; a bar of another kind there is another matter.
    const HeldRule whole{
        "measure: butted_ends\nof: {role: main_hoop}\nwith: {members: {role: main_hoop}}\nexactly: 0"};
    EXPECT_EQ(worst(smallJob(), whole), Answer::meets);
    for (double degrees : {0.0, 9.9, 10.1, 45.0, 90.0, 120.0})
        EXPECT_EQ(worst(two(degrees), whole), Answer::fails) << degrees;
    Job other = two(90);
    memberOf(other, "second").role = "roof_bar";
    EXPECT_EQ(worst(other, whole), Answer::meets);
    expectNotApplying(whole, without(smallJob(), "main_hoop"));
}

/// A bar 1000 mm between its ends with a bend of radius 135 in its middle, drawn `rise` over the chord.
Member bowedBar(double rise) {
    Member m = straight("bar", "door_bar", {0, 600, 500}, {1000, 600, 500});
    m.path.insert(m.path.begin() + 1, {FixedPoint{{500, 600, 500 + rise}}, 135.0});
    return m;
}

TEST(ShapeBendAngle, OfAnyBendOrThoseAwayFromNodes) {
    const auto bent = [](double degrees) {
        return onlyBars({bowedBar(500 * std::tan(degrees / 2 * kDegree))});
    };
    expectLimit(
        {"measure: greatest_bend\nof: {role: door_bar}\nwith: {away_from_nodes: 50}\nat_most: 30 deg"}, bent,
        30, 29.99, 30.01);
    expectLimit({"measure: greatest_bend\nof: {role: door_bar}\nwith: {view: side}\nless_than: 30 deg", "",
                 Answer::fails},
                bent, 30, 29.99, 30.01);
    EXPECT_EQ(
        worst(bent(60), {"measure: greatest_bend\nof: {role: door_bar}\nwith: {view: plan}\nat_most: 0"}),
        Answer::meets);
    expectNotApplying({"measure: greatest_bend\nof: {role: door_bar}\nat_most: 30 deg"}, smallJob());
}

TEST(ShapeToPlane, ASupportAgainstThePlaneOfABentBar) {
    const HeldRule rule{
        "measure: angle_to_plane\nof: {first: {role: floor_bar}, second: {role: door_bar}}\nat_most: "
        "30 deg"};
    const auto with = [](double degrees) {
        const Vec3 from(500, 600, 560);
        return onlyBars({bowedBar(100), straight("post", "floor_bar", from,
                                                 from + 400 * Vec3(0.6 * std::cos(degrees * kDegree),
                                                                   std::sin(degrees * kDegree),
                                                                   0.8 * std::cos(degrees * kDegree)))});
    };
    expectLimit(rule, with, 30, 29.99, 30.01);
    expectNotApplying(rule, smallJob());
    Job straight_one = with(10);
    straight_one.cage.members[0] = straight("bar", "door_bar", {0, 600, 500}, {1000, 600, 500});
    EXPECT_EQ(finding(straight_one, rule.says).missing,
              "the second bar is straight and lies in no one plane");
}

TEST(ShapePlanar, AHoopLiesInOnePlane) {
    const HeldRule rule{"measure: out_of_plane\nof: {role: main_hoop}\nat_most: 5"};
    const auto kinked = [](double x) {
        Job job = smallJob();
        memberOf(job, "main_hoop").path[1].place = FixedPoint{{x, 600, 1000}};
        return job;
    };
    EXPECT_EQ(worst(kinked(0), {"measure: out_of_plane\nof: {role: main_hoop}\nat_most: 0"}), Answer::meets);
    EXPECT_EQ(worst(kinked(5), rule), Answer::meets);
    EXPECT_EQ(worst(kinked(80), rule), Answer::fails);
    expectNotApplying(rule, without(smallJob(), "main_hoop"));
}

TEST(ShapeSupportAtTheBow, WhereABentBarStraysFarthest) {
    const HeldRule rule{"measure: support_from_bow\nof: {role: door_bar}\nat_most: 100"};
    const double turn = std::atan(100.0 / 500), arc = 135 * turn, setback = 135 * std::tan(turn);
    const auto with = [&](double along) {
        // Ahead of the bend's middle: the rest of the arc, then the straight.
        Member post = straight("post", "floor_bar", {}, {600, 600, 100});
        Landing on;
        on.host = "bar";
        on.by = Landing::By::station_x;
        on.value = 500 + (setback + along - arc) * std::cos(turn);
        post.path[0].place = on;
        return onlyBars({bowedBar(100), post});
    };
    expectLimit(rule, with, 100, 99.9, 100.1);
    EXPECT_EQ(worst(onlyBars({bowedBar(100)}), rule), Answer::fails) << "nothing holds it";
    expectNotApplying(rule, onlyBars({straight("bar", "door_bar", {0, 600, 500}, {1000, 600, 500})}));
    EXPECT_EQ(worst(with(50), {"measure: support_from_bow\nof: {role: door_bar}\nwith: {members: {role: "
                               "roof_bar}}\nat_most: 100"}),
              Answer::fails);
}

TEST(ShapeSideOfAVertical, ABraceIsNotOnTheHoopsSide) {
    const HeldRule rule{
        "measure: same_side_of_vertical\nof: {first: {role: main_hoop}, second: {role: "
        "rear_brace}}\nwith: {place: top}\nis: no",
        "places:\n  top: {top_of: {role: main_hoop}}\n"};
    // The hoop's top is so far ahead of its foot; the brace's foot so far ahead of the top.
    const auto with = [](double lean, double brace) {
        return onlyBars({straight("hoop", "main_hoop", {0, 0, 0}, {lean, 0, 1000}),
                         straight("brace", "rear_brace", {lean, 0, 1000}, {lean + brace, 0, 0})});
    };
    EXPECT_EQ(worst(with(100, 400), rule), Answer::meets);
    EXPECT_EQ(worst(with(100, -400), rule), Answer::fails);
    EXPECT_EQ(worst(with(-100, -400), rule), Answer::meets);
    EXPECT_EQ(worst(with(-100, 400), rule), Answer::fails);
    // Within a millimetre of the vertical it is on neither side.
    EXPECT_EQ(worst(with(2.1, -400), rule), Answer::fails);
    expectNotApplying(rule, with(2.0, -400));
    expectNotApplying(rule, with(0, -400));
    expectNotApplying(rule, without(smallJob(), "rear_brace"));
}

}  // namespace
}  // namespace hoopwright::test
