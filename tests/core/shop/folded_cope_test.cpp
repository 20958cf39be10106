// Ends that land on the flaps of a plate, against a scan of the tube's wall through the folded metal.
#include <gmock/gmock.h>

#include <cmath>
#include <numbers>

#include "core/model/end_hosts.h"
#include "core/model/resolve.h"
#include "core/model/shop_book.h"
#include "core/shop/cope_sheet.h"
#include "tests/core/model/cage_checks.h"
#include "tests/core/model/small_cage.h"
#include "tests/degrees.h"

namespace hoopwright {
namespace {

using namespace hoopwright::testing;
using std::numbers::pi;
using std::numbers::sqrt2;
using ::testing::HasSubstr;

constexpr double kSheet_mm = 3, kFoldRadius_mm = 4;

/// A 38 mm tube that stands at `offset` of a 120 x 100 plate whose left edge is folded, and comes from
/// `way` of there.
Job onFolded(double fold_deg, const Vec2& offset, const Vec3& way, bool is_mirrored = false) {
    Job job = emptyJob();
    auto shop = std::make_shared<ShopBook>();
    shop->folds = {{kSheet_mm, kFoldRadius_mm, 0.4, std::nullopt}};
    job.shop = shop;
    Plate plate = footPlate("foot", 0, is_mirrored ? 500 : 0, 0, is_mirrored);
    plate.length_mm = 120;
    plate.width_mm = 100;
    plate.flaps = {{PlateEdge::left, 60, fold_deg * kDegree}};
    job.cage.plates = {plate};
    Member leg = bar("leg", {at(0, 0, 0), onPlate("foot", offset.x(), offset.y())}, "38x2.5");
    leg.mirrored = is_mirrored;
    job.cage.members = {leg};
    const CageGeometry there = resolve(job);
    std::get<FixedPoint>(job.cage.members[0].path[0].place).at =
        there.members[0].ends[1].at + 500 * way.normalized();
    return job;
}

/// The metal of flat and flap, corners sharp, by what a person would say of a place.
bool inMetal(const ResolvedPlate& plate, const Vec3& p) {
    const Vec3 q = plate.axes.transpose() * (p - plate.at);
    if (std::abs(q.x()) <= 60 && std::abs(q.y()) <= 50 && q.z() <= 0 && q.z() >= -kSheet_mm) return true;
    for (const PlacedFlap& flap : plate.flaps) {
        const Vec3 r = p - flap.from, across = (flap.to - flap.from).normalized();
        const double along = r.dot(flap.along), deep = -r.dot(flap.outward), beside = r.dot(across);
        if (along >= 0 && along <= flap.length_mm && deep >= 0 && deep <= kSheet_mm && beside >= 0 &&
            beside <= flap.width_mm)
            return true;
    }
    return false;
}

/// Down a generator of the wall in short steps until it is in metal, then halved.
double scanned(const CopeEnd& end, const ResolvedPlate& plate, double radius, double phi) {
    const Vec3 spoke = std::cos(phi) * end.clock + std::sin(phi) * end.inward.cross(end.clock);
    const auto at = [&](double s) { return Vec3(end.foot + radius * spoke + s * end.inward); };
    double s = 150;
    while (s > -150 && !inMetal(plate, at(s))) s -= 0.25;
    double in = s, out = s + 0.25;
    for (int i = 0; i < 60; ++i) (inMetal(plate, at(0.5 * (in + out))) ? in : out) = 0.5 * (in + out);
    return in;
}

struct FoldCase {
    const char* name;
    double fold_deg;
    Vec2 offset;
    Vec3 way;
    std::size_t faces;
};
const std::vector<FoldCase>& foldCases() {
    static const std::vector<FoldCase> cases = {
        {"in the corner of a right angle", 90, {0, 47}, {0, -1, 1}, 2},
        {"in that corner, leaning ahead", 90, {-8, 40}, {0.4, -1, 1.2}, 2},
        {"in an open corner", 40, {5, 45}, {0, -0.3, 1}, 2},
        {"in a closed corner", 110, {0, 40}, {0.1, -1, 0.7}, 2},
        {"over an edge folded down", -60, {0, 50}, {0, 0.2, 1}, 2},
        {"over a right angle, leaning back", -90, {4, 52}, {0.3, 1, 1}, 2},
        {"on the flap alone", 40, {0, 76}, {0, -0.5, 1}, 1},
        {"on a flap folded down alone", -50, {0, 80}, {0, 1, 1}, 1},
        {"on the flat alone", 30, {0, 10}, {0, 0.1, 1}, 1},
    };
    return cases;
}

TEST(FoldedCope, IsWhereAScanOfTheWallMeetsTheFoldedMetal) {
    for (const FoldCase& one : foldCases()) {
        SCOPED_TRACE(one.name);
        const Job job = onFolded(one.fold_deg, one.offset, one.way);
        const CageGeometry cage = resolve(job);
        EXPECT_EQ(allTexts(cage), "");
        const CopeSheet sheet = *copeSheet(job, cage, 0);
        const CopeSheetEnd& end = sheet.ends[1];
        ASSERT_EQ(end.trouble, "");
        EXPECT_EQ(end.hosts.size(), one.faces);
        EXPECT_EQ(end.profile.outer.missedCount() + end.profile.bore.missedCount(), 0);
        double length = 0, grind = 0, longest = 1e9, shortest = -1e9;
        Vec3 before = Vec3::Zero();
        for (int i = 0; i <= kWrapStations; ++i) {
            const double phi = 2 * pi * i / kWrapStations;
            const auto k = static_cast<std::size_t>(i % kWrapStations);
            const double outer = scanned(end.frame, cage.plates[0], end.frame.outer_radius_mm, phi);
            const double bore = scanned(end.frame, cage.plates[0], end.frame.bore_radius_mm, phi);
            EXPECT_NEAR(end.profile.outer.s_mm[k], outer, 1e-7);
            EXPECT_NEAR(end.profile.bore.s_mm[k], bore, 1e-7);
            EXPECT_NEAR(end.profile.to_full_wall_mm[k], std::max(0.0, bore - outer), 1e-7);
            grind = std::max(grind, bore - outer);
            longest = std::min({longest, outer, bore});
            shortest = std::max({shortest, outer, bore});
            const Vec3 here =
                end.frame.foot + outer * end.frame.inward +
                end.frame.outer_radius_mm * (std::cos(phi) * end.frame.clock +
                                             std::sin(phi) * end.frame.inward.cross(end.frame.clock));
            if (i > 0) length += (here - before).norm();
            before = here;
        }
        EXPECT_GE(end.weld_mm, length - 1e-6);  // chords cut corners off
        EXPECT_NEAR(end.weld_mm, length, 4e-3 * length);
        EXPECT_NEAR(end.profile.grind_mm, grind, 0.05);  // between stations
        // A tip may lie between two stations; there the wall is as long as it is said to be.
        const auto there = [&](double phi) {
            return std::pair(scanned(end.frame, cage.plates[0], end.frame.outer_radius_mm, phi),
                             scanned(end.frame, cage.plates[0], end.frame.bore_radius_mm, phi));
        };
        const auto [long_outer, long_bore] = there(end.long_phi_rad);
        EXPECT_LE(end.long_mm, longest + 1e-9);
        EXPECT_NEAR(end.long_mm, std::min(long_outer, long_bore), 1e-5);
        const auto [short_outer, short_bore] = there(end.short_phi_rad);
        EXPECT_GE(end.short_mm, shortest - 1e-9);
        EXPECT_NEAR(end.short_mm, std::max(short_outer, short_bore), 1e-5);
        // A land of so much wall is where the metal is met that far in from the outside.
        for (const LandStep& land : end.lands) {
            const double phi = end.profile.grind_phi_rad, radius = end.frame.outer_radius_mm;
            const double back = scanned(end.frame, cage.plates[0], radius - land.land_mm, phi) -
                                scanned(end.frame, cage.plates[0], radius, phi);
            EXPECT_NEAR(land.grind_mm, std::max(0.0, back), 1e-6);
        }
    }
}

TEST(FoldedCope, NamesTheFacesAndWhatTheRoundOfTheFoldDoes) {
    const Job up = onFolded(90, {0, 47}, {0, -1, 1});
    const CopeSheetEnd in = copeSheet(up, resolve(up), 0)->ends[1];
    ASSERT_EQ(in.hosts.size(), 2u);
    EXPECT_EQ(in.hosts[0].name, "Foot");
    EXPECT_EQ(in.hosts[1].name, "Foot, flap left");
    EXPECT_NEAR(in.hosts[1].angle_rad, pi / 4, 1e-12);
    ASSERT_EQ(in.folds.size(), 1u);
    // In the corner of two faces square to each other a round of radius r stands r (sqrt 2 - 1) out of it.
    EXPECT_NEAR(in.folds[0].take_off_mm.value_or(0), kFoldRadius_mm * (sqrt2 - 1), 1e-9);
    EXPECT_FALSE(in.folds[0].gap_mm);

    const Job down = onFolded(-90, {0, 50}, {0, 1, 1});
    const CopeSheetEnd over = copeSheet(down, resolve(down), 0)->ends[1];
    ASSERT_EQ(over.folds.size(), 1u);
    // Over an edge the outside of the fold stands back, with a sheet more of radius.
    EXPECT_NEAR(over.folds[0].gap_mm.value_or(0), (kFoldRadius_mm + kSheet_mm) * (sqrt2 - 1), 1e-9);
    EXPECT_FALSE(over.folds[0].take_off_mm);

    Job unknown = up;
    unknown.shop = nullptr;
    const CopeSheetEnd guess = copeSheet(unknown, resolve(unknown), 0)->ends[1];
    ASSERT_EQ(guess.folds.size(), 1u);
    EXPECT_FALSE(guess.folds[0].inside_mm || guess.folds[0].take_off_mm || guess.folds[0].gap_mm);
}

TEST(FoldedCope, AnOffsetPastTheFoldIsLaidAlongTheFlap) {
    for (const double fold : {40.0, -50.0, 90.0}) {
        const CageGeometry cage = resolve(onFolded(fold, {3, 75}, {0, fold > 0 ? -1.0 : 1.0, 0.3}));
        const PlacedFlap& flap = cage.plates[0].flaps[0];
        const ResolvedEnd& end = cage.members[0].ends[1];
        // The front faces meet half a fold's share of the sheet inside the edge, or at it.
        const double fold_at = 50 - (fold > 0 ? kSheet_mm * std::tan(fold * kDegree / 2) : 0);
        EXPECT_NEAR((end.at - flap.front_from).dot(flap.front()), 0, 1e-9);
        EXPECT_NEAR((end.at - flap.front_from).dot(flap.along), 75 - fold_at, 1e-9);
        EXPECT_NEAR(end.at.x(), 3, 1e-9);
        EXPECT_TRUE(end.off_flat);
        EXPECT_EQ(end.flaps, std::vector<int>{0});
        EXPECT_EQ(hostsOf(cage, end).size(), 1u);
    }
}

TEST(FoldedCope, LeftAndRightAreMirrored) {
    const Job job = onFolded(70, {-5, 44}, {0.3, -1, 1}, true);
    const CageGeometry cage = resolve(job);
    ASSERT_EQ(cage.members.size(), 2u);
    EXPECT_EQ(cage.members[0].ends[1].flaps, cage.members[1].ends[1].flaps);
    const CopeSheetEnd left = copeSheet(job, cage, 0)->ends[1], right = copeSheet(job, cage, 1)->ends[1];
    EXPECT_EQ(left.hosts[1].flap, "left");
    EXPECT_EQ(right.hosts[1].flap, "right");
    EXPECT_NEAR(left.long_mm, right.long_mm, 1e-9);
    EXPECT_NEAR(left.weld_mm, right.weld_mm, 1e-9);
    EXPECT_NEAR(left.hosts[1].angle_rad, right.hosts[1].angle_rad, 1e-12);
    EXPECT_NEAR(std::remainder(left.long_phi_rad + right.long_phi_rad, 2 * pi), 0, 1e-6);
}

TEST(FoldedCope, ATubeThatRunsIntoAFlapIsToldSo) {
    // Upright, its wall 7 mm past the inside of a flap that stands at 47.
    const CageGeometry cage = resolve(onFolded(90, {0, 35}, {0, 0, 1}));
    EXPECT_THAT(allTexts(cage), HasSubstr("runs into the flap left of its plate, Foot, 7.0 mm deep"));
    EXPECT_EQ(allTexts(resolve(onFolded(90, {0, 28}, {0, 0, 1}))), "");
    // Past the end of a short flap.
    EXPECT_THAT(allTexts(resolve(onFolded(40, {0, 100}, {0, -0.5, 1}))), HasSubstr("overhangs its plate"));
}

}  // namespace
}  // namespace hoopwright
