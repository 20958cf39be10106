// What the rules measured on the demo cages, worked out a second time: by hand from the figures in the demo
// files, or by trying many points of what resolve() made.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "core/shop/joint_cope.h"
#include "demo_job.h"

namespace hoopwright {
namespace {

const char* const kSaloon = "hillclimb_saloon.yaml";
const char* const kPickup = "mile_pickup.yaml";
constexpr double kStep_mm = 2;  ///< between points tried along a bar
constexpr double kInch = 25.4;

/// The finding of one rule, everything else of the table as it must be.
Finding found(const DemoJob& demo, const std::string& says, const std::string& sections = "") {
    const std::string text =
        "hoopwright: rules\nversion: 1\nid: again\ntitle: T\nedition: '1'\nwritten_by: W\npublished: no\n"
        "units: mm\nadvice: A.\n" +
        sections + "\nrules:\n  - {id: r, title: T, sentence: S., " + says + "}\n";
    const RuleTableResult read = readRuleTableText(text, "again.yaml");
    if (!read.table) throw std::runtime_error(read.problems.front().text());
    const RuleTableRef tables[] = {read.table};
    const CheckReport report = check(tables, demo.job, demo.cage);
    EXPECT_EQ(report.findings.size(), 1u) << says;
    return report.findings.front();
}
double value(const DemoJob& demo, const std::string& says, const std::string& sections = "") {
    const Finding finding = found(demo, says, sections);
    EXPECT_TRUE(finding.value) << says << ": " << finding.missing;
    return finding.value.value_or(NAN);
}
DemoJob withOnly(DemoJob demo, const std::string& driver) {
    std::erase_if(demo.job.drivers, [&](const Driver& d) { return d.id != driver; });
    return demo;
}

const ResolvedMember& bar(const DemoJob& demo, const std::string& id) {
    return demo.cage.members[static_cast<std::size_t>(demo.cage.member(id))];
}
std::vector<Vec3> pointsOf(const ResolvedMember& member, double step_mm) {
    std::vector<Vec3> out;
    const int count = static_cast<int>(std::ceil(member.line.length_mm() / step_mm));
    for (int i = 0; i <= count; ++i) out.push_back(member.line.point(member.line.length_mm() * i / count));
    return out;
}

// Tall driver: shoulders at (98, 579); belt bar of 38 mm with its middle at (-130, 515).
TEST(SecondLook, BeltsOfTheSaloon) {
    const DemoJob demo = withOnly(demoJob(kSaloon), "tall");
    EXPECT_NEAR(value(demo, "measure: belt_bar_below_shoulder, at_least: -9"), 579 - (515 + 19), 0.01);
    // 228 ahead of the bar's middle and 64 over it; the strap touches the bar.
    EXPECT_NEAR(value(demo, "measure: belt_angle, at_most: 90"),
                std::atan2(64.0, 228.0) - std::asin(19 / std::hypot(64, 228)), 1e-4);
    // Hip (310, 55), lap anchors (230, -90).
    EXPECT_NEAR(value(demo, "measure: lap_angle, at_least: 0"), std::atan2(55 + 90.0, 310 - 230.0), 1e-9);
}

// Hoop of 45 mm, drawn through z = 972; the braces land on it at 940.
TEST(SecondLook, BracesOfTheSaloon) {
    const DemoJob demo = demoJob(kSaloon);
    EXPECT_NEAR(
        value(
            demo,
            "measure: end_below_place, of: {role: rear_brace}, with: {place: top, end: upper}, at_most: 900",
            "places:\n  top: {top_of: {role: main_hoop}}\n"),
        972 + 22.5 - 940, 0.01);
    const ResolvedMember& brace = bar(demo, "rear_brace.left");
    const Vec3 way = brace.line.end() - brace.line.start();
    EXPECT_NEAR(
        value(demo, "measure: angle_to_vertical, of: {role: rear_brace}, with: {view: side}, at_least: 0"),
        std::acos(std::abs(way.z()) / std::hypot(way.x(), way.z())), 1e-9);
}

TEST(SecondLook, FeetOfTheSaloon) {
    const DemoJob demo = demoJob(kSaloon);
    EXPECT_NEAR(value(demo, "measure: plate_area, of: {under: {role: main_hoop}}, at_least: 1 cm2"),
                150 * 110, 1e-6);
    EXPECT_NEAR(value(demo, "measure: plate_least_side, of: {under: {role: rear_brace}}, at_least: 1"), 90,
                1e-9);
}

// Turns of the lines drawn for the hoop, corner by corner.
TEST(SecondLook, BendsOfTheHoops) {
    for (const char* job : {kSaloon, kPickup}) {
        const DemoJob demo = demoJob(job);
        const ResolvedMember& hoop = bar(demo, "main_hoop");
        std::vector<Vec3> drawn = {hoop.line.start()};
        for (const MemberPoint& p : demo.job.cage.members[static_cast<std::size_t>(hoop.layout)].path)
            if (const auto* fixed = std::get_if<FixedPoint>(&p.place)) drawn.push_back(fixed->at);
        drawn.push_back(hoop.line.end());
        double turns = 0;
        for (std::size_t i = 1; i + 1 < drawn.size(); ++i)
            turns +=
                std::acos((drawn[i] - drawn[i - 1]).normalized().dot((drawn[i + 1] - drawn[i]).normalized()));
        EXPECT_NEAR(value(demo, "measure: bend_sum, of: {role: main_hoop}, at_least: 0"), turns, 1e-6) << job;
    }
}

// The upper door bar of the pickup is straight: its height between its ends is in proportion.
TEST(SecondLook, DoorBarAtTheElbowOfThePickup) {
    const DemoJob demo = withOnly(demoJob(kPickup), "tall");
    const ResolvedMember& door = bar(demo, "door_bar_upper.left");
    const Vec3 a = door.line.start(), b = door.line.end();
    const double x = 16 * kInch, z = a.z() + (b.z() - a.z()) * (x - a.x()) / (b.x() - a.x());
    const std::string says =
        "measure: height_at, of: {role: door_bar, side: driver, having: [{measure: top_height, at_least: "
        "500}]}, "
        "with: {place: elbow}, at_least: -900";
    EXPECT_NEAR(value(demo, says, "places:\n  elbow: {driver: elbow}\n"), z - 20 * kInch, 1e-6);
    EXPECT_GT(z, 20 * kInch);
}

// Lengths of chords 2 mm long; the wall of each bar from the stock list; 7850 kg/m3 as EN 10305-1 has it. The
// copes take a few hundredths off that, and as much as the lengths of the cope sheets say.
TEST(SecondLook, MassOfTheTubes) {
    for (const char* job : {kSaloon, kPickup}) {
        const DemoJob demo = demoJob(job);
        double mass = 0, finished = 0;
        for (std::size_t m = 0; m < demo.cage.members.size(); ++m) {
            const ResolvedMember& member = demo.cage.members[m];
            const auto points = pointsOf(member, kStep_mm);
            double length = 0;
            for (std::size_t i = 1; i < points.size(); ++i) length += (points[i] - points[i - 1]).norm();
            const TubeStock& tube = demo.job.stock.tubes[static_cast<std::size_t>(member.stock)];
            const double inner = tube.section.od_mm - 2 * tube.section.wall_mm;
            const double kg_per_mm =
                M_PI / 4 * (tube.section.od_mm * tube.section.od_mm - inner * inner) * 7850e-9;
            const CutLength cut = cutLength(demo.cage, static_cast<int>(m));
            mass += kg_per_mm * length;
            finished += kg_per_mm * (length - (cut.centre_mm - cut.mean_mm));
        }
        const double said = value(demo, "measure: tube_mass, at_least: 1 kg");
        EXPECT_NEAR(said, finished, 0.01) << job;
        EXPECT_LT(said, 0.99 * mass) << job;
        EXPECT_GT(said, 0.95 * mass) << job;
    }
}

// Where bars end on the hoop, found by trying every point of it.
TEST(SecondLook, FreeLengthOfTheHoop) {
    for (const char* job : {kSaloon, kPickup}) {
        const DemoJob demo = demoJob(job);
        const int index = demo.cage.member("main_hoop");
        const ResolvedMember& hoop = demo.cage.members[static_cast<std::size_t>(index)];
        const auto points = pointsOf(hoop, 0.5);
        const double step = hoop.line.length_mm() / static_cast<double>(points.size() - 1);
        std::vector<double> held = {0, hoop.line.length_mm()};
        for (const ResolvedMember& member : demo.cage.members) {
            for (const ResolvedEnd& end : member.ends) {
                const bool also = std::find(end.also.begin(), end.also.end(), index) != end.also.end();
                if (end.host != index && !also) continue;
                const auto nearest =
                    std::min_element(points.begin(), points.end(), [&](const Vec3& p, const Vec3& q) {
                        return (p - end.at).squaredNorm() < (q - end.at).squaredNorm();
                    });
                held.push_back(step * static_cast<double>(nearest - points.begin()));
            }
        }
        std::sort(held.begin(), held.end());
        double longest = 0;
        for (std::size_t i = 1; i < held.size(); ++i) longest = std::max(longest, held[i] - held[i - 1]);
        EXPECT_NEAR(value(demo, "measure: unsupported_length, of: {role: main_hoop}, at_most: 9000"), longest,
                    0.6)
            << job;
    }
}

/// Directions spread evenly over a ball, along a spiral.
std::vector<Vec3> directions(int count) {
    std::vector<Vec3> out;
    for (int i = 0; i < count; ++i) {
        const double z = 1 - (2 * i + 1) / static_cast<double>(count), turn = i * 2.39996322972865332;
        const double r = std::sqrt(1 - z * z);
        out.push_back({r * std::cos(turn), r * std::sin(turn), z});
    }
    return out;
}

// Every pair of a point of the helmet and a point of a bar near it.
TEST(SecondLook, HelmetToTheNearestBar) {
    for (const char* job : {kSaloon, kPickup}) {
        const DemoJob demo = withOnly(demoJob(job), "tall");
        const Helmet& helmet = demo.job.drivers[0].helmet;
        const Vec3 half(helmet.length_mm / 2, helmet.width_mm / 2, helmet.height_mm / 2);
        std::vector<Vec3> surface;
        for (const Vec3& n : directions(20000)) surface.push_back(helmet.centre + half.cwiseProduct(n));
        double least = 1e300;
        for (const ResolvedMember& member : demo.cage.members) {
            for (const Vec3& p : pointsOf(member, kStep_mm)) {
                if ((p - helmet.centre).norm() > 320) continue;
                for (const Vec3& s : surface) least = std::min(least, (p - s).norm() - member.radius_mm());
            }
        }
        const double measured = value(demo, "measure: clearance, with: {part: helmet}, at_least: -900");
        EXPECT_LE(measured, least + 1e-6) << job;
        EXPECT_GE(measured, least - 0.2) << job;  // points of the helmet are up to 4 mm apart
    }
}

// The sheet over the bars is as far out, in any direction, as the farthest point of a bar.
TEST(SecondLook, HelmetInsideTheSheet) {
    for (const char* job : {kSaloon, kPickup}) {
        const DemoJob demo = withOnly(demoJob(job), "tall");
        const Helmet& helmet = demo.job.drivers[0].helmet;
        const Vec3 half(helmet.length_mm / 2, helmet.width_mm / 2, helmet.height_mm / 2);
        std::vector<std::pair<Vec3, double>> points;
        for (const ResolvedMember& member : demo.cage.members)
            for (const Vec3& p : pointsOf(member, 20)) points.emplace_back(p, member.radius_mm());
        double least = 1e300;
        for (const Vec3& n : directions(20000)) {
            double reach = -1e300;
            for (const auto& [p, radius] : points) reach = std::max(reach, p.dot(n) + radius);
            least = std::min(least, reach - helmet.centre.dot(n) - half.cwiseProduct(n).norm());
        }
        const double measured = value(demo, "measure: inside_envelope, with: {part: helmet}, at_least: -900");
        EXPECT_LE(measured, least + 0.5) << job;  // points 20 mm apart may miss a bend's outermost one
        EXPECT_GE(measured, least - 6) << job;    // directions are up to 0.8 degrees apart
    }
}

}  // namespace
}  // namespace hoopwright
