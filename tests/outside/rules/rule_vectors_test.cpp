// Limits of several published books, written as rules and held on, inside and outside. Each was read in the
// stored text of the document named beside it; limits only second hand or from memory are not here.
#include <cmath>

#include "core/base/text.h"
#include "tests/rules/test_cage.h"

namespace hoopwright::test {
namespace {

Answer worst(const Job& job, const std::string& says, const std::string& sections = "") {
    Answer out = Answer::does_not_apply;
    for (const Finding& f : findings(job, says, sections)) out = std::min(out, f.answer);
    return out;
}

/// A leaning straight bar with its foot at the origin.
Job leaning(double degrees) {
    Job job = smallJob();
    const double a = degrees * M_PI / 180;
    job.cage.members = {
        straight("bar", "rear_brace", {0, 600, 0}, {1000 * std::sin(a), 600, 1000 * std::cos(a)})};
    return job;
}

// Motorsport UK National Competition Rules 2026, chapter 7 appendix 3, 8.1; Nordic formula off-road 2006,
// appendix B: a backstay at least 30 degrees from vertical.
TEST(BackstayAngle, AtLeastThirtyDegreesFromVertical) {
    const std::string rule =
        "measure: angle_to_vertical\nof: {role: rear_brace}\nwith: {view: side}\nat_least: 30 deg";
    EXPECT_EQ(worst(leaning(30), rule), Answer::meets);
    EXPECT_EQ(worst(leaning(30.01), rule), Answer::meets);
    EXPECT_EQ(worst(leaning(29.99), rule), Answer::fails);
    // The same limit said from level, as single-seater texts have it.
    const std::string level =
        "measure: angle_to_horizontal\nof: {role: rear_brace}\nwith: {view: side}\nat_most: 60 deg";
    EXPECT_EQ(worst(leaning(30), level), Answer::meets);
    EXPECT_EQ(worst(leaning(29.99), level), Answer::fails);
}

// Motorsport UK 2026, chapter 7 appendix 3, 20.1: 45 x 2.5 mm (1.75 x 0.095 in) or 50 x 2.0 mm (2.0 x 0.083
// in); the inch forms are a little smaller or larger, so a row must take either.
TEST(MandatoryTube, EitherFormWillDo) {
    const std::string tubes =
        "tubes:\n  t: {any_of: [{od: 45, wall: 2.5}, {od: 1.75 in, wall: 0.095 in}, {od: 50, wall: 2.0}, "
        "{od: 2.0 in, wall: 0.083 in}]}\n";
    const auto with = [&](double od, double wall) {
        Job job = smallJob();
        job.stock.tubes[0].section = {od, wall};
        return worst(job, "measure: tube\nof: {role: main_hoop}\nfits: t", tubes);
    };
    EXPECT_EQ(with(45, 2.5), Answer::meets);
    EXPECT_EQ(with(44.45, 2.413), Answer::meets);
    EXPECT_EQ(with(44.44, 2.6), Answer::fails);
    EXPECT_EQ(with(46, 2.41), Answer::fails);
    EXPECT_EQ(with(50, 2.0), Answer::meets);
    EXPECT_EQ(with(50, 1.99), Answer::fails);
}

// Motorsport UK 2026, chapter 7 appendix 3, 9.3: ends of a diagonal not farther than 100 mm from foot and
// backstay joint.
TEST(DiagonalEnds, NotFartherThanAHundred) {
    const std::string places = "places:\n  foot: {foot_of: {role: main_hoop}}\n";
    const auto with = [&](double height) {
        Job job = smallJob();
        std::get<Landing>(memberOf(job, "diagonal").path[1].place).value = height;
        return worst(
            job,
            "measure: end_to_place\nof: {role: hoop_diagonal}\nwith: {place: foot, end: lower}\nat_most: 100",
            places);
    };
    EXPECT_EQ(with(100), Answer::meets);
    EXPECT_EQ(with(99.9), Answer::meets);
    EXPECT_EQ(with(100.1), Answer::fails);
}

// Motorsport UK 2026, chapter 7 appendix 3, 3.3: the cage stays between two stations of the car; backstays
// may pass the rear one.
TEST(Extent, BackstaysMayPassTheRearStation) {
    const auto with = [](double x, const std::string& of) {
        Job job = smallJob();
        job.car.points.push_back({"rear_mount", {x, 0, 0}, 0, ""});
        return worst(job, "measure: behind\nof: {not: {role: " + of + "}}\nwith: {place: rear}\nat_most: 0",
                     "places:\n  rear: {car: rear_mount}\n");
    };
    EXPECT_EQ(with(-22.5, "rear_brace"), Answer::meets);  // the hoop's rear face
    EXPECT_EQ(with(-22.6, "rear_brace"), Answer::meets);
    EXPECT_EQ(with(-22.4, "rear_brace"), Answer::fails);
    EXPECT_EQ(with(-22.5, "side_bar"), Answer::fails);  // the backstays, not exempt now
}

// Motorsport UK 2026, chapter 7 appendix 3, 20.3: centreline radius at least 3 x OD.
TEST(BendRadius, ThreeDiameters) {
    const auto with = [](double radius) {
        Job job = smallJob();
        memberOf(job, "main_hoop").bend_radius_mm = radius;
        return worst(job, "measure: bend_radius_over_od\nof: {role: main_hoop}\nat_least: 3");
    };
    EXPECT_EQ(with(135), Answer::meets);
    EXPECT_EQ(with(135.1), Answer::meets);
    EXPECT_EQ(with(134.9), Answer::fails);
}

/// Braces and straights of the small cage replaced by one bar of two straights of the given length each.
Job kinked(double half_length, double degrees) {
    Job job = smallJob();
    const double a = degrees * M_PI / 180;
    Member m = straight("bar", "side_bar", {0, 600, 500},
                        {half_length * (1 + std::cos(a)), 600, 500 + half_length * std::sin(a)});
    m.path.insert(m.path.begin() + 1, {FixedPoint{{half_length, 600, 500}}, 135.0});
    job.cage.members = {m};
    return job;
}

// Summary of the Baja SAE frame rules of about 2016: straight bars at most 1016 mm between named points, bent
// ones at most 711 mm and 30 degrees.
TEST(FreeLength, OfStraightAndBentBars) {
    const auto straightAt = [](double length) {
        Job job = smallJob();
        job.cage.members = {straight("bar", "side_bar", {0, 0, 0}, {length, 0, 0})};
        return worst(job, "measure: unsupported_length\nwith: {spans: straight}\nat_most: 1016");
    };
    EXPECT_EQ(straightAt(1016), Answer::meets);
    EXPECT_EQ(straightAt(1015.9), Answer::meets);
    EXPECT_EQ(straightAt(1016.1), Answer::fails);
    EXPECT_EQ(worst(kinked(300, 20), "measure: unsupported_length\nwith: {spans: straight}\nat_most: 100"),
              Answer::does_not_apply);
    EXPECT_EQ(worst(kinked(355, 20), "measure: unsupported_length\nwith: {spans: bent}\nat_most: 711"),
              Answer::meets);
    EXPECT_EQ(worst(kinked(357, 20), "measure: unsupported_length\nwith: {spans: bent}\nat_most: 711"),
              Answer::fails);
}
TEST(FreeBend, AtMostThirtyDegrees) {
    const std::string rule = "measure: greatest_bend\nof: {bent: yes}\nat_most: 30 deg";
    EXPECT_EQ(worst(kinked(300, 30), rule), Answer::meets);
    EXPECT_EQ(worst(kinked(300, 29.99), rule), Answer::meets);
    EXPECT_EQ(worst(kinked(300, 30.01), rule), Answer::fails);
}

/// The small cage's hoop leaning back, 1000 mm high.
Job hoopLeaning(double degrees) {
    Job job = smallJob();
    const double x = -1000 * std::tan(degrees * M_PI / 180);
    memberOf(job, "main_hoop").path[1].place = FixedPoint{{x, 600, 1000}};
    memberOf(job, "main_hoop").path[2].place = FixedPoint{{x, -600, 1000}};
    return job;
}

// Summary of the Baja SAE frame rules of about 2016: the rear hoop at most 20 degrees from vertical, 20
// itself allowed; at least 736 mm wide at 686 mm above the seat.
TEST(RearHoop, LeansUpToTwentyDegrees) {
    const std::string rule = "measure: lean\nof: {role: main_hoop}\nbetween: [-20, 20]";
    EXPECT_EQ(worst(hoopLeaning(20), rule), Answer::meets);
    EXPECT_EQ(worst(hoopLeaning(19.99), rule), Answer::meets);
    EXPECT_EQ(worst(hoopLeaning(20.01), rule), Answer::fails);
    EXPECT_EQ(worst(hoopLeaning(-20.01), rule), Answer::fails);
}
TEST(RearHoop, IsWideAtTheShoulders) {
    const std::string places =
        "places:\n  seat: {driver: hip}\n";  // hip point stands in for the seat's inside bottom
    const auto with = [&](double half) {
        Job job = smallJob();
        job.drivers[0].hip.z() = 100;
        auto& path = memberOf(job, "main_hoop").path;
        path = {{FixedPoint{{0, half, 0}}, {}},
                {FixedPoint{{0, half, 1000}}, {}},
                {FixedPoint{{0, -half, 1000}}, {}},
                {FixedPoint{{0, -half, 0}}, {}}};
        return worst(
            job,
            "measure: inside_width\nof: {role: main_hoop}\nwith: {above: seat, height: 686}\nat_least: 736",
            places);
    };
    EXPECT_EQ(with(368 + 22.5), Answer::meets);
    EXPECT_EQ(with(368 + 22.6), Answer::meets);
    EXPECT_EQ(with(368 + 22.4), Answer::fails);
}

// Summary of the Baja SAE frame rules of about 2016 and its official answers of 2009: helmet 152 mm and body
// 76 mm inside a straightedge laid on any two outside points of the cage.
TEST(Straightedge, HelmetAndBody) {
    const auto at = [](const std::string& part, double y, double limit) {
        Job job = smallJob();
        job.drivers[0].helmet.centre = {250, y - 130, 400};
        job.drivers[0].elbow_left = {350, y, 400};
        return worst(job, "measure: inside_envelope\nwith: {part: " + part +
                              ", towards: sides}\nat_least: " + shortest(limit));
    };
    EXPECT_EQ(at("helmet", 622.5 - 152, 152), Answer::meets);
    EXPECT_EQ(at("helmet", 622.5 - 152.1, 152), Answer::meets);
    EXPECT_EQ(at("helmet", 622.5 - 151.9, 152), Answer::fails);
    EXPECT_EQ(at("elbow", 622.5 - 76, 76), Answer::meets);
    EXPECT_EQ(at("elbow", 622.5 - 76.1, 76), Answer::meets);
    EXPECT_EQ(at("elbow", 622.5 - 75.9, 76), Answer::fails);
}

/// Height of the shoulder, 200 mm ahead of a bar of 45 at 560, whose strap touches the bar falling so much.
double shoulderOver(double degrees) {
    const double fall = degrees * M_PI / 180;
    return 560 + 200 * std::tan(fall) + 22.5 / std::cos(fall);
}

// New Zealand Speedway rule book 2010, page 93: shoulder belts fall 1 to 10 degrees; page 213: helmet at
// least 50 mm from any part of the cage.
TEST(SpeedwayBelts, FallOneToTenDegrees) {
    const auto with = [](double degrees) {
        Job job = smallJob();
        for (Vec3* shoulder : {&job.drivers[0].shoulder_left, &job.drivers[0].shoulder_right})
            shoulder->z() = shoulderOver(degrees);
        return worst(job, "measure: belt_angle\nbetween: [1, 10]");
    };
    EXPECT_EQ(with(1), Answer::meets);
    EXPECT_EQ(with(0.99), Answer::fails);
    EXPECT_EQ(with(1.01), Answer::meets);
    EXPECT_EQ(with(10), Answer::meets);
    EXPECT_EQ(with(10.01), Answer::fails);
}
TEST(SpeedwayHelmet, FiftyFromAnyPart) {
    const auto with = [](double gap) {
        Job job = smallJob();
        job.cage.members = {straight("roof", "roof_bar", {250, -400, 942.5 + gap}, {250, 800, 942.5 + gap})};
        return worst(job, "measure: clearance\nwith: {part: helmet}\nat_least: 50");
    };
    EXPECT_EQ(with(50), Answer::meets);
    EXPECT_EQ(with(50.1), Answer::meets);
    EXPECT_EQ(with(49.9), Answer::fails);
}

// Nordic formula off-road 2006, appendix B: a centre bar in the rear hoop if the hoop is wider than 100 cm;
// six points.
TEST(CentreBar, OnlyInAWideHoop) {
    const auto with = [](double limit) {
        return worst(
            smallJob(),
            "only_if:\n  - {measure: inside_width, of: {role: main_hoop}, with: {height: 300}, more_than: " +
                shortest(limit) + "}\nmeasure: member_count\nof: {role: roof_bar}\nat_least: 1");
    };
    EXPECT_EQ(with(1155), Answer::does_not_apply);  // the hoop is 1155 inside: not more than it
    EXPECT_EQ(with(1154.9), Answer::fails);
}
TEST(SixPoints, AtLeast) {
    Job job = smallJob();
    EXPECT_EQ(worst(job, "measure: plate_count\nat_least: 6"), Answer::meets);
    EXPECT_EQ(worst(job, "measure: plate_count\nat_least: 7"), Answer::fails);
    EXPECT_EQ(worst(job, "measure: plate_count\nat_least: 5"), Answer::meets);
}

// Appendix J article 253, 6.2 (2013 edition): shoulder straps at most 45 degrees below level, not more than
// 10 recommended.
TEST(StrapAdvice, IsARecommendationBesideALimit) {
    Job job = smallJob();
    for (Vec3* shoulder : {&job.drivers[0].shoulder_left, &job.drivers[0].shoulder_right})
        shoulder->z() = shoulderOver(20);
    const CheckReport report = checkWith(
        job, tableText(ruleText("measure: belt_angle\nat_most: 45", "limit") +
                       ruleText("severity: recommended\nmeasure: belt_angle\nat_most: 10", "advice")));
    ASSERT_EQ(report.findings.size(), 2u);
    EXPECT_EQ(report.findings[0].answer, Answer::meets);
    EXPECT_EQ(report.findings[1].answer, Answer::fails);
    EXPECT_EQ(report.findings[1].severity, Severity::recommended);
    EXPECT_TRUE(report.allMeet());
    const auto with = [&](double degrees) {
        Job tilted = smallJob();
        for (Vec3* shoulder : {&tilted.drivers[0].shoulder_left, &tilted.drivers[0].shoulder_right})
            shoulder->z() = shoulderOver(degrees);
        return worst(tilted, "measure: belt_angle\nat_most: 45");
    };
    EXPECT_EQ(with(45), Answer::meets);
    EXPECT_EQ(with(45.01), Answer::fails);
}

// The same article: seen from above, the straps converge or diverge by at most 20 degrees.
TEST(StrapSpread, TwentyDegreesInPlan) {
    const auto with = [](double degrees) {
        Job job = smallJob();
        // Level straps, so that they touch the bar right over its middle, 200 mm behind the shoulders.
        for (Vec3* shoulder : {&job.drivers[0].shoulder_left, &job.drivers[0].shoulder_right})
            shoulder->z() = 582.5;
        job.drivers[0].belts.spacing_mm = 360 - 2 * 200 * std::tan(degrees * M_PI / 180);
        return worst(job, "measure: belt_plan_angle\nat_most: 20");
    };
    EXPECT_EQ(with(20), Answer::meets);
    EXPECT_EQ(with(19.9), Answer::meets);
    EXPECT_EQ(with(20.1), Answer::fails);
    EXPECT_EQ(with(-20.1), Answer::fails);
}

// French endurance technical rules 2020-21, article 1.1: 10 to 45 degrees below the shoulder; advice of a
// drag racing magazine of 2007: 0 to 10.
TEST(StrapFall, InsideAndOutsideOtherPublishedRanges) {
    const auto with = [](double degrees, const std::string& between) {
        Job job = smallJob();
        for (Vec3* shoulder : {&job.drivers[0].shoulder_left, &job.drivers[0].shoulder_right})
            shoulder->z() = shoulderOver(degrees);
        return worst(job, "measure: belt_angle\nbetween: " + between);
    };
    EXPECT_EQ(with(9.99, "[10, 45]"), Answer::fails);
    EXPECT_EQ(with(10, "[10, 45]"), Answer::meets);
    EXPECT_EQ(with(45, "[10, 45]"), Answer::meets);
    EXPECT_EQ(with(-0.01, "[0, 10]"), Answer::fails);
    EXPECT_EQ(with(0, "[0, 10]"), Answer::meets);
    EXPECT_EQ(with(10.01, "[0, 10]"), Answer::fails);
}

// Formula SAE Rules 2014: shoulder belts mounted 178 to 229 mm apart; the book of 2024 has other figures.
TEST(StrapSpacing, OfAnOlderYear) {
    const auto with = [](double spacing) {
        Job job = smallJob();
        job.drivers[0].belts.spacing_mm = spacing;
        return worst(job, "measure: belt_spacing\nbetween: [178, 229]");
    };
    for (const double meets : {178.0, 178.1, 228.9, 229.0}) EXPECT_EQ(with(meets), Answer::meets) << meets;
    for (const double fails : {177.9, 229.1}) EXPECT_EQ(with(fails), Answer::fails) << fails;
}

// New Zealand Speedway 2010, page 93: the guide at most 250 mm behind the seat's back.
TEST(StrapGuide, BehindTheSeat) {
    const auto with = [](double behind) {
        Job job = smallJob();
        Driver& d = job.drivers[0];
        d.belts.bar.clear();
        d.seat = Seat{600, 400, {150, 400, 620}, {150, 200, 620}};
        d.belts.shoulder_anchors = StrapAnchors{{150 - behind, 400, 620}, {150 - behind, 200, 620}};
        return worst(job, "measure: belt_behind_seat\nat_most: 250");
    };
    EXPECT_EQ(with(250), Answer::meets);
    EXPECT_EQ(with(250.1), Answer::fails);
}

}  // namespace
}  // namespace hoopwright::test
