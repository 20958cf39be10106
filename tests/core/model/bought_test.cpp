// Tubes bought bent: what of the path must be as taped, and what is left to saw off the legs.
#include <gmock/gmock.h>

#include <numbers>

#include "core/model/resolve.h"
#include "tests/core/model/cage_checks.h"
#include "tests/core/model/small_cage.h"
#include "tests/degrees.h"

namespace hoopwright {
namespace {

using namespace testing;
using ::testing::HasSubstr;
using Kind = GeometryProblem::Kind;

/// A hoop 1200 wide and 1000 high in the plane x = 0, its legs bought `longer_mm` too long.
Job boughtHoop(double longer_mm) {
    Job job = emptyJob();
    Member hoop = bar("main_hoop", {at(0, 600, 0), at(0, 600, 1000), at(0, -600, 1000), at(0, -600, 0)});
    hoop.bent = BentShape{120, {880 + longer_mm, 960, 880 + longer_mm}, {{90 * kDegree}, {90 * kDegree}}};
    job.cage.members = {hoop};
    return job;
}
const BoughtBent& boughtOf(const CageGeometry& cage) {
    static const BoughtBent none;
    return memberOf(cage, "main_hoop").bought ? *memberOf(cage, "main_hoop").bought : none;
}

TEST(BoughtBent, HasItsOwnRadiusAndNoDieIsAskedFor) {
    Job job = boughtHoop(75);
    job.dies.dies.clear();
    const CageGeometry cage = resolve(job);
    EXPECT_EQ(allTexts(cage), "");
    for (const Piece& piece : memberOf(cage, "main_hoop").line.pieces()) {
        if (piece.kind == Piece::Kind::bend) {
            EXPECT_EQ(piece.radius_mm, 120);
        }
    }
    // By hand: 880 + 75 taped, 1000 less a setback of 120 laid.
    EXPECT_NEAR(boughtOf(cage).saw_mm[0], 75, kExact_mm);
    EXPECT_NEAR(boughtOf(cage).saw_mm[1], 75, kExact_mm);
    EXPECT_NEAR(boughtOf(cage).off_mm, 0, kExact_mm);
}

TEST(BoughtBent, IsSawnToTheLongPointOfItsCope) {
    // The first leg on a bar square to it of the same tube: the flanks of the saddle reach its axis, so all
    // but the radius is sawn; the bore's edge is the longer one. The last leg on a slope of 30 degrees.
    Job job = boughtHoop(75);
    job.cage.members.insert(job.cage.members.begin(), bar("sill", {at(-500, 600, 0), at(500, 600, 0)}));
    job.cage.members[1].path.front() = onBy("sill", Landing::By::fraction, 0.5);
    Plate plate;
    plate.id = "foot";
    plate.at = FixedPoint{{0, -600, 0}};
    plate.normal = {0, 0.5, std::sqrt(3) / 2};
    plate.length_mm = plate.width_mm = 200;
    plate.thickness_mm = 3;
    job.cage.plates = {plate};
    job.cage.members[1].path.back() = onPlate("foot");
    const CageGeometry cage = resolve(job);
    EXPECT_EQ(allTexts(cage), "");
    EXPECT_NEAR(boughtOf(cage).saw_mm[0], 75 + 0, 1e-6);
    EXPECT_NEAR(boughtOf(cage).saw_mm[1], 75 - 22.5 * std::tan(30 * kDegree), 1e-6);
}

TEST(BoughtBent, SaysWhichLegIsTooShortAndByHowMuch) {
    const CageGeometry cage = resolve(boughtHoop(-12));
    EXPECT_TRUE(
        has(cage, Kind::leg_too_short, "its first leg is 868.0 mm long as bought, 12.0 mm too short"));
    EXPECT_TRUE(has(cage, Kind::leg_too_short, "its last leg is 868.0 mm long as bought, 12.0 mm too short"));
    EXPECT_EQ(allTexts(resolve(boughtHoop(-1.9))), "") << "as well as a tube is taped";
}

TEST(BoughtBent, APathThatIsNotAsTapedIsSaidWithBothNumbers) {
    const auto said = [](const auto& change) {
        Job job = boughtHoop(75);
        change(job.cage.members[0]);
        return allTexts(resolve(job));
    };
    EXPECT_THAT(
        said([](Member& m) { m.bent->straights_mm[1] = 963; }),
        HasSubstr("is bought with 963.0 mm of straight between bends 1 and 2, and its path has 960.0 mm"));
    EXPECT_EQ(said([](Member& m) { m.bent->straights_mm[1] = 961.9; }), "");
    EXPECT_THAT(said([](Member& m) { m.bent->bends[1].angle_rad = 89 * kDegree; }),
                HasSubstr("is bought bent 89.0° at bend 2, and its path bends 90.0° there"));
    EXPECT_EQ(said([](Member& m) { m.bent->bends[1].angle_rad = 89.6 * kDegree; }), "");
    EXPECT_THAT(said([](Member& m) { m.bent->bends[1].rotation_rad = 3 * kDegree; }),
                HasSubstr("is bought turned 3.0° at bend 2, and its path turns 0.0° there"));
    EXPECT_EQ(said([](Member& m) { m.bent->bends[1].rotation_rad = -360 * kDegree; }), "");
    EXPECT_THAT(said([](Member& m) { m.path.erase(m.path.begin() + 1); }),
                HasSubstr("is bought with 2 bends, and its path has 1 corner."));
    EXPECT_THAT(said([](Member& m) { m.bent->straights_mm.pop_back(); }), HasSubstr("has no good shape"));
    EXPECT_THAT(said([](Member& m) { m.bent->straights_mm[1] = 963; }), HasSubstr("within 2.0 mm and 0.5°"));
}

TEST(BoughtBent, TheRightOneOfAPairIsTheMirrorImage) {
    Job job = emptyJob();
    Member side = pair("side", {at(0, 600, 900), at(600, 600, 900), at(1100, 680, 500), at(1100, 680, 0)});
    job.cage.members = {side};
    job.cage.members[0].bend_radius_mm = 115;
    const BendTable table = bendTable(memberOf(resolve(job), "side.left").line);
    ASSERT_EQ(table.rows.size(), 2u);
    ASSERT_GT(std::abs(table.rows[1].rotation_rad), 5 * kDegree) << "a tube in two planes";
    job.cage.members[0].bend_radius_mm.reset();
    job.cage.members[0].bent = BentShape{
        115,
        {table.rows[0].straight_before_mm, table.rows[1].straight_before_mm, table.last_straight_mm},
        {{table.rows[0].angle_rad}, {table.rows[1].angle_rad, table.rows[1].rotation_rad}}};
    const CageGeometry cage = resolve(job);
    EXPECT_EQ(allTexts(cage), "");
    EXPECT_EQ(memberOf(cage, "side.right").bought->shape, mirrored(*job.cage.members[0].bent));
    job.cage.members[0].bent = mirrored(*job.cage.members[0].bent);
    EXPECT_TRUE(has(resolve(job), Kind::bought_differs, "is bought turned"));
}

TEST(BentShape, WalksToTheTubeAsDrawn) {
    const BentShape shape = *boughtHoop(0).cage.members[0].bent;
    const Centreline line = walkBendTable(bendTable(shape), {0, 600, 0}, Vec3::UnitZ(), -Vec3::UnitY());
    EXPECT_TRUE(near(line.end(), {0, -600, 0}, 1e-6) || near(line.end(), {0, 1800, 0}, 1e-6));
    EXPECT_NEAR(line.length_mm(), shape.developed_mm(), 1e-9);
    EXPECT_NEAR(shape.developed_mm(), 880 + 960 + 880 + 120 * std::numbers::pi, 1e-9);
}

TEST(BentShape, IsReadAsTaped) {
    const auto shape = readBentShape("900, 75, 1010 , 75.5 @ -180, 880.5", 135, LengthUnit::mm);
    ASSERT_TRUE(shape) << shape.reason();
    EXPECT_TRUE(shape->good());
    ASSERT_EQ(shape->bends.size(), 2u);
    EXPECT_NEAR(shape->straights_mm[0], 900, 1e-9);
    EXPECT_NEAR(shape->bends[0].angle_rad, 75 * kDegree, 1e-12);
    EXPECT_NEAR(shape->bends[1].rotation_rad, -std::numbers::pi, 1e-12);
    EXPECT_NEAR(shape->straights_mm[2], 880.5, 1e-9);
    EXPECT_EQ(shape->bend_radius_mm, 135);
    EXPECT_EQ(shownBentShape(*shape, LengthUnit::mm), "900.0, 75, 1010.0, 75.5 @ -180, 880.5");
    const auto inches = readBentShape("36, 90, 1-1/2\", 90, 36", 152.4, LengthUnit::in);
    ASSERT_TRUE(inches) << inches.reason();
    EXPECT_NEAR(inches->straights_mm[1], 38.1, 1e-9);
    EXPECT_EQ(*readBentShape(shownBentShape(*inches, LengthUnit::in), 152.4, LengthUnit::in), *inches);
}

TEST(BentShape, RefusesWithASentenceThatQuotesIt) {
    const auto why = [](const std::string& text) {
        return readBentShape(text, 135, LengthUnit::mm).reason();
    };
    EXPECT_THAT(why(""), HasSubstr("does not begin and end with a straight"));
    EXPECT_THAT(why("900, 75"), HasSubstr("'900, 75' does not begin and end with a straight"));
    EXPECT_THAT(why("900, x, 900"), HasSubstr("no good number"));
    EXPECT_THAT(why("900, 0, 900"), HasSubstr("not between 0 and 180"));
    EXPECT_THAT(why("900, 180, 900"), HasSubstr("not between 0 and 180"));
    EXPECT_THAT(why("-1, 80, 900"), HasSubstr("less than nothing"));
    EXPECT_THAT(why("900 @ 3, 80, 900"), HasSubstr("a turn where none can be"));
    EXPECT_THAT(why("900, 80 @ 10, 900"), HasSubstr("a turn where none can be"));
    EXPECT_THAT(why("900, 80, 900, 80 @ x, 900"), HasSubstr("no good turn"));
}

}  // namespace
}  // namespace hoopwright
