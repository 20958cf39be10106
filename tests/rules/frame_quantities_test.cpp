// What a frame asks: bars at bends, openings that face one way, ends over a place, a face in the middle of
// the car, the person's middle to the outside. Each value by hand.
#include <cmath>

#include "tests/degrees.h"
#include "tests/rules/shapes.h"

namespace hoopwright::test {
namespace {

/// A leg 600 mm up, a bend of 90 degrees and 135 mm radius, and 600 mm on towards `way`; a second bar lands
/// on the leg so far under the bend.
Job cornered(const Vec3& way, double under) {
    Member bar = straight("bar", "door_bar", {0, 600, 0}, Vec3(0, 600, 600) + 600 * way);
    bar.path.insert(bar.path.begin() + 1, {FixedPoint{{0, 600, 600}}, 135.0});
    Member post = straight("post", "floor_bar", {}, {500, 300, 100});
    Landing on;
    on.host = "bar";
    on.by = Landing::By::distance;
    on.value = 600 - 135 - under;
    post.path[0].place = on;
    return onlyBars({bar, post});
}

TEST(SupportFromBend, IsMeasuredAlongTheBarFromTheBendsEnd) {
    const HeldRule rule{"measure: support_from_bend\nof: {role: door_bar}\nat_most: 100"};
    expectLimit(
        rule, [](double under) { return cornered(Vec3::UnitX(), under); }, 100, 99.9, 100.1);
    // Anywhere in the bend it is at it; with nothing there it is all the bar: 465 + 135 pi / 2 + 465.
    EXPECT_EQ(finding(cornered(Vec3::UnitX(), -50), rule.says).value, 0);
    Job alone = cornered(Vec3::UnitX(), 0);
    alone.cage.members.pop_back();
    EXPECT_NEAR(*finding(alone, rule.says).value, 930 + 135 * M_PI / 2, 1e-9);
    expectNotApplying(rule, onlyBars({straight("bar", "door_bar", {0, 600, 0}, {0, 600, 900})}));
    const std::string others =
        "measure: support_from_bend\nof: {role: door_bar}\nwith: {members: {role: roof_bar}}";
    EXPECT_EQ(worst(cornered(Vec3::UnitX(), 0), {others + "\nat_most: 100"}), Answer::fails);
}

// Legs of 600 and 300 mm and 60 degrees between: it strays farthest where the bend has turned to the chord.
TEST(SupportFromBow, IsFromWhereTheBarRunsAlongItsChord) {
    const double turn = 60 * kDegree, x = 600 + 300 * std::cos(turn), z = 300 * std::sin(turn);
    Member bar = straight("bar", "door_bar", {0, 600, 0}, {x, 600, z});
    bar.path.insert(bar.path.begin() + 1, {FixedPoint{{600, 600, 0}}, 135.0});
    const double farthest = 600 - 135 * std::tan(turn / 2) + 135 * std::atan2(z, x);
    Member post = straight("post", "floor_bar", {}, {500, 300, -300});
    Landing on;
    on.host = "bar";
    on.by = Landing::By::distance;
    on.value = farthest - 100;
    post.path[0].place = on;
    const Finding f =
        finding(onlyBars({bar, post}), "measure: support_from_bow\nof: {role: door_bar}\nat_most: 100");
    ASSERT_TRUE(f.value) << f.missing;
    EXPECT_NEAR(*f.value, 100, 1e-9);
}

TEST(SupportFromBend, LooksAtBendsThatShowInAView) {
    const auto seen = [](const Vec3& way, const std::string& view) {
        return worst(
            cornered(way, 10),
            {"measure: support_from_bend\nof: {role: door_bar}\nwith: {view: " + view + "}\nat_most: 100"});
    };
    EXPECT_EQ(seen(Vec3::UnitX(), "side"), Answer::meets);
    EXPECT_EQ(seen(Vec3::UnitX(), "front"), Answer::does_not_apply) << "one leg is seen end-on";
    EXPECT_EQ(seen(-Vec3::UnitY(), "front"), Answer::meets);
    EXPECT_EQ(seen(-Vec3::UnitY(), "side"), Answer::does_not_apply);
    // Four degrees off end-on still shows no direction, six do.
    const auto off = [](double degrees) {
        return Vec3(std::sin(degrees * kDegree), -std::cos(degrees * kDegree), 0);
    };
    EXPECT_EQ(seen(off(4), "side"), Answer::does_not_apply);
    EXPECT_EQ(seen(off(6), "side"), Answer::meets);
    // A hoop that leans is a line from the side, whatever its corners.
    Job leaning = smallJob();
    memberOf(leaning, "main_hoop").path[1].place = FixedPoint{{-150, 600, 1000}};
    memberOf(leaning, "main_hoop").path[2].place = FixedPoint{{-150, -600, 1000}};
    EXPECT_EQ(worst(leaning, {"measure: support_from_bend\nof: {role: main_hoop}\nwith: {view: "
                              "side}\nat_most: 1"}),
              Answer::does_not_apply);
}

TEST(SupportFromBend, LooksOverOrUnderAPlace) {
    const std::string places = "places:\n  mark: {car: mark}\n";
    const auto with = [&](const std::string& where, double z) {
        Job job = cornered(Vec3::UnitX(), 10);
        job.car.points.push_back({"mark", {0, 0, z}, 0, ""});
        return worst(job, {"measure: support_from_bend\nof: {role: door_bar}\nwith: {" + where +
                               ": mark}\nat_most: 100",
                           places});
    };
    const double middle = 600 - 135 + 135 * std::sin(M_PI / 4);
    EXPECT_EQ(with("above", middle - 0.1), Answer::meets);
    EXPECT_EQ(with("above", middle + 0.1), Answer::does_not_apply);
    EXPECT_EQ(with("below", middle + 0.1), Answer::meets);
    EXPECT_EQ(with("below", middle - 0.1), Answer::does_not_apply);
    EXPECT_EQ(worst(cornered(Vec3::UnitX(), 10),
                    {"measure: support_from_bend\nof: {role: door_bar}\nwith: {above: mark}\nat_most: 100",
                     places}),
              Answer::cannot_tell);
}

/// A box of bars with every corner a node and nothing across any side: six openings.
TEST(OpenBays, ThatFaceOneWayAreCountedAlone) {
    Job job = onlyBars({});
    const auto bar = [&](const Vec3& from, const Vec3& to) {
        job.cage.members.push_back(
            straight("bar_" + std::to_string(job.cage.members.size()), "roof_bar", from, to));
        return job.cage.members.back().id;
    };
    // Four bars along; the rest land on them.
    std::vector<std::string> along;
    for (const double y : {500.0, -500.0})
        for (const double z : {200.0, 900.0}) along.push_back(bar({0, y, z}, {1000, y, z}));
    const auto tie = [&](std::size_t a, std::size_t b, double at) {
        Member m = straight("tie_" + std::to_string(job.cage.members.size()), "roof_bar", {}, {});
        for (std::size_t e = 0; e < 2; ++e) {
            Landing on;
            on.host = along[e == 0 ? a : b];
            on.by = Landing::By::distance;
            on.value = at;
            m.path[e].place = on;
        }
        job.cage.members.push_back(m);
    };
    for (const double at : {100.0, 900.0}) {
        tie(0, 1, at);
        tie(2, 3, at);
        tie(0, 2, at);
        tie(1, 3, at);
    }
    const auto count = [&](const std::string& with) {
        return *finding(job, "measure: open_bay_count" + with + "\nat_least: 0").value;
    };
    EXPECT_EQ(count(""), 6);
    for (const char* view : {"side", "front", "plan"})
        EXPECT_EQ(count("\nwith: {view: " + std::string(view) + "}"), 2) << view;
}

TEST(EndAbovePlace, IsFromCentreToCentre) {
    const HeldRule rule{
        "measure: end_above_place\nof: {role: door_bar}\nwith: {place: side_end, end: rear}\nbetween: [-50, "
        "100]",
        "places:\n  side_end: {front_of: {role: sill_bar}}\n"};
    const auto with = [](double over) {
        return onlyBars({straight("sill", "sill_bar", {-700, 600, 300}, {0, 600, 350}),
                         straight("bar", "door_bar", {0, 600, 350 + over}, {900, 500, 200})});
    };
    expectLimit(rule, with, 100, 99.9, 100.1);
    expectLimit(rule, with, -50, -49.9, -50.1);
    expectNotApplying(rule, onlyBars({}));
    EXPECT_EQ(worst(without(with(0), "sill_bar"), rule), Answer::cannot_tell);
}

TEST(RearFaceAhead, IsWhereTheBarCrossesTheMiddle) {
    const HeldRule rule{"measure: rear_face_ahead\nof: {role: dash_bar}\nwith: {place: rim}\nat_most: 250",
                        "places:\n  rim: {car: rim}\n"};
    // From y = 600 back to y = -600 ahead: at a slant of 30 degrees the tube is 22.5 / cos 30 long in the
    // middle.
    const auto with = [](double ahead, double slant_deg) {
        const double x = 400 + ahead + 22.5 / std::cos(slant_deg * kDegree),
                     run = 600 * std::tan(slant_deg * kDegree);
        Job job = onlyBars({straight("dash", "dash_bar", {x - run, 600, 700}, {x + run, -600, 700})});
        job.car.points.push_back({"rim", {400, 300, 650}, 0, ""});
        return job;
    };
    for (const double slant : {0.0, 30.0})
        expectLimit(
            rule, [&](double ahead) { return with(ahead, slant); }, 250, 249.9, 250.1);
    // One that rises as it crosses is no longer fore and aft.
    Job rising = with(250, 0);
    rising.cage.members[0].path[1].place = FixedPoint{{672.5, -600, 1000}};
    EXPECT_EQ(worst(rising, rule), Answer::meets);
    Job short_of_it = with(0, 0);
    short_of_it.cage.members[0].path[1].place = FixedPoint{{600, 100, 700}};
    expectNotApplying(rule, short_of_it);
    Job no_rim = with(0, 0);
    no_rim.car.points.pop_back();
    EXPECT_EQ(worst(no_rim, rule), Answer::cannot_tell);
}

TEST(MiddleToOutside, IsToTheNearerSide) {
    const HeldRule rule{"measure: middle_to_outside\nwith: {members: {role: main_hoop}}\nat_least: 400"};
    // Legs that lean in by 0.1: the ring a level plane cuts is wider than the tube. Middle of the shoulders
    // at 300.
    const double half = 22.5 * std::sqrt(1.01);
    const auto with = [&](double out) {
        const double left = 300 + out - half;
        return [&] {
            Job job = smallJob();
            job.cage.plates.clear();
            job.cage.members = {straight("left", "main_hoop", {0, left + 64, 0}, {0, left - 36, 1000}),
                                straight("right", "main_hoop", {0, -700, 0}, {0, -700, 1000}),
                                // Nearer, but it is not asked about.
                                straight("inner", "door_bar", {0, 400, 0}, {0, 400, 1000})};
            return job;
        }();
    };
    expectLimit(rule, with, 400, 400.1, 399.9);
    EXPECT_EQ(worst(without(with(400), "main_hoop"), rule), Answer::cannot_tell);
    Job nobody = with(400);
    nobody.drivers.clear();
    EXPECT_EQ(worst(nobody, rule), Answer::cannot_tell);
}

TEST(Places, TheBottomOfAHoopIsBothItsFeet) {
    const Job job =
        onlyBars({[] {
                      Member hoop = straight("hoop", "main_hoop", {0, 600, 0}, {0, -600, 0});
                      hoop.path.insert(hoop.path.begin() + 1,
                                       {{FixedPoint{{0, 600, 1000}}, {}}, {FixedPoint{{0, -600, 1000}}, {}}});
                      return hoop;
                  }(),
                  straight("bar", "sill_bar", {0, -600, 30}, {900, -600, 30})});
    const Finding f =
        finding(job, "measure: end_to_place\nof: {role: sill_bar}\nwith: {place: low}\nat_most: 50",
                "places:\n  low: {bottom_of: {role: main_hoop}}\n");
    ASSERT_TRUE(f.value) << f.missing;
    EXPECT_NEAR(*f.value, 30, 1e-9);
}

}  // namespace
}  // namespace hoopwright::test
