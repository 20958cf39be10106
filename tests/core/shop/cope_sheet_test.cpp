// The cope sheet of small cages, by hand.
#include "core/shop/cope_sheet.h"

#include <gmock/gmock.h>

#include <cmath>
#include <numbers>

#include "core/model/resolve.h"
#include "core/model/shop_book.h"
#include "tests/core/model/cage_checks.h"
#include "tests/core/model/small_cage.h"
#include "tests/degrees.h"

namespace hoopwright {
namespace {

using namespace hoopwright::testing;
using std::numbers::pi;

/// Two uprights a metre apart and a 38 bar between them; the second leans forward.
Job ladder() {
    Job job = emptyJob();
    auto shop = std::make_shared<ShopBook>();
    shop->hole_saws_mm = {35, 40, 44, 46};
    shop->weld = WeldUse{50, 10, 100};
    job.shop = shop;
    job.cage.members = {bar("post", {at(0, 500, -500), at(0, 500, 500)}),
                        bar("leaning", {at(-500, -500, -500), at(500, -500, 500)}),
                        bar("rung", {onHeight("post", 0), onHeight("leaning", 0)}, "38x2.5")};
    return job;
}

CopeSheet sheetOf(const Job& job, int member) {
    const Expected<CopeSheet> sheet = copeSheet(job, resolve(job), member);
    EXPECT_TRUE(sheet) << sheet.reason();
    return *sheet;
}

TEST(CopeSheet, PutsHeelDepthAndSawWhereTheHostIs) {
    const CopeSheet sheet = sheetOf(ladder(), 2);
    const CopeSheetEnd& a = sheet.ends[0];
    ASSERT_EQ(a.hosts.size(), 1u);
    EXPECT_EQ(a.hosts[0].name, "Post");
    EXPECT_NEAR(a.hosts[0].angle_rad, pi / 2, 1e-12);
    EXPECT_NEAR(a.hosts[0].offset_mm, 0, 1e-9);
    // Square on 45 with 38: long point on the flanks, at sqrt(22.5^2 - 19^2) from the host's axis.
    const double flank = std::sqrt(22.5 * 22.5 - 19 * 19);
    EXPECT_NEAR(a.long_mm, flank, 1e-9);
    EXPECT_NEAR(a.hosts[0].depth_mm, -flank, 1e-9);
    EXPECT_NEAR(a.short_mm, 22.5, 1e-9);
    ASSERT_TRUE(a.hosts[0].saw);
    EXPECT_EQ(a.hosts[0].saw->size_mm, 46);  // half a millimetre over, or half under: over sits on the crown
    EXPECT_GT(a.hosts[0].saw->gap_mm, 0);
    EXPECT_LT(a.hosts[0].saw->gap_mm, 0.5);
    // The clock line of a level tube is on top.
    EXPECT_NEAR(std::remainder(*a.up_phi_rad, 2 * pi), 0, 1e-9);
    EXPECT_NEAR(std::abs(std::remainder(*a.forward_phi_rad, 2 * pi)), pi / 2, 1e-9);
    // An upright host leans neither way: its plane is the clock line's.
    EXPECT_NEAR(std::abs(std::sin(a.hosts[0].heel_phi_rad)), 0, 1e-6);
    EXPECT_NEAR(sheet.cut.long_to_long_mm, 1000 - 2 * flank, 1e-9);
}

TEST(CopeSheet, SaysHowFarTheSecondNotchIsTurnedAgainstTheFirst) {
    const CopeSheet sheet = sheetOf(ladder(), 2);
    // Long points lie on the flanks, a quarter turn from the host's plane; the leaning one's plane is turned
    // 45 degrees about the rung.
    ASSERT_TRUE(sheet.clock_between_rad);
    EXPECT_NEAR(std::abs(std::sin(2 * *sheet.clock_between_rad)), 1, 1e-4);
    EXPECT_EQ(sheet.ends[1].hosts[0].name, "Leaning");
    EXPECT_NEAR(*sheet.filler_g, sheet.weld_mm / 1000 * 50, 1e-12);
    EXPECT_NEAR(*sheet.gas_l, sheet.weld_mm / 100 * 10, 1e-12);
}

TEST(CopeSheet, KeepsAWeldedTubesSeamAtTheSideOfItsBends) {
    // The clock line runs along the outside of a bend: a quarter turn from it a seam is neither stretched nor
    // squeezed. Common practice, no source.
    Job job = ladder();
    for (TubeStock& tube : job.stock.tubes) tube.form = TubeForm::welded;
    const std::optional<double> seam = sheetOf(job, 2).seam_phi_rad;
    ASSERT_TRUE(seam);
    EXPECT_NEAR(*seam, pi / 2, 1e-12);
    for (TubeStock& tube : job.stock.tubes) tube.form = TubeForm::seamless;
    EXPECT_FALSE(sheetOf(job, 2).seam_phi_rad);
}

TEST(CopeSheet, TheGrindToLineIsWhereTheWallIsFullByAScanOfTheWall) {
    const CopeSheet sheet = sheetOf(ladder(), 2);
    for (const CopeSheetEnd& end : sheet.ends) {
        for (std::size_t i = 0; i < kWrapStations; i += 7) {
            const double phi = 2 * pi * static_cast<double>(i) / kWrapStations;
            const double grind = end.profile.outer.s_mm[i] + end.profile.to_full_wall_mm[i];
            // Brute force: the radii from bore to skin, each outside the host at the line and just behind it.
            const Job job = ladder();
            const CageGeometry cage = resolve(job);
            const bool at_a = &end == &sheet.ends[0];
            const Centreline& host = cage.members[at_a ? 0 : 1].line;
            const Vec3 side = end.frame.inward.cross(end.frame.clock);
            const Vec3 out = std::cos(phi) * end.frame.clock + std::sin(phi) * side;
            for (double r = 16.5; r <= 19; r += 0.25) {
                const auto clear = [&](double s) {
                    const Vec3 p = end.frame.foot + r * out + s * end.frame.inward;
                    return (p - host.point(host.nearestStation(p))).norm() - 22.5;
                };
                EXPECT_GT(clear(grind), -1e-6);
            }
        }
    }
}

TEST(CopeSheet, ListsWhoItIsCutToAndTheFlatPlate) {
    Job job = ladder();
    job.cage.plates = {footPlate("foot", 0, 0, -600, false)};
    job.cage.members.push_back(bar("second", {onHeight("post", 10), onPlate("foot")}, "38x2.5"));
    const CageGeometry cage = resolve(job);
    const CopeSheet sheet = *copeSheet(job, cage, 3);
    ASSERT_EQ(sheet.ends[0].hosts.size(), 2u);
    EXPECT_EQ(sheet.ends[0].hosts[0].name, "Post");
    EXPECT_EQ(sheet.ends[0].hosts[1].name, "Rung");
    EXPECT_FALSE(sheet.ends[0].flats);
    ASSERT_EQ(sheet.ends[1].hosts.size(), 1u);
    EXPECT_TRUE(sheet.ends[1].hosts[0].plate);
    const Vec3 along = cage.members[3].line.tangent(0);
    EXPECT_NEAR(sheet.ends[1].hosts[0].angle_rad, std::asin(std::abs(along.z())), 1e-9);
}

TEST(CopeSheet, OfAFreeEndIsSquareAndWithoutASawSaysSo) {
    Job job = ladder();
    job.shop = nullptr;
    job.cage.members.push_back(bar("stub", {onHeight("post", 300), at(300, 500, 300)}, "38x2.5"));
    const CopeSheet sheet = sheetOf(job, 3);
    EXPECT_TRUE(sheet.ends[1].square);
    EXPECT_FALSE(sheet.clock_between_rad);
    EXPECT_FALSE(sheet.ends[0].hosts[0].saw);
    EXPECT_EQ(sheet.ends[0].hosts[0].no_saw, "the shop's book has no hole saws");
    EXPECT_FALSE(sheet.filler_g);
    job.cage.members.back().stock = "none";
    EXPECT_EQ(copeSheet(job, resolve(job), 3).reason(),
              "Stub has no tube yet; choose one of the stock list.");
}

TEST(CopeSheet, NamesAnEndTooSteepForATorch) {
    Job job = emptyJob();
    const double t = 25 * kDegree;
    job.cage.members = {
        bar("post", {at(0, 0, -900), at(0, 0, 900)}),
        bar("steep", {onHeight("post", 0), at(800 * std::sin(t), 0, 800 * std::cos(t))}, "38x2.5")};
    const CopeSheet sheet = sheetOf(job, 1);
    EXPECT_GT(sheet.ends[0].zones.under_30_mm, 0);
    ASSERT_EQ(sheet.ends[0].narrow.size(), 1u);
    // The heel is on the acute side; the narrow stretch lies round it.
    const Arc& arc = sheet.ends[0].narrow[0];
    EXPECT_NEAR(
        std::remainder(0.5 * (arc.from_rad + arc.to_rad) - sheet.ends[0].hosts[0].heel_phi_rad, 2 * pi), 0,
        2 * kDegree);
    EXPECT_THAT(sheet.cautions[0], ::testing::HasSubstr("under 30 degrees"));
}

TEST(CopeSheet, NamesTheSawThatSwingsSoFarForTwoStraightCuts) {
    Job job = ladder();
    auto shop = std::make_shared<ShopBook>(*job.shop);
    shop->saws = {{"small", "Small saw", 2, 10 * kDegree}, {"cold", "Cold saw", 2, 45 * kDegree}};
    job.shop = shop;
    const CopeSheet sheet = sheetOf(job, 2);
    ASSERT_TRUE(sheet.ends[0].flats);
    EXPECT_GT(sheet.ends[0].flats->heel_rad, 10 * kDegree);
    EXPECT_EQ(sheet.ends[0].flats->saw, "Cold saw");
    shop = std::make_shared<ShopBook>(*shop);
    shop->saws.pop_back();
    job.shop = shop;
    EXPECT_EQ(sheetOf(job, 2).ends[0].flats->saw, "");
}

TEST(CopeSheet, SaysWhatItsClockLineIsOnAndWhenItIsFitted) {
    Job job = ladder();
    EXPECT_EQ(sheetOf(job, 0).clock, "the front") << "an upright post has no upper side";
    const CopeSheet rung = sheetOf(job, 2);
    EXPECT_EQ(rung.clock, "the upper side");
    EXPECT_EQ(rung.fitted, 3);
    // The feather goes round as much of the end as its share says.
    EXPECT_NEAR(rung.ends[0].thin_mm, rung.ends[0].thin_share * pi * 38, 1e-9);
    job.cage.members.push_back(bar("rail", {at(0, 0, 0), at(800, 0, 0), at(800, 0, 800)}));
    EXPECT_EQ(sheetOf(job, 3).clock, "the outside of bend 1");
}

}  // namespace
}  // namespace hoopwright
