// What a section cuts, against closed forms and against the picture.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "render/kept_part.h"
#include "render/pick.h"
#include "render/scene.h"
#include "render/section_nodes.h"
#include "render/still.h"
#include "tests/render/scene_parts.h"
#include "tests/render/small_cage.h"

namespace hoopwright {
namespace {

using testing_render::smallCage;

/// A closed tube wall along z, from polygons of n sides: outer skin, bore and two rims.
std::vector<Vec3> tubeWall(double outer, double inner, double length, int n) {
    std::vector<Vec3> corners;
    const auto p = [&](double r, int i, double z) {
        const double a = 2 * std::numbers::pi * i / n;
        return Vec3(r * std::cos(a), r * std::sin(a), z);
    };
    const auto quad = [&](const Vec3& a, const Vec3& b, const Vec3& c, const Vec3& d) {
        for (const Vec3& v : {a, b, c, a, c, d}) corners.push_back(v);
    };
    for (int i = 0; i < n; ++i) {
        quad(p(outer, i, 0), p(outer, i + 1, 0), p(outer, i + 1, length), p(outer, i, length));
        quad(p(inner, i + 1, 0), p(inner, i, 0), p(inner, i, length), p(inner, i + 1, length));
        quad(p(outer, i, length), p(outer, i + 1, length), p(inner, i + 1, length), p(inner, i, length));
        quad(p(outer, i + 1, 0), p(outer, i, 0), p(inner, i, 0), p(inner, i + 1, 0));
    }
    return corners;
}

/// Area a ring encloses, signed, seen against x: or the other axis.
double areaOf(const std::vector<Vec3>& ring, const Vec3& out) {
    Vec3 sum = Vec3::Zero();
    for (std::size_t i = 0; i < ring.size(); ++i) sum += ring[i].cross(ring[(i + 1) % ring.size()]);
    return 0.5 * sum.dot(out);
}

TEST(Section, OfATubeAcrossIsAnAnnulus) {
    constexpr int kFacets = 48;
    const std::vector<Vec3> wall = tubeWall(22.5, 20, 300, kFacets);
    for (const bool other : {false, true}) {
        const SectionCut cut{2, 117, other};
        const CutLines lines = cutTriangles(wall, cut);
        EXPECT_TRUE(lines.open.empty());
        ASSERT_EQ(lines.rings.size(), 2u);
        double area = 0;
        for (const auto& ring : lines.rings) area += areaOf(ring, cut.outward());
        // A polygon of n sides has n/2 r^2 sin(2 pi / n); the bore runs the other way round.
        const double share = kFacets / 2.0 * std::sin(2 * std::numbers::pi / kFacets);
        EXPECT_NEAR(area, share * (22.5 * 22.5 - 20 * 20), 1e-6);
        for (const auto& ring : lines.rings)
            for (const Vec3& p : ring) EXPECT_NEAR(p.z(), 117, 1e-9);
    }
}

TEST(Section, AlongATubeIsTwoStripsOfItsWall) {
    const std::vector<Vec3> wall = tubeWall(22.5, 20, 300, 64);
    const SectionCut cut{0, 0.01, false};
    const CutLines lines = cutTriangles(wall, cut);
    ASSERT_EQ(lines.rings.size(), 2u);
    double area = 0;
    for (const auto& ring : lines.rings) area += areaOf(ring, cut.outward());
    EXPECT_NEAR(area, 2 * 2.5 * 300, 2);
}

TEST(Section, OfAnOpenSurfaceIsALineWithTwoEnds) {
    const std::vector<Vec3> sheet = {{0, 0, 0}, {100, 0, 0},   {100, 100, 0},
                                     {0, 0, 0}, {100, 100, 0}, {0, 100, 0}};
    const CutLines lines = cutTriangles(sheet, {0, 30, false});
    EXPECT_TRUE(lines.rings.empty());
    ASSERT_EQ(lines.open.size(), 1u);
    EXPECT_NEAR((lines.open[0].front() - lines.open[0].back()).norm(), 100, 1e-9);
    EXPECT_TRUE(cutTriangles(sheet, {0, 300, false}).open.empty());
    // A plane through corners and along an edge neither doubles nor loses anything.
    EXPECT_LE(cutTriangles(sheet, {0, 100, false}).open.size(), 1u);
}

TEST(Section, ThePictureShowsWhatIsKeptAndTheCutFaceInFull) {
    const CageGeometry cage = smallCage();
    CageScene scene;
    scene.set(Job(), cage);
    Box box;
    for (const ResolvedMember& member : cage.members) box.extend(member.line.bounds());
    SceneLook look;
    look.show_ground = false;
    scene.setLook(look);
    const View top = standardView("top", box, 1.6);
    const auto whole = still(scene, top, 480, 300, 1);
    ASSERT_TRUE(whole) << whole.reason();
    look.section = SectionCut{2, box.min().z() + 0.6 * box.sizes().z(), false};
    scene.setLook(look);
    osg::Group* section = testing_render::named(scene, "section");
    ASSERT_TRUE(section);
    EXPECT_GT(section->getNumChildren(), 0u);
    const auto half = still(scene, top, 480, 300, 1);
    ASSERT_TRUE(half);
    EXPECT_NE(whole->rgba, half->rgba);
    // Where the ray meets nothing that is kept, the picture is as empty as without a cage.
    CageScene none;
    SceneLook bare;
    bare.show_ground = false;
    none.setLook(bare);
    none.set(Job(), {});
    const auto empty = still(none, top, 480, 300, 1);
    ASSERT_TRUE(empty);
    int looked = 0;
    for (int y = 10; y < 290; y += 7)
        for (int x = 10; x < 470; x += 7) {
            const auto [from, way] = top.ray(x + 0.5, y + 0.5, 480, 300);
            const bool met = bool(pick(cage, from, way, 6)), kept = bool(pick(cage, from, way, 6, &look));
            if (!met || kept) continue;
            ++looked;
            const std::size_t at = 4 * (std::size_t(y) * 480 + std::size_t(x));
            for (std::size_t c = 0; c < 3; ++c)
                EXPECT_NEAR(int(half->rgba[at + c]), int(empty->rgba[at + c]), 3) << x << " " << y;
        }
    EXPECT_GT(looked, 5);
    look.section.reset();
    scene.setLook(look);
    const auto again = still(scene, top, 480, 300, 1);
    EXPECT_EQ(again->rgba, whole->rgba);
}

TEST(Section, WhatIsCutAwayThrowsNoShadow) {
    const SectionCut cut{1, 0, true};
    const ShadeRod across{Vec3f(10, -300, 500), Vec3f(10, 100, 900), 20, 0};
    const std::vector<ShadeRod> left = keptRods({across, {Vec3f(0, -9, 0), Vec3f(5, -1, 0), 20, 1}}, cut);
    ASSERT_EQ(left.size(), 1u) << "the other lies beyond the plane";
    EXPECT_NEAR(left[0].from.y(), 0, 1e-4);
    EXPECT_NEAR(left[0].from.z(), 800, 1e-3) << "three quarters of the way up";
    EXPECT_EQ(left[0].to, across.to);
    EXPECT_EQ(keptRods({across}, std::nullopt)[0], across);
    const Footprint floor{0, 1000, -500, 500, 150, 0.4};
    const std::vector<Footprint> half = keptFootprints({floor}, cut, -300);
    ASSERT_EQ(half.size(), 1u);
    EXPECT_EQ(half[0].y0, 0);
    EXPECT_EQ(half[0].y1, 500);
    EXPECT_TRUE(keptFootprints({floor}, SectionCut{0, 0, false}, -300).empty());
    EXPECT_TRUE(keptFootprints({floor}, SectionCut{2, -200, false}, -300).empty()) << "it lies at -150";

    // On the ground: with all of the cage cut away nothing dims it.
    const CageGeometry cage = smallCage();
    CageScene scene;
    scene.set(Job(), cage);
    Box box;
    for (const ResolvedMember& member : cage.members) box.extend(member.line.bounds());
    const View top = standardView("top", box, 1.6);
    const auto whole = still(scene, top, 480, 300, 1);
    SceneLook look;
    look.section = SectionCut{1, box.max().y() + 50, true};  // nothing is left
    scene.setLook(look);
    const auto cut_away = still(scene, top, 480, 300, 1);
    look.section.reset();
    scene.setLook(look);
    const auto again = still(scene, top, 480, 300, 1);
    ASSERT_TRUE(whole && cut_away && again);
    EXPECT_EQ(again->rgba, whole->rgba);
    const auto darkest = [](const Pixels& picture) {
        int least = 255;
        for (int y = 40; y < 260; y += 2)
            for (int x = 40; x < 440; x += 2)
                least = std::min(least, int(picture.rgba[4 * (std::size_t(y) * 480 + std::size_t(x)) + 1]));
        return least;
    };
    EXPECT_GT(darkest(*cut_away), darkest(*whole) + 40);
    // As if every bar were hidden.
    for (const ResolvedMember& member : cage.members) look.hidden_members.push_back(member.id);
    look.show_plates = false;
    scene.setLook(look);
    const auto hidden = still(scene, top, 480, 300, 1);
    ASSERT_TRUE(hidden);
    int differs = 0;
    for (std::size_t at = 0; at < hidden->rgba.size(); ++at)
        differs += std::abs(int(hidden->rgba[at]) - int(cut_away->rgba[at])) > 3;
    EXPECT_EQ(differs, 0);
}

TEST(Section, APickMeetsOnlyWhatTheLookShows) {
    const CageGeometry cage = smallCage();
    for (std::size_t m = 0; m < cage.members.size(); ++m) {
        const Centreline& line = cage.members[m].line;
        for (double share = 0.05; share < 1; share += 0.09) {
            const Vec3 place = line.point(share * line.length_mm());
            const Vec3 from = place + Vec3(5000, 1200, 700), way = place - from;
            SceneLook look;
            look.section = SectionCut{0, place.x() + 60, true};  // the place is taken away
            const Picked met = pick(cage, from, way, 0, &look);
            if (met) {
                EXPECT_GE(met.at.x(), place.x() + 60 - 1e-6);
            }
            look.section = SectionCut{0, place.x(), false};  // cut through its middle
            const Picked face = pick(cage, from, way, 0, &look);
            ASSERT_TRUE(face);
            EXPECT_LE(face.at.x(), place.x() + 1e-6);
            look.section.reset();
            look.only = {"nothing"};
            EXPECT_FALSE(pick(cage, from, way, 0, &look));
        }
    }
}

TEST(Groups, PaintsAreToldApartAndWornByTheTubes) {
    for (int a = 0; a < 24; ++a)
        for (int b = a + 1; b < 24; ++b) EXPECT_FALSE(groupPaint(a) == groupPaint(b)) << a << " " << b;
    EXPECT_FALSE(groupPaint(3).rings);
    EXPECT_TRUE(groupPaint(11).rings);
    const CageGeometry cage = smallCage();
    CageScene scene;
    scene.set(Job(), cage);
    SceneLook look;
    look.colouring = Colouring::by_role;
    scene.setLook(look);
    const View view = standardView("front", Box(Vec3(-100, -700, -50), Vec3(100, 700, 1050)), 1.6);
    std::vector<BarPaint> plain, ringed;
    for (std::size_t i = 0; i < cage.members.size(); ++i) {
        plain.push_back(groupPaint(0));
        ringed.push_back(groupPaint(8));
    }
    scene.setPaints(plain);
    const auto one = still(scene, view, 480, 300, 1);
    scene.setPaints(ringed);
    const auto two = still(scene, view, 480, 300, 1);
    ASSERT_TRUE(one && two);
    int differs = 0;
    for (std::size_t i = 0; i < one->rgba.size(); i += 4) differs += one->rgba[i] != two->rgba[i];
    EXPECT_GT(differs, 200) << "rings are seen";
}

}  // namespace
}  // namespace hoopwright
