#include "render/scene.h"

#include <gtest/gtest.h>

#include <map>

#include "render/evidence.h"
#include "tests/render/scene_parts.h"
#include "tests/render/small_cage.h"

namespace hoopwright {
namespace {

using testing_render::named;
using testing_render::smallCage;

/// What is drawn for each tube.
std::map<std::string, osg::Geometry*> tubes(const CageScene& scene, const char* group = "tubes") {
    return testing_render::drawnIn(scene, group);
}

osg::Vec4 colour(osg::Geometry* geometry) {
    return (*static_cast<osg::Vec4Array*>(geometry->getColorArray()))[0];
}
osg::Vec4 toVec(Rgb c) {
    return {c.r, c.g, c.b, 1};
}

Job smallJob() {
    Job job;
    job.car.ground_z_mm = -200;
    job.car.shell = {{"a", 1500, {{600, -100}, {700, 200}, {0, 500}}},
                     {"b", -1500, {{600, -100}, {700, 200}, {0, 900}}}};
    return job;
}

TEST(CageScene, HasOneNodeForEachTubeAndPlate) {
    CageScene scene;
    scene.set(smallJob(), smallCage());
    EXPECT_EQ(tubes(scene).size(), 3u);
    EXPECT_TRUE(tubes(scene).contains("rear_brace.left"));
    EXPECT_EQ(named(scene, "plates")->getNumChildren(), 2u);
    EXPECT_EQ(named(scene, "welds")->getNumChildren(), 3u);
    scene.set(smallJob(), CageGeometry());
    EXPECT_TRUE(tubes(scene).empty());
    EXPECT_EQ(named(scene, "plates")->getNumChildren(), 0u);
}

TEST(CageScene, BakesOnceAndKeepsTheMeshesOfWhatDidNotChange) {
    CageScene scene;
    scene.set(smallJob(), smallCage());
    EXPECT_TRUE(scene.bake());
    EXPECT_FALSE(scene.bake());
    const auto before = tubes(scene);
    scene.set(smallJob(), smallCage());
    EXPECT_EQ(tubes(scene), before);
    scene.set(smallJob(), smallCage(650));  // the belt bar moves up the hoop
    scene.bake();
    const auto after = tubes(scene);
    EXPECT_NE(after.at("belt_bar"), before.at("belt_bar"));
    EXPECT_NE(after.at("main_hoop"),
              before.at("main_hoop"));  // rings for the shade of the joint moved with it
    EXPECT_EQ(after.at("rear_brace.left"), before.at("rear_brace.left"));
}

TEST(CageScene, DraftHasFarFewerTrianglesAndLeavesOutSkinWeldsAndOutline) {
    CageScene scene;
    scene.set(smallJob(), smallCage());
    scene.bake();
    const std::size_t full = scene.triangles();
    scene.setQuality(Quality::draft);
    EXPECT_LT(scene.triangles() * 4, full);
    EXPECT_EQ(named(scene, "outlines")->getNodeMask(), 0u);
    EXPECT_EQ(named(scene, "skin")->getNodeMask(), 0u);
    for (const auto& [id, drawable] : tubes(scene, "welds")) EXPECT_EQ(drawable, nullptr) << id;
    scene.setQuality(Quality::full);
    EXPECT_EQ(scene.triangles(), full);
    EXPECT_NE(named(scene, "skin")->getNodeMask(), 0u);
}

TEST(CageScene, AMovedTubeIsShownAtOnceAndRefinedLater) {
    CageScene scene;
    scene.set(smallJob(), smallCage());
    scene.bake();
    scene.setQuality(Quality::draft);
    scene.set(smallJob(), smallCage(700));
    const osg::BoundingBox moved = tubes(scene).at("belt_bar")->getBoundingBox();
    EXPECT_NEAR(moved.center().z(), 700, 1);
    scene.setQuality(Quality::full);
    scene.bake();
    EXPECT_NEAR(tubes(scene).at("belt_bar")->getBoundingBox().center().z(), 700, 1);
}

TEST(CageScene, ColoursFollowTheLookTheMarksAndTheSelection) {
    CageScene scene;
    scene.set(smallJob(), smallCage());
    scene.bake();
    EXPECT_EQ(colour(tubes(scene).at("main_hoop")), toVec(placeColour(roleOf("main_hoop").place)));
    SceneLook look;
    look.colouring = Colouring::by_result;
    scene.setLook(look);
    scene.setMarks({Mark::meets, Mark::fails, Mark::cannot_tell});
    EXPECT_EQ(colour(tubes(scene).at("main_hoop")), toVec(markColour(Mark::meets)));
    EXPECT_EQ(colour(tubes(scene).at("belt_bar")), toVec(markColour(Mark::fails)));
    scene.setSelected({"belt_bar"});
    EXPECT_EQ(colour(tubes(scene).at("belt_bar")), toVec(selectedColour()));
    EXPECT_EQ(colour(tubes(scene).at("main_hoop")), toVec(markColour(Mark::meets)));
    scene.setSelected({});
    EXPECT_EQ(colour(tubes(scene).at("belt_bar")), toVec(markColour(Mark::fails)));
}

TEST(CageScene, HidesWhatItIsToldTo) {
    CageScene scene;
    scene.set(smallJob(), smallCage());
    scene.bake();
    const auto mask = [&](const std::string& id) {
        osg::Group* all = named(scene, "tubes");
        for (unsigned i = 0; i < all->getNumChildren(); ++i)
            if (all->getChild(i)->getName() == id) return all->getChild(i)->getNodeMask();
        return 12345u;
    };
    const std::size_t all = scene.triangles();
    SceneLook look;
    look.hidden_members = {"belt_bar"};
    look.show_car = look.show_drivers = look.show_plates = look.show_ground = false;
    scene.setLook(look);
    EXPECT_EQ(mask("belt_bar"), 0u);
    EXPECT_NE(mask("main_hoop"), 0u);
    EXPECT_LT(scene.triangles(), all);
    for (const char* name : {"skin", "body lines", "rails and wheels", "drivers", "plates"})
        EXPECT_EQ(named(scene, name)->getNodeMask(), 0u) << name;
    scene.setLook({});
    EXPECT_EQ(scene.triangles(), all);
    EXPECT_EQ(named(scene, "plates")->getNodeMask(), static_cast<unsigned>(kPlates));
}

TEST(CageScene, BoundsHoldCageAndCar) {
    CageScene scene;
    EXPECT_TRUE(scene.bounds().isEmpty());
    scene.set(smallJob(), smallCage());
    EXPECT_TRUE(scene.bounds().contains(Vec3(0, 600, 1000 - 200)));
    EXPECT_GT(scene.bounds().max().x(), 1490);
    EXPECT_LT(scene.bounds().max().x(), 1560);
    EXPECT_NEAR(scene.bounds().max().z(), 1020, 1e-6);
}

TEST(CageScene, AHopelessMemberIsLeftOutAndTheRestIsDrawn) {
    CageGeometry cage = smallCage();
    cage.members[1].line = Centreline();
    cage.members[2].section = {40, 25};
    CageScene scene;
    scene.set(smallJob(), cage);
    EXPECT_TRUE(scene.bake());
    EXPECT_NE(tubes(scene).at("main_hoop"), nullptr);
    EXPECT_EQ(tubes(scene).at("belt_bar"), nullptr);
    EXPECT_EQ(tubes(scene).at("rear_brace.left"), nullptr);
}

TEST(Evidence, DrawsEveryShapeWhereItIsAndReplacesWhatWasThere) {
    osg::ref_ptr<osg::Group> group = new osg::Group;
    const auto bounds = [&] {
        osg::BoundingBox box;
        for (unsigned i = 0; i < group->getNumChildren(); ++i)
            box.expandBy(group->getChild(i)->asGeode()->getBoundingBox());
        return box;
    };
    drawEvidence(*group, {ShownLine{{0, 0, 0}, {500, 0, 0}, true}}, {1, 0, 0}, 6);
    EXPECT_NEAR(bounds().xMax(), 500, 7);
    EXPECT_NEAR(bounds().yMax(), 1.5 * 6, 1);
    drawEvidence(*group, {ShownPlane{{0, 0, 300}, Vec3::UnitZ(), 200}}, {1, 0, 0}, 6);
    EXPECT_NEAR(bounds().xMax(), 200, 7);
    EXPECT_NEAR(bounds().zMin(), 300, 7);
    drawEvidence(*group, {ShownBand{{0, 0, 100}, {0, 0, 250}, {0, 80, 0}}}, {1, 0, 0}, 6);
    EXPECT_NEAR(bounds().yMax(), 80, 7);
    EXPECT_NEAR(bounds().zMax(), 250, 7);
    drawEvidence(*group, {ShownAngle{{0, 0, 0}, {400, 0, 0}, {0, 300, 0}}}, {1, 0, 0}, 6);
    EXPECT_NEAR(bounds().xMax(), 400, 7);
    EXPECT_NEAR(bounds().yMax(), 300, 7);
    drawEvidence(*group, {ShownPoint{{10, 20, 30}}}, {1, 0, 0}, 6);
    EXPECT_NEAR(bounds().center().x(), 10, 0.1);
    drawEvidence(*group, {}, {1, 0, 0}, 6);
    EXPECT_EQ(group->getNumChildren(), 0u);
}

TEST(Evidence, OddShapesDoNotUpsetIt) {
    osg::ref_ptr<osg::Group> group = new osg::Group;
    drawEvidence(*group,
                 {ShownLine{{1, 1, 1}, {1, 1, 1}, true}, ShownAngle{{0, 0, 0}, {0, 0, 0}, {1, 0, 0}},
                  ShownAngle{{0, 0, 0}, {1, 0, 0}, {2, 0, 0}}},
                 {0, 0, 1}, 5);
    EXPECT_GT(group->getNumChildren(), 0u);
}

}  // namespace
}  // namespace hoopwright
