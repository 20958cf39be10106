// The scene after edits: what must be made anew is, what need not be is kept, and each part follows its data.
#include <gtest/gtest.h>

#include <osg/StateSet>
#include <osg/Uniform>
#include <set>

#include "render/scene.h"
#include "tests/render/demo_scene.h"
#include "tests/render/mesh_check.h"
#include "tests/render/scene_parts.h"
#include "tests/render/small_cage.h"

namespace hoopwright {
namespace {

using namespace testing_render;

Driver seated(const char* id, double hip_x, double hip_y) {
    Driver d;
    d.id = id;
    d.hip = {hip_x, hip_y, 80};
    const auto at = [&](double x, double y, double z) { return Vec3(hip_x + x, hip_y + y, z); };
    d.shoulder_left = at(-190, 170, 590), d.shoulder_right = at(-190, -170, 590);
    d.elbow_left = at(50, 220, 390), d.elbow_right = at(50, -220, 390);
    d.hand_left = at(270, 160, 540), d.hand_right = at(270, -160, 540);
    d.knee_left = at(390, 120, 280), d.knee_right = at(390, -120, 280);
    d.heel_left = at(710, 70, -90), d.heel_right = at(710, -70, -90);
    d.helmet = {at(-140, 0, 780), 340, 265, 275};
    d.seat = Seat{640, 420, at(-190, 85, 600), at(-190, -85, 600)};
    d.belts.bar = "belt_bar";
    d.belts.lap_anchors = {at(-100, 220, -80), at(-100, -220, -80)};
    return d;
}

std::size_t count(const CageScene& scene, const char* group) {
    osg::Group* found = named(scene, group);
    return found ? geometriesBelow(*found).size() : 0;
}
/// Held, so that nothing new can take the place of what is gone.
std::set<osg::ref_ptr<osg::Geometry>> drawn(const CageScene& scene, const char* group) {
    const auto all = geometriesBelow(*named(scene, group));
    return {all.begin(), all.end()};
}
osg::BoundingBox boxOf(const CageScene& scene, const char* group) {
    osg::BoundingBox box;
    for (osg::Geometry* geometry : geometriesBelow(*named(scene, group)))
        box.expandBy(geometry->getBoundingBox());
    return box;
}

TEST(SceneOfDrivers, TwoWhoShareASeatAreOneBodyAndAGlassHelmet) {
    Job job;
    job.drivers = {seated("tall", 250, 350)};
    CageScene scene;
    scene.set(job, smallCage());
    const std::size_t one = count(scene, "drivers");
    EXPECT_GT(one, 3u);
    EXPECT_EQ(count(scene, "other helmets"), 0u);
    job.drivers.push_back(seated("short", 290, 350));
    scene.set(job, smallCage());
    EXPECT_EQ(count(scene, "drivers"), one);
    ASSERT_EQ(count(scene, "other helmets"), 1u);
    const osg::BoundingBox glass = boxOf(scene, "other helmets");
    EXPECT_NEAR(glass.center().x(), 290 - 140, 0.5);
    EXPECT_NEAR(glass.yMax() - glass.yMin(), 265, 1);
}

TEST(SceneOfDrivers, TwoSideBySideAreTwoBodies) {
    Job job;
    job.drivers = {seated("driver", 250, 350)};
    CageScene scene;
    scene.set(job, smallCage());
    const std::size_t one = count(scene, "drivers");
    job.drivers.push_back(seated("codriver", 250, -350));
    scene.set(job, smallCage());
    EXPECT_EQ(count(scene, "drivers"), 2 * one);
    EXPECT_EQ(count(scene, "other helmets"), 0u);
    EXPECT_LT(boxOf(scene, "drivers").yMin(), -500);
}

TEST(SceneOfDrivers, BeltsFollowTheBarWithoutTheBodyBeingMadeAnew) {
    Job job;
    job.drivers = {seated("driver", 250, 350)};
    CageScene scene;
    scene.set(job, smallCage(600));
    const auto body = drawn(scene, "drivers");
    const auto belts = drawn(scene, "belts");
    // The straps reach round the bar's far side: 20 mm of radius and the strap behind its middle.
    EXPECT_NEAR(boxOf(scene, "belts").xMin(), -22, 6);
    scene.set(job, smallCage(600));
    EXPECT_EQ(drawn(scene, "belts"), belts);
    CageGeometry moved = smallCage(600);
    moved.members[1] = bar("belt_bar", "belt_bar", {{{-150, 600, 600}, 0}, {{-150, -600, 600}, 0}});
    scene.set(job, moved);
    EXPECT_EQ(drawn(scene, "drivers"), body);
    EXPECT_NE(drawn(scene, "belts"), belts);
    EXPECT_NEAR(boxOf(scene, "belts").xMin(), -172, 6);
}

TEST(SceneOfDrivers, DraftHasACoarserBodyInTheSamePlace) {
    Job job;
    job.drivers = {seated("driver", 250, 350)};
    CageScene scene;
    scene.set(job, smallCage());
    const auto triangles = [&] {
        std::size_t sum = 0;
        for (const osg::Geometry* g : geometriesBelow(*named(scene, "drivers")))
            sum += meshOf(*g).triangleCount();
        return sum;
    };
    const std::size_t full = triangles();
    const osg::BoundingBox fine = boxOf(scene, "drivers");
    scene.setQuality(Quality::draft);
    EXPECT_LT(triangles() * 3, full * 2);
    const osg::BoundingBox coarse = boxOf(scene, "drivers");
    for (int i = 0; i < 3; ++i) {
        EXPECT_NEAR(coarse._min[i], fine._min[i], 12);
        EXPECT_NEAR(coarse._max[i], fine._max[i], 12);
    }
}

TEST(SceneOfTheCar, EachPartFollowsItsOwnData) {
    Job job;
    CageScene scene;
    scene.set(job, smallCage());
    for (const char* group : {"skin", "panes", "body lines", "rails and wheels"})
        EXPECT_EQ(count(scene, group), 0u) << group;
    job.car.shell = {{"a", 1500, {{600, -100}, {700, 200}, {0, 500}}},
                     {"b", -1500, {{600, -100}, {700, 200}, {0, 900}}}};
    scene.set(job, smallCage());
    EXPECT_EQ(count(scene, "skin"), 3u);  // back faces, depth, front faces
    job.car.lines = {
        {"glass.left", CarLine::Kind::glass, {{0, 690, 500}, {400, 690, 500}, {300, 600, 800}}, true},
        {"sill.left", CarLine::Kind::body, {{-900, 700, 0}, {900, 700, 0}}, false}};
    scene.set(job, smallCage());
    EXPECT_EQ(count(scene, "panes"), 1u);
    EXPECT_EQ(count(scene, "body lines"), 2u);  // two kinds
    EXPECT_EQ(count(scene, "body lines through the skin"), 2u);
    job.car.wheels = {{{1200, 650, -100}, 600, 195}};
    scene.set(job, smallCage());
    EXPECT_EQ(count(scene, "rails and wheels"), 1u);
    job.car.rails = {{"frame.left", {{-1500, 400, -100}, {1500, 400, -100}}, 60, 80, 3}};
    scene.set(job, smallCage());
    EXPECT_EQ(count(scene, "rails and wheels"), 2u);
    job.car = Car();
    scene.set(job, smallCage());
    for (const char* group : {"skin", "panes", "body lines", "rails and wheels"})
        EXPECT_EQ(count(scene, group), 0u) << group;
}

TEST(SceneOfTheCar, IsKeptWhenOnlyTheCageChanges) {
    Job job;
    job.car.shell = {{"a", 1500, {{600, -100}, {700, 200}, {0, 500}}},
                     {"b", -1500, {{600, -100}, {700, 200}, {0, 900}}}};
    CageScene scene;
    scene.set(job, smallCage(600));
    const auto skin = drawn(scene, "skin");
    scene.set(job, smallCage(650));
    EXPECT_EQ(drawn(scene, "skin"), skin);
    job.car.shell[0].x_mm = 1600;
    scene.set(job, smallCage(650));
    EXPECT_NE(drawn(scene, "skin"), skin);
    EXPECT_NEAR(boxOf(scene, "skin").xMax(), 1600, 40);
}

TEST(SceneOfTheCar, DraftKeepsTheLinesAndLeavesOutSkinAndPanes) {
    const auto demo = demoScene(kDemoCages[0]);
    ASSERT_TRUE(demo);
    const std::size_t lines = count(demo->scene, "body lines");
    EXPECT_GT(lines, 3u);
    demo->scene.setQuality(Quality::draft);
    EXPECT_EQ(named(demo->scene, "skin")->getNodeMask(), 0u);
    EXPECT_EQ(named(demo->scene, "panes")->getNodeMask(), 0u);
    EXPECT_EQ(count(demo->scene, "body lines"), lines);
    EXPECT_NE(named(demo->scene, "rails and wheels")->getNodeMask(), 0u);
    demo->scene.setQuality(Quality::full);
    EXPECT_NE(named(demo->scene, "panes")->getNodeMask(), 0u);
}

TEST(SceneOfPlates, ArePutWhereTheyAreAndLightUpWhenChosen) {
    CageScene scene;
    scene.set(Job(), smallCage());
    const auto plates = drawnIn(scene, "plates");
    ASSERT_EQ(plates.size(), 2u);
    const osg::BoundingBox left = plates.at("foot.left")->getBoundingBox();
    EXPECT_NEAR(left.xMin(), -60, 1e-3);
    EXPECT_NEAR(left.yMax(), 660, 1e-3);
    EXPECT_NEAR(left.zMax(), 0, 1e-3);
    EXPECT_NEAR(left.zMin(), -3, 1e-3);
    const auto colour = [&](const char* id) {
        return (*static_cast<osg::Vec4Array*>(drawnIn(scene, "plates").at(id)->getColorArray()))[0];
    };
    const osg::Vec4 plain = colour("foot.left");
    scene.setSelected({"foot.left"});
    const Rgb yellow = selectedColour();
    EXPECT_EQ(colour("foot.left"), osg::Vec4(yellow.r, yellow.g, yellow.b, 1));
    EXPECT_EQ(colour("foot.right"), plain);
    scene.setSelected({});
    EXPECT_EQ(colour("foot.left"), plain);
}

TEST(SceneOfPlates, AThickerPlateIsDrawnThicker) {
    CageScene scene;
    CageGeometry cage = smallCage();
    scene.set(Job(), cage);
    cage.plates[0].thickness_mm = 8;
    scene.set(Job(), cage);
    const auto plates = drawnIn(scene, "plates");
    EXPECT_NEAR(plates.at("foot.left")->getBoundingBox().zMin(), -8, 1e-3);
    EXPECT_NEAR(plates.at("foot.right")->getBoundingBox().zMin(), -3, 1e-3);
}

TEST(SceneOfTubes, BakedShadeLiesRoundTheJointsAndNowhereElse) {
    CageScene scene;
    scene.set(Job(), smallCage());
    scene.bake();
    // Along the hoop's left leg, on the side that faces the belt bar at 600 mm.
    const Mesh hoop = meshOf(*drawnIn(scene, "tubes").at("main_hoop"));
    const auto darkest_near = [&](double z) {
        double least = 1;
        for (const MeshCorner& corner : hoop.corners)
            if (std::abs(static_cast<double>(corner.at.z()) - z) < 30 && corner.at.y() > 570 &&
                corner.weld_mm > 50 && std::hypot(corner.at.x(), corner.at.y() - 600) > 18)
                least = std::min(least, static_cast<double>(corner.light));
        return least;
    };
    EXPECT_LT(darkest_near(600), 0.90);
    EXPECT_GT(darkest_near(300), 0.95);
}

TEST(SceneOfTubes, AMovedBarTakesItsShadeAlong) {
    const auto darkest_near = [](CageScene& scene, double z) {
        const Mesh hoop = meshOf(*drawnIn(scene, "tubes").at("main_hoop"));
        double least = 1;
        for (const MeshCorner& corner : hoop.corners)
            if (std::abs(static_cast<double>(corner.at.z()) - z) < 30 && corner.at.y() > 570 &&
                std::hypot(corner.at.x(), corner.at.y() - 600) > 18)
                least = std::min(least, static_cast<double>(corner.light));
        return least;
    };
    CageScene scene;
    scene.set(Job(), smallCage(600));
    scene.bake();
    EXPECT_LT(darkest_near(scene, 600), 0.90);
    scene.set(Job(), smallCage(350));
    scene.bake();
    EXPECT_LT(darkest_near(scene, 350), 0.90);
    EXPECT_GT(darkest_near(scene, 620), 0.95);
}

TEST(SceneOfTubes, XRayLeavesTheChosenSolid) {
    CageScene scene;
    scene.set(Job(), smallCage());
    scene.bake();
    const auto opacity = [&](const std::string& id) {
        osg::Group* all = named(scene, "tubes");
        for (unsigned i = 0; i < all->getNumChildren(); ++i) {
            if (all->getChild(i)->getName() != id) continue;
            osg::Vec4 material;
            all->getChild(i)->getStateSet()->getUniform("material")->get(material);
            return static_cast<double>(material.w());
        }
        return -1.0;
    };
    EXPECT_EQ(opacity("main_hoop"), 1);
    SceneLook look;
    look.x_ray = true;
    scene.setLook(look);
    scene.setSelected({"belt_bar"});
    EXPECT_LT(opacity("main_hoop"), 0.3);
    EXPECT_EQ(opacity("belt_bar"), 1);
    scene.setLook({});
    EXPECT_EQ(opacity("main_hoop"), 1);
}

TEST(SceneOfTubes, ColoursByStockTellTubesApart) {
    CageGeometry cage = smallCage();
    cage.members[1].stock = 1;
    cage.members[2].stock = -1;
    CageScene scene;
    scene.set(Job(), cage);
    SceneLook look;
    look.colouring = Colouring::by_stock;
    scene.setLook(look);
    const auto colour = [&](const char* id) {
        const auto& c = (*static_cast<osg::Vec4Array*>(drawnIn(scene, "tubes").at(id)->getColorArray()))[0];
        return Rgb{c.r(), c.g(), c.b()};
    };
    EXPECT_EQ(colour("main_hoop"), stockColour(0));
    EXPECT_EQ(colour("belt_bar"), stockColour(1));
    EXPECT_EQ(colour("rear_brace.left"), stockColour(-1));
    std::set<std::array<float, 3>> apart;
    for (int i = -1; i < 8; ++i) {
        const Rgb c = stockColour(i);
        apart.insert({c.r, c.g, c.b});
    }
    EXPECT_EQ(apart.size(), 9u);
    EXPECT_EQ(stockColour(8), stockColour(0));
}

TEST(SceneOfTubes, TriangleCountIsOfWhatIsShown) {
    CageScene scene;
    scene.set(Job(), smallCage());
    scene.bake();
    std::size_t sum = 0;
    for (const char* group : {"tubes", "welds"})
        for (const osg::Geometry* geometry : geometriesBelow(*named(scene, group)))
            sum += meshOf(*geometry).triangleCount();
    EXPECT_EQ(scene.triangles(), sum);
}

TEST(SceneOfTubes, ManyEditsLeaveNothingBehind) {
    CageScene scene;
    const CageGeometry first = smallCage(600);
    scene.set(Job(), first);
    scene.bake();
    const std::size_t triangles = scene.triangles();
    for (int i = 0; i < 40; ++i) {
        CageGeometry cage = smallCage(300 + 10 * i);
        if (i % 3 == 0) cage.members.pop_back();
        if (i % 5 == 0) cage.members[1].id = "belt_bar_" + std::to_string(i);
        scene.set(Job(), cage);
        if (i % 2 == 0) scene.bake();
        EXPECT_EQ(named(scene, "tubes")->getNumChildren(), cage.members.size());
    }
    scene.set(Job(), first);
    scene.bake();
    EXPECT_EQ(scene.triangles(), triangles);
    for (const char* group : {"tubes", "welds", "outlines"})
        EXPECT_EQ(named(scene, group)->getNumChildren(), 3u) << group;
}

}  // namespace
}  // namespace hoopwright
