#include "core/model/resolve.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "core/model/end_hosts.h"
#include "tests/core/model/cage_checks.h"
#include "tests/core/model/small_cage.h"
#include "tests/degrees.h"

namespace hoopwright {
namespace {

using namespace testing;
using Kind = GeometryProblem::Kind;

const double kNan = std::numeric_limits<double>::quiet_NaN();

/// One member with this path and nothing else.
Job oneBar(std::vector<MemberPoint> path) {
    Job job = emptyJob();
    job.cage.members = {bar("bar", std::move(path))};
    return job;
}

TEST(Resolve, AWholeHoopHasNoProblems) {
    const CageGeometry cage = resolve(hoopJob());
    EXPECT_EQ(allTexts(cage), "");
    ASSERT_EQ(cage.members.size(), 4u);
    EXPECT_EQ(cage.members[1].id, "rear_brace.left");
    EXPECT_EQ(cage.members[2].id, "rear_brace.right");
    EXPECT_EQ(cage.members[1].name, "Rear brace, left");
    EXPECT_EQ(cage.joints.size(), 4u);
    EXPECT_EQ(cage.totals.bends, 2);
    EXPECT_EQ(cage.plates[0].feet, (std::vector<std::pair<int, int>>{{0, 0}}));
    EXPECT_EQ(cage.plates[1].feet, (std::vector<std::pair<int, int>>{{0, 1}}));
}

TEST(Resolve, TotalsAddUp) {
    const CageGeometry cage = resolve(hoopJob());
    double length = 0, mass = 0, plates = 0;
    for (const ResolvedMember& member : cage.members) {
        length += member.line.length_mm();
        double finished_mm = member.line.length_mm();
        for (const ResolvedEnd& end : member.ends) {
            const CopeEnd at{end.at, -end.outward, end.outward.unitOrthogonal(), member.radius_mm(),
                             member.section.bore_mm() / 2};
            if (const auto cut = cope(at, hostsOf(cage, end), 36)) finished_mm -= cut->mean_cut_mm;
        }
        EXPECT_LT(finished_mm, member.line.length_mm() + 1e-9) << member.id;
        EXPECT_NEAR(member.mass_kg, finished_mm / 1000 * member.section.mass_kg_per_m(7850), 1e-9);
        mass += member.mass_kg;
    }
    for (const ResolvedPlate& plate : cage.plates) plates += plate.mass_kg;
    EXPECT_EQ(cage.totals.members, 4);
    EXPECT_EQ(cage.totals.joints, 4);
    EXPECT_NEAR(cage.totals.tube_length_mm, length, 1e-9);
    EXPECT_NEAR(cage.totals.tube_mass_kg, mass, 1e-9);
    EXPECT_NEAR(cage.totals.plate_mass_kg, plates, 1e-12);
}

TEST(Resolve, RadiusComesFromThePointThenTheMemberThenTheDie) {
    Job job = oneBar({at(0, 0, 0), at(0, 0, 600), at(600, 0, 600), at(600, 600, 600)});
    job.dies.dies.push_back({"d45_wide", 45, 150, 90, 60, 2.1});
    job.dies.dies.push_back({"d45_wider", 45, 170, 90, 60, 2.1});
    const auto radii = [&] {
        std::vector<double> out;
        const CageGeometry cage = resolve(job);
        EXPECT_EQ(allTexts(cage), "");
        for (const Piece& piece : cage.members.at(0).line.pieces()) {
            if (piece.kind == Piece::Kind::bend) out.push_back(piece.radius_mm);
        }
        return out;
    };
    EXPECT_EQ(radii(), (std::vector<double>{135, 135}));
    job.cage.members[0].bend_radius_mm = 150;
    EXPECT_EQ(radii(), (std::vector<double>{150, 150}));
    job.cage.members[0].path[2].bend_radius_mm = 170;
    EXPECT_EQ(radii(), (std::vector<double>{150, 170}));
}

TEST(Resolve, ACarPointMeasuredOnOneSideServesBoth) {
    Job job = emptyJob();
    job.car.symmetric = true;
    job.car.points = {{"sill.left", {100, 700, -50}, 0, ""},
                      {"pillar.left", {0, 600, 800}, 0, ""},
                      {"pillar.right", {10, -590, 805}, 0, ""}};
    job.cage.members = {pair(
        "post", {{AtCarPoint{"sill.left", {0, -60, 10}}, {}}, {AtCarPoint{"pillar.left", {0, -40, 0}}, {}}})};
    const CageGeometry cage = resolve(job);
    EXPECT_EQ(allTexts(cage), "");
    EXPECT_TRUE(near(memberOf(cage, "post.left").ends[0].at, {100, 640, -40}));
    EXPECT_TRUE(near(memberOf(cage, "post.right").ends[0].at, {100, -640, -40}));
    EXPECT_TRUE(near(memberOf(cage, "post.right").ends[1].at, {10, -550, 805}))
        << "measured on the right: taken as it is";
}

TEST(Resolve, AMirroredPlateTurnsItsAxesAndOffsetsOver) {
    Job job = emptyJob();
    Plate foot = footPlate("foot", 0, 500, 0);
    foot.normal = {0, -0.6, 0.8};
    foot.outline = {{-80, -50}, {60, -50}, {60, 70}, {-80, 70}};
    job.cage.plates = {foot};
    job.cage.members = {pair("leg", {onPlate("foot", 10, 25), at(0, 300, 700)})};
    const CageGeometry cage = resolve(job);
    EXPECT_EQ(allTexts(cage), "");
    EXPECT_TRUE(
        near(memberOf(cage, "leg.right").ends[0].at, mirrored(memberOf(cage, "leg.left").ends[0].at)));
    ASSERT_EQ(cage.plates.size(), 2u);
    EXPECT_NEAR(cage.plates[1].axes.determinant(), 1, 1e-12);
    EXPECT_TRUE(near(cage.plates[1].axes.col(2), {0, 0.6, 0.8}));
    EXPECT_NEAR(cage.plates[0].area_mm2, 140 * 120, 1e-9);
    EXPECT_NEAR(cage.plates[1].area_mm2, 140 * 120, 1e-9);
    // The same corner of the plate, mirrored in space.
    const auto corner = [&](std::size_t plate, const Vec2& p) {
        return Vec3(cage.plates[plate].at + cage.plates[plate].axes.leftCols<2>() * p);
    };
    EXPECT_TRUE(near(corner(1, {60, -70}), mirrored(corner(0, {60, 70}))));
}

TEST(Resolve, APlateWeighsItsMetalAndItsBackingPlate) {
    Job job = emptyJob();
    Plate foot = footPlate("foot", 0, 500, 0, false);
    foot.backing = BackingPlate{150, 120, 2};
    job.cage.plates = {foot};
    const CageGeometry cage = resolve(job);
    EXPECT_NEAR(cage.plates[0].mass_kg, 150 * 120 * 5 * 7850e-9, 1e-12);
}

TEST(Resolve, AGussetFillsTheSharpestCornerAndLosesWhatTheTubesTake) {
    Job job = emptyJob();
    job.cage.members = {bar("post", {at(0, 0, -500), at(0, 0, 500)}),
                        bar("arm", {onHeight("post", 0), at(600, 0, 600)})};
    job.cage.gussets = {{"g", false, "arm", "post", 120, 1.5}};
    const CageGeometry cage = resolve(job);
    EXPECT_EQ(allTexts(cage), "");
    ASSERT_EQ(cage.gussets.size(), 1u);
    const ResolvedGusset& gusset = cage.gussets[0];
    EXPECT_TRUE(near(gusset.corners[2], {0, 0, 120})) << "on the side of the arm";
    // Triangle of two legs 120 at 45 degrees; each tube takes 22.5 of a height of 120 sin 45.
    const double share = 1 - 2 * 22.5 / (120 * std::sin(45 * kDegree));
    EXPECT_NEAR(gusset.area_mm2, 0.5 * 120 * 120 * std::sin(45 * kDegree) * share * share, 1e-6);
    EXPECT_NEAR(gusset.mass_kg, gusset.area_mm2 * 1.5 * 7850e-9, 1e-12);
}

TEST(Resolve, BadGussetsSayWhy) {
    Job job = hoopJob();
    job.cage.gussets = {{"a", true, "rear_brace", "main_hop", 90, 1.5},
                        {"b", false, "main_hoop", "main_hoop", 90, 1.5},
                        {"c", false, "main_hoop", "belt_bar", -1, 1.5},
                        {"d", true, "rear_brace", "belt_bar", 90, 1.5},
                        {"e", false, "main_hoop", "belt_bar", 25, 1.5}};
    const std::string texts = allTexts(resolve(job));
    EXPECT_NE(texts.find("Gusset a.left sits on main_hop, which is not there."), std::string::npos) << texts;
    EXPECT_NE(texts.find("Gusset b has the same member twice."), std::string::npos);
    EXPECT_NE(texts.find("Gusset c has no size."), std::string::npos);
    EXPECT_NE(texts.find("Gusset d.left has no corner"), std::string::npos);
    EXPECT_NE(texts.find("Gusset e does not reach past the tubes"), std::string::npos);
}

struct BadCase {
    const char* name;
    void (*spoil)(Job&);
    Kind kind;
    const char* words;
};
void PrintTo(const BadCase& bad, std::ostream* out) {
    *out << bad.name;
}

class BadLayout : public ::testing::TestWithParam<BadCase> {};

TEST_P(BadLayout, GetsItsSentenceAndTheRestResolves) {
    Job job = hoopJob();
    GetParam().spoil(job);
    const CageGeometry cage = resolve(job);
    EXPECT_TRUE(has(cage, GetParam().kind, GetParam().words)) << allTexts(cage);
    for (const GeometryProblem& problem : cage.problems) {
        EXPECT_FALSE(problem.remedy.empty()) << problem.text;
        EXPECT_TRUE(problem.text.ends_with(".")) << problem.text;
    }
}

const BadCase kBadCases[] = {
    {"MissingStock", [](Job& j) { j.cage.members[2].stock = "60x3"; }, Kind::no_such_stock,
     "Belt bar: is made of 60x3, which is not in the stock list."},
    {"NoStock", [](Job& j) { j.cage.members[2].stock = ""; }, Kind::no_such_stock, "Belt bar: has no tube."},
    {"NegativeWall", [](Job& j) { j.stock.tubes[1].section.wall_mm = -2; }, Kind::bad_value,
     "whose wall is not between zero and half its diameter"},
    {"WallAsThickAsTheRadius", [](Job& j) { j.stock.tubes[1].section.wall_mm = 19; }, Kind::bad_value,
     "whose wall is not between zero and half its diameter"},
    {"MissingMaterial", [](Job& j) { j.stock.materials.clear(); }, Kind::no_such_stock,
     "whose material e355 is not in the stock list"},
    {"CoincidentPoints",
     [](Job& j) { j.cage.members[0].path.insert(j.cage.members[0].path.begin() + 2, at(-60, 590, 900)); },
     Kind::path, "Main hoop: has points 2 and 3 of its path in one place."},
    {"HalfTurn",
     [](Job& j) {
         j.cage.members.push_back(bar("back", {at(0, 0, 0), at(0, 0, 500), at(0, 0, 100)}));
     },
     Kind::path, "Back: turns straight back at point 2"},
    {"OnePoint", [](Job& j) { j.cage.members.push_back(bar("dot", {at(0, 0, 0)})); }, Kind::path,
     "Dot: has fewer than two places to go between"},
    {"NoPath", [](Job& j) { j.cage.members.push_back(bar("nothing", {})); }, Kind::path,
     "Nothing: has fewer than two places to go between"},
    {"BendsOverlap",
     [](Job& j) {
         j.cage.members.push_back(
             bar("tight", {at(900, 0, 0), at(900, 0, 100), at(1000, 0, 100), at(1000, 0, 0)}));
     },
     Kind::path, "Tight: bends too soon at point 2: the bends need 135.0 mm, there is 100.0 mm."},
    {"NoSuchPoint",
     [](Job& j) {
         j.cage.members.push_back(bar("p", {{AtCarPoint{"roof", {}}, {}}, at(0, 0, 1)}));
     },
     Kind::no_such_point, "P: goes to roof, which is not a point of this car."},
    {"NoSuchPlate", [](Job& j) { j.cage.members[0].path[0] = onPlate("hoop_fot.left"); }, Kind::no_such_plate,
     "Main hoop: stands on plate hoop_fot.left, which is not there or has no shape."},
    {"WhichPlate", [](Job& j) { j.cage.members[0].path[0] = onPlate("hoop_foot"); }, Kind::no_such_plate,
     "Main hoop: stands on plate hoop_foot, of which there are two."},
    {"NotANumber", [](Job& j) { j.cage.members[0].path[1] = at(0, kNan, 900); }, Kind::bad_value,
     "Main hoop: point 2 of its path is not a place within a kilometre."},
    {"Infinite", [](Job& j) { j.cage.members[0].path[1] = at(0, 1e300, 900); }, Kind::bad_value,
     "Main hoop: point 2 of its path is not a place within a kilometre."},
    {"LandingNotANumber", [](Job& j) { j.cage.members[2].path[0] = onHeight("main_hoop", kNan, Side::left); },
     Kind::bad_value, "Belt bar: lands on main_hoop at a value that is not a place"},
    {"RadiusOfNothing", [](Job& j) { j.cage.members[0].bend_radius_mm = -135; }, Kind::bad_value,
     "Main hoop: has a bend radius that is not above zero."},
    {"TwiceTheSameId", [](Job& j) { j.cage.members.push_back(j.cage.members[2]); }, Kind::bad_value,
     "Two members are called belt_bar"},
    {"IdWithADot",
     [](Job& j) {
         j.cage.members.push_back(bar("x.left", {at(0, 0, 0), at(0, 0, 9)}));
     },
     Kind::bad_value, "A member is called \"x.left\"."},
    {"PlateOfNoSize", [](Job& j) { j.cage.plates[0].length_mm = 0; }, Kind::bad_value,
     "Plate hoop_foot has no size."},
    {"PlateFacesNowhere", [](Job& j) { j.cage.plates[0].normal = Vec3::Zero(); }, Kind::bad_value,
     "Plate hoop_foot faces nowhere."},
    {"PlateOnAMember", [](Job& j) { j.cage.plates[0].at = Landing{}; }, Kind::bad_value,
     "Plate hoop_foot has no place of its own."},
    {"PlateAtNoPoint",
     [](Job& j) {
         j.cage.plates[0].at = AtCarPoint{"sill", {}};
     },
     Kind::no_such_point, "Plate hoop_foot sits at sill, which is not a point of this car."},
    {"PlateOnNoRail", [](Job& j) { j.cage.plates[0].rail = "leg.left"; }, Kind::no_such_rail,
     "Plate hoop_foot is tied to leg.left, which is not a rail of this car."},
    {"NoDie", [](Job& j) { j.dies.dies.erase(j.dies.dies.begin()); }, Kind::no_die,
     "the die list has no die for 45.0 mm tube; its bends are drawn at three times the diameter."},
    {"NoDieOfThatRadius", [](Job& j) { j.cage.members[0].bend_radius_mm = 140; }, Kind::no_die,
     "Main hoop: has a bend of 140.0 mm radius (bend 1), which no die for 45.0 mm tube makes."},
    {"AngleTooGreat", [](Job& j) { j.dies.dies[0].greatest_angle_rad = 80 * kDegree; }, Kind::angle_too_great,
     "die d45 goes to 80.0°."},
    {"StraightBetween",
     [](Job& j) {
         j.dies.dies[0].least_straight_mm = 1000;
         j.dies.dies[0].least_end_straight_mm = 1;
     },
     Kind::straight_too_short, "of straight between bends 1 and 2; die d45 needs 1000.0 mm."},
    {"StraightAtEnds", [](Job& j) { j.dies.dies[0].least_end_straight_mm = 850; }, Kind::straight_too_short,
     "of straight before its first bend and"},
};

INSTANTIATE_TEST_SUITE_P(Cases, BadLayout, ::testing::ValuesIn(kBadCases),
                         [](const auto& one) { return std::string(one.param.name); });

TEST(Dies, ATubeMayGoIntoTheBenderEitherEndFirst) {
    // 60 before, 100 after; the die wants 90 clamped and 50 free.
    Job job = oneBar({at(0, 0, 0), at(0, 0, 60 + 135), at(100 + 135, 0, 60 + 135)});
    job.dies.dies[0].least_end_straight_mm = 50;
    EXPECT_EQ(allTexts(resolve(job)), "");
    job.dies.dies[0].least_end_straight_mm = 70;
    EXPECT_TRUE(has(resolve(job), Kind::straight_too_short,
                    "Bar: has 60.0 mm of straight before its first bend and 100.0 mm after its last"));
}

TEST(Dies, StraightOfExactlyWhatTheDieNeedsIsEnough) {
    Job job = oneBar({at(0, 0, 0), at(0, 0, 500), at(360, 0, 500), at(360, 0, 1000)});
    EXPECT_EQ(allTexts(resolve(job)), "") << "360 less two setbacks of 135 is 90";
    std::get<FixedPoint>(job.cage.members[0].path[2].place).at.x() = 359;
    std::get<FixedPoint>(job.cage.members[0].path[3].place).at.x() = 359;
    EXPECT_TRUE(has(resolve(job), Kind::straight_too_short, "has 89.0 mm of straight between bends 1 and 2"));
}

TEST(Dies, WithNoDieListAGivenRadiusIsTaken) {
    Job job = oneBar({at(0, 0, 0), at(0, 0, 500), at(500, 0, 500)});
    job.dies.dies.clear();
    job.cage.members[0].bend_radius_mm = 140;
    EXPECT_EQ(allTexts(resolve(job)), "");
    job.cage.members[0].bend_radius_mm.reset();
    const CageGeometry cage = resolve(job);
    EXPECT_TRUE(has(cage, Kind::no_die, "drawn at three times the diameter"));
    EXPECT_EQ(cage.members[0].line.pieces()[1].radius_mm, 135);
}

TEST(Resolve, LengthsAreSaidInTheUnitOfTheCage) {
    Job job = oneBar({at(0, 0, 0), at(0, 0, 500), at(359, 0, 500), at(359, 0, 1000)});
    job.cage.unit = LengthUnit::in;
    EXPECT_TRUE(has(resolve(job), Kind::straight_too_short, "has 3.504 in of straight"))
        << allTexts(resolve(job));
}

}  // namespace
}  // namespace hoopwright
