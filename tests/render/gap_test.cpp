// The gap to the skin as colour along the bars, and scans in the scene.
#include <gmock/gmock.h>

#include <osg/MatrixTransform>
#include <random>

#include "core/skin/gap_to_skin.h"
#include "pixels.h"
#include "render/gap_scale.h"
#include "render/scan_nodes.h"
#include "scene_parts.h"
#include "small_cage.h"
#include "tests/core/mesh/made_scan.h"

namespace hoopwright {
namespace {

using namespace testing_render;
using testing::Each;
using testing::ElementsAre;

TEST(GapScale, EdgesAreRoundInThePersonsUnitAndBandsBeginAtThem) {
    EXPECT_THAT(gapScale(LengthUnit::mm).edges_mm, ElementsAre(10, 25, 50, 100, 200));
    const GapScale& in = gapScale(LengthUnit::in);
    EXPECT_THAT(in.edges_mm, ElementsAre(3.0 / 8 * 25.4, 25.4, 50.8, 101.6, 203.2));
    for (const LengthUnit unit : {LengthUnit::mm, LengthUnit::in}) {
        const GapScale& scale = gapScale(unit);
        EXPECT_EQ(scale.bandOf(-3), 0);
        EXPECT_EQ(scale.bandOf(0), 0);
        for (std::size_t i = 0; i < scale.edges_mm.size(); ++i) {
            EXPECT_EQ(scale.bandOf(scale.edges_mm[i] - 1e-6), static_cast<int>(i) + 1);
            EXPECT_EQ(scale.bandOf(scale.edges_mm[i]), static_cast<int>(i) + 2);
        }
        EXPECT_EQ(scale.bandOf(1e9), scale.bands() - 1);
    }
}

TEST(GapStrip, EachStretchHasTheColourOfTheLeastGapInIt) {
    const GapScale& scale = gapScale(LengthUnit::mm);
    // 300 mm off at the first end, 5 mm at the other, straight between.
    const GapProfile sloped{{0, 1000}, {300, 5}};
    const std::vector<Rgb> strip = gapStrip(sloped, 1000, scale);
    ASSERT_EQ(strip.size(), 250u);
    for (std::size_t i = 0; i < strip.size(); ++i) {
        const double least = 300 - 295 * (static_cast<double>(i) + 1) / 250;
        EXPECT_EQ(strip[i], gapColour(scale.bandOf(least))) << i;
    }
    // A touch between two stations far off is never lost.
    const GapProfile touch{{0, 499, 500, 501, 1000}, {80, 80, -0.5, 80, 80}};
    const std::vector<Rgb> marked = gapStrip(touch, 1000, scale);
    EXPECT_THAT(marked, testing::Contains(testing::AnyOf(gapColour(0), touchRingColour())));
    EXPECT_EQ(std::ranges::count(marked, gapColour(4)), 248)
        << "and spreads no farther than its two stretches";
}

TEST(GapStrip, WhatTouchesHasRingsOfTwoColours) {
    const std::vector<Rgb> strip = gapStrip({{0, 480}, {-2, -2}}, 480, gapScale(LengthUnit::mm));
    const auto rings = std::ranges::count(strip, touchRingColour());
    EXPECT_EQ(rings + std::ranges::count(strip, gapColour(0)), std::ssize(strip));
    EXPECT_NEAR(static_cast<double>(rings), 0.5 * static_cast<double>(strip.size()), 1);
}

class PictureOfGaps : public testing::Test {
protected:
    PictureOfGaps() {
        look_.show_ground = false;
        look_.colouring = Colouring::by_gap;
        scene_.set(Job{}, cage_);
        scene_.setLook(look_);
    }
    static View front(double height_mm) {
        View view = standardView("front", Box(Vec3(-50, -700, -50), Vec3(50, 700, 1100)), 1.0);
        view.target = Vec3(0, 0, 500);
        view.eye = view.target + Vec3(5000, 0, 0);
        view.orthographic_height_mm = height_mm;
        return view;
    }
    /// The band of the scale whose colour a pixel of the belt bar is nearest to in hue and lightness.
    int bandAt(const Pixels& picture, const View& view, double y_mm) const {
        const Rgb seen = colourAt(picture, pixelOf(view, {20, y_mm, 600}, picture));
        int best = -1;
        double least = 1e9;
        for (int band = 0; band < gapScale(look_.unit).bands(); ++band) {
            const Rgb c = gapColour(band);
            const double off = std::hypot(std::hypot(c.r - seen.r, c.g - seen.g), c.b - seen.b);
            if (off < least) least = off, best = band;
        }
        return best;
    }
    const CageGeometry cage_ = smallCage();
    SceneLook look_;
    CageScene scene_;
};

TEST_F(PictureOfGaps, ColourFollowsTheGapAlongTheBarInDraftAndInFull) {
    // The belt bar runs from y = 600 to y = -600: 15 mm off in its first half, 150 mm in its second.
    std::vector<GapProfile> gaps(3);
    gaps[1] = {{0, 599, 601, 1200}, {15, 15, 150, 150}};
    scene_.setGaps(gaps);
    const View view = front(1300);
    auto picture = still(scene_, view, 500, 500, 1);
    ASSERT_TRUE(picture) << picture.reason();
    for (const double y : {500.0, 250.0, 60.0}) EXPECT_EQ(bandAt(*picture, view, y), 2) << y;
    for (const double y : {-60.0, -250.0, -500.0}) EXPECT_EQ(bandAt(*picture, view, y), 5) << y;
    // A bar without a gap has one colour of its own.
    EXPECT_EQ((*static_cast<osg::Vec4Array*>(drawnIn(scene_, "tubes").at("main_hoop")->getColorArray()))[0],
              osg::Vec4(noGapColour().r, noGapColour().g, noGapColour().b, 1));
    // The other way round after an edit.
    gaps[1] = {{0, 599, 601, 1200}, {150, 150, 15, 15}};
    scene_.setGaps(gaps);
    picture = still(scene_, view, 500, 500, 1);
    EXPECT_EQ(bandAt(*picture, view, 300), 5);
    EXPECT_EQ(bandAt(*picture, view, -300), 2);
}

TEST_F(PictureOfGaps, AChosenBarGoesOnShowingItsGap) {
    std::vector<GapProfile> gaps(3);
    gaps[1] = {{0, 1200}, {15, 15}};
    scene_.setGaps(gaps);
    const View view = front(1300);
    const auto before = still(scene_, view, 500, 500, 1);
    scene_.setSelected({"belt_bar"});
    const auto chosen = still(scene_, view, 500, 500, 1);
    ASSERT_TRUE(before && chosen);
    EXPECT_EQ(bandAt(*chosen, view, 250), 2);
    EXPECT_GT(changed(*before, *chosen, 30).count, 200) << "its outline shows that it is chosen";
}

TEST_F(PictureOfGaps, OtherColouringsKnowNothingOfIt) {
    scene_.setGaps(std::vector<GapProfile>(3, {{0, 1200}, {-5, -5}}));
    SceneLook plain = look_;
    plain.colouring = Colouring::by_place;
    scene_.setLook(plain);
    const View view = front(1300);
    const auto with = still(scene_, view, 300, 300, 1);
    CageScene other;
    other.set(Job{}, cage_);
    other.setLook(plain);
    const auto without = still(other, view, 300, 300, 1);
    ASSERT_TRUE(with && without);
    EXPECT_EQ(changed(*with, *without, 0).count, 0);
}

// ---- scans

Job withScan(CarScan scan, TriangleMesh mesh) {
    Job job;
    ReadMesh read;
    read.mesh = std::move(mesh);
    job.scan_meshes[scan.file] = std::make_shared<const ScanMesh>(std::move(read));
    job.car.scans.push_back(std::move(scan));
    return job;
}

/// Places of all that a scan draws at full quality, in car axes.
std::vector<Vec3> drawn(const CageScene& scene) {
    std::vector<Vec3> places;
    osg::Group* scans = named(scene, "scans");
    for (unsigned i = 0; i < scans->getNumChildren(); ++i) {
        auto* place = dynamic_cast<osg::MatrixTransform*>(scans->getChild(i));
        for (osg::Geometry* geometry : geometriesBelow(*place)) {
            for (const osg::Vec3& v : *static_cast<osg::Vec3Array*>(geometry->getVertexArray())) {
                const osg::Vec3d at = osg::Vec3d(v) * place->getMatrix();
                places.emplace_back(at.x(), at.y(), at.z());
            }
        }
    }
    return places;
}

double farthest(const std::vector<Vec3>& places, const TriangleMesh& from) {
    const MeshTree tree(from);
    double most = 0;
    for (const Vec3& p : places) most = std::max(most, tree.nearest(p)->distance);
    return most;
}

TEST(ScanInTheScene, StandsWhereItsPairsPlaceItInItsUnit) {
    const TriangleMesh car = madeScan(40, 30, 0);
    const Eigen::Matrix3d turn = Eigen::AngleAxisd(0.7, Vec3(1, 2, 3).normalized()).toRotationMatrix();
    const Vec3 shift(120000, -4000, 900);  // far out, as surveyors' scans are
    TriangleMesh scan = car;
    for (Vec3& v : scan.vertices) v = turn.transpose() * (v / 25.4) + shift;
    CarScan entry;
    entry.file = "cab.stl";
    entry.unit = ScanUnit::in;
    for (const std::size_t i : {0u, 25u, 600u, 900u})
        entry.pairs.push_back({scan.vertices[i], car.vertices[i]});
    CageScene scene;
    scene.set(withScan(entry, scan), smallCage());
    scene.setQuality(Quality::full);
    const std::vector<Vec3> places = drawn(scene);
    ASSERT_GT(places.size(), 1000u);
    EXPECT_LT(farthest(places, car), 0.05);
    EXPECT_TRUE(scene.bounds().contains(car.bounds()) ||
                (scene.bounds().sizes() - car.bounds().sizes()).minCoeff() > -1);
}

TEST(ScanInTheScene, WhatItsBoxAndCutsLeaveOutIsNotDrawn) {
    CarScan entry;
    entry.file = "cab.stl";
    entry.unit = ScanUnit::mm;
    entry.box = ScanBox{{-1000, -2000, -2000}, {1000, 2000, 2000}};
    entry.cuts = {{{0, 0, 700}, {0, 0, -5}}};
    CageScene scene;
    scene.set(withScan(entry, madeScan(60, 40)), smallCage());
    const std::vector<Vec3> places = drawn(scene);
    ASSERT_GT(places.size(), 500u);
    for (const Vec3& p : places) {
        EXPECT_GE(p.x(), -1000.01);
        EXPECT_LE(p.x(), 1000.01);
        EXPECT_LE(p.z(), 700.01);
    }
}

TEST(ScanInTheScene, TubesAreSeenThroughItAndAChosenOneIsCloser) {
    // A wall between the eye and the cage.
    TriangleMesh wall;
    wall.vertices = {{400, -800, -100}, {400, 800, -100}, {400, 800, 1200}, {400, -800, 1200}};
    wall.triangles = {{0, 1, 2}, {0, 2, 3}};
    CarScan entry;
    entry.file = "wall.ply";
    entry.unit = ScanUnit::mm;
    SceneLook look;
    look.show_ground = false;
    View view = standardView("front", Box(Vec3(-50, -700, -50), Vec3(50, 700, 1100)), 1.0);
    const auto picture = [&](bool scan, std::vector<std::string> selected) {
        CageScene scene;
        scene.setLook(look);
        scene.set(scan ? withScan(entry, wall) : Job{}, smallCage());
        scene.setSelected(std::move(selected));
        return *still(scene, view, 300, 300, 1);
    };
    const Pixels none = picture(false, {}), clear = picture(true, {}), chosen = picture(true, {"wall.ply"});
    const auto contrast = [&](const Pixels& p) {
        const double bar = meanBrightness(p, pixelOf(view, {0, 100, 600}, p), 1);
        return std::abs(bar - meanBrightness(p, pixelOf(view, {0, 100, 450}, p), 4));
    };
    EXPECT_GT(contrast(none), 20);
    EXPECT_GT(contrast(clear), 0.6 * contrast(none)) << "a veil, no more";
    EXPECT_LT(contrast(chosen), 0.6 * contrast(clear));
    EXPECT_GT(contrast(chosen), 2) << "and still seen";
    EXPECT_GT(changed(none, clear, 3).count, 20000);
    look.show_scans = false;
    // The scene reaches farther: a pixel or two of an edge may round the other way.
    EXPECT_LT(changed(none, picture(true, {}), 2).count, 10);
}

TEST(ScanInTheScene, IsMadeAnewOnlyWhereItChanged) {
    CarScan entry;
    entry.file = "cab.stl";
    entry.unit = ScanUnit::mm;
    Job job = withScan(entry, madeScan(40, 30));
    CageScene scene;
    scene.set(job, smallCage());
    const auto first = geometriesBelow(*named(scene, "scans"));
    job.car.scans[0].unit = ScanUnit::cm;  // another place is another matrix
    scene.set(job, smallCage());
    EXPECT_EQ(geometriesBelow(*named(scene, "scans")), first);
    EXPECT_NEAR(scene.bounds().sizes().x(), 42000, 100);
    job.car.scans[0].cuts = {{{0, 0, 0}, Vec3::UnitX()}};
    scene.set(job, smallCage());
    EXPECT_NE(geometriesBelow(*named(scene, "scans")), first);
    job.car.scans.clear();
    scene.set(job, smallCage());
    EXPECT_TRUE(geometriesBelow(*named(scene, "scans")).empty());
}

}  // namespace
}  // namespace hoopwright
