// What a drawn picture shows, pixel by pixel: each thing where its measures say, in its size, and nothing
// else.
#include <gtest/gtest.h>

#include <array>
#include <numbers>
#include <thread>

#include "render/evidence.h"
#include "render/shaders.h"
#include "render/still.h"
#include "tests/render/demo_scene.h"
#include "tests/render/pixels.h"
#include "tests/render/small_cage.h"

namespace hoopwright {
namespace {

using namespace testing_render;

constexpr int kWidth = 400, kHeight = 250;
constexpr double kAspect = static_cast<double>(kWidth) / kHeight;

/// Straight from the front or the side, `mm_per_px` a pixel, the middle of the picture at `middle`.
View orthographic(const char* name, const Vec3& middle, double mm_per_px = 1) {
    View view = standardView(name, Box(middle - Vec3::Constant(500), middle + Vec3::Constant(500)), kAspect);
    view.orthographic_height_mm = mm_per_px * kHeight;
    return view;
}

SceneLook withoutGround() {
    SceneLook look;
    look.show_ground = false;
    return look;
}

Pixels draw(CageScene& scene, const View& view, int supersample = 1) {
    auto picture = still(scene, view, kWidth, kHeight, supersample);
    EXPECT_TRUE(picture) << picture.reason();
    return picture ? *picture : Pixels{kWidth, kHeight, std::vector<std::uint8_t>(4 * kWidth * kHeight)};
}

CageGeometry bars(std::vector<ResolvedMember> members) {
    CageGeometry cage;
    cage.members = std::move(members);
    return cage;
}

// ---- tubes

class PictureOfTheSmallCage : public ::testing::Test {
protected:
    void SetUp() override {
        scene_.set(Job(), cage_);
        scene_.setLook(withoutGround());
    }
    /// The same without any bar.
    Pixels withoutBars(const View& view) {
        hide({"main_hoop", "belt_bar", "rear_brace.left"});
        Pixels picture = draw(scene_, view);
        hide({});
        return picture;
    }
    void hide(std::vector<std::string> members) {
        SceneLook look = withoutGround();
        look.hidden_members = std::move(members);
        scene_.setLook(look);
    }
    const CageGeometry cage_ = smallCage();
    CageScene scene_;
};

TEST_F(PictureOfTheSmallCage, ATubeIsAsWideAsItsDiameterAndItsOutline) {
    // One pixel a millimetre round the left leg of the hoop, 40 mm thick, at half its height.
    const View view = orthographic("front", {0, 600, 300});
    hide({"rear_brace.left"});  // it stands behind
    const Pixels with = draw(scene_, view), without = withoutBars(view);
    const int row = kHeight / 2;
    int left = kWidth, right = -1;
    for (int x = 0; x < kWidth; ++x)
        if (difference(with, without, {x, row}) > 8) left = std::min(left, x), right = std::max(right, x);
    constexpr double kOutline_px = 1.1;
    EXPECT_NEAR(right - left + 1, 40 + 2 * kOutline_px, 1.5);
    EXPECT_NEAR(0.5 * (left + right + 1), kWidth / 2.0, 0.75);
}

TEST_F(PictureOfTheSmallCage, TheOutlineIsDarkerThanTheTubeAndTheBackdrop) {
    SceneLook look = withoutGround();
    look.colouring = Colouring::steel;
    scene_.setLook(look);
    const Pixels picture = draw(scene_, orthographic("front", {0, 600, 300}));
    const int row = kHeight / 2;
    for (const int edge : {kWidth / 2 - 20, kWidth / 2 + 20}) {
        double darkest = 255;
        for (int x = edge - 3; x <= edge + 3; ++x) darkest = std::min(darkest, brightness(picture, {x, row}));
        EXPECT_LT(darkest, 0.6 * brightness(picture, {kWidth / 2, row}));
        EXPECT_LT(darkest, 0.5 * brightness(picture, {edge < kWidth / 2 ? edge - 20 : edge + 20, row}));
    }
}

TEST_F(PictureOfTheSmallCage, TheBendIsRoundToItsRadius) {
    // From the front, the outside of the upper left bend: centre (0, 450, 850), radius 150 + 20.
    const View view = orthographic("front", {0, 520, 920});
    hide({"rear_brace.left"});  // it stands behind
    const Pixels with = draw(scene_, view), without = withoutBars(view);
    for (const double angle_deg : {10.0, 30.0, 45.0, 60.0, 80.0}) {
        const double a = angle_deg * std::numbers::pi / 180;
        const auto on = [&](double radius) {
            return pixelOf(view, Vec3(0, 450 + radius * std::cos(a), 850 + radius * std::sin(a)), with);
        };
        EXPECT_GT(difference(with, without, on(167)), 8) << angle_deg;
        EXPECT_LE(difference(with, without, on(174)), 2) << angle_deg;
        EXPECT_GT(difference(with, without, on(133)), 8) << angle_deg;
        EXPECT_LE(difference(with, without, on(126)), 2) << angle_deg;
    }
}

TEST_F(PictureOfTheSmallCage, AHiddenBarLeavesTheBackdropBehind) {
    const View view = orthographic("front", {0, 300, 600});
    const Pixels with = draw(scene_, view), empty = withoutBars(view);
    hide({"belt_bar"});
    const Pixels without = draw(scene_, view);
    const Pixel middle = pixelOf(view, {0, 300, 600}, with);
    EXPECT_GT(difference(with, empty, middle), 20);
    EXPECT_LE(difference(without, empty, middle), 1);
    // Nothing else in sight but the bar, its welds and its shade.
    const Changed gone = changed(with, without);
    EXPECT_NEAR(gone.top, kHeight / 2 - 22, 3);
    EXPECT_NEAR(gone.bottom, kHeight / 2 + 21, 3);
}

TEST(PictureOfColours, EachPlaceOfTheCarHasItsHue) {
    struct Bar {
        const char* role;
        Place place;
    };
    const auto hue_deg = [](Rgb c) {
        return std::atan2(std::sqrt(3.0) * (c.g - c.b), 2.0 * c.r - c.g - c.b) * 180 / std::numbers::pi;
    };
    for (const Bar& bar : {Bar{"main_hoop", Place::hoops_and_sides}, Bar{"belt_bar", Place::across_the_hoop},
                           Bar{"windshield_bar", Place::roof}, Bar{"door_bar", Place::doors_and_sills},
                           Bar{"rear_brace", Place::to_the_back}}) {
        ASSERT_EQ(roleOf(bar.role).place, bar.place) << bar.role;
        CageScene scene;
        scene.set(Job(), bars({testing_render::bar("bar", bar.role, {{{0, -400, 0}, 0}, {{0, 400, 0}, 0}})}));
        scene.setLook(withoutGround());
        const View view = orthographic("front", {0, 0, 0});
        const Pixels picture = draw(scene, view);
        // Below the middle of the tube, out of the glare of the lamps.
        const Rgb seen = colourAt(picture, pixelOf(view, {20, 0, -6}, picture));
        double apart = std::abs(hue_deg(seen) - hue_deg(placeColour(bar.place)));
        apart = std::min(apart, 360 - apart);
        EXPECT_LT(apart, 20) << bar.role;
    }
}

// ---- shadows

/// A low bar along x, and a high one across it 500 mm above: where the lamp throws it, it crosses the low
/// one.
class PictureOfShadows : public ::testing::Test {
protected:
    PictureOfShadows() {
        const double up = 500, aside = up * kKeyLight.x() / kKeyLight.z();
        job_.car.ground_z_mm = -400;
        cage_ = bars({testing_render::bar("low", "other", {{{-800, 0, 0}, 0}, {{800, 0, 0}, 0}}),
                      testing_render::bar("high", "other", {{{aside, -700, up}, 0}, {{aside, 700, up}, 0}})});
        scene_.set(job_, cage_);
    }
    /// Seen from above and a little behind the lamp, so that nothing hides what is looked at.
    View fromAbove() const {
        View view = standardView("top", Box(Vec3(-900, -800, -400), Vec3(900, 800, 500)), kAspect);
        return view.orbited(0, -0.35);
    }
    Job job_;
    CageGeometry cage_;
    CageScene scene_;
};

TEST_F(PictureOfShadows, ATubeThrowsItsShadowOnAnotherAndNotBesideIt) {
    View view = fromAbove();
    const Pixels with = draw(scene_, view, 2);
    SceneLook look;
    look.hidden_members = {"high"};
    scene_.setLook(look);
    const Pixels without = draw(scene_, view, 2);
    // The side of the low bar that faces the lamp and the eye.
    const auto ratio = [&](double x) {
        const Pixel p = pixelOf(view, Vec3(x, 6, 19), with);
        return meanBrightness(with, p, 1) / meanBrightness(without, p, 1);
    };
    EXPECT_LT(ratio(0), 0.75);
    for (const double x : {-300.0, -120.0, 120.0, 300.0}) EXPECT_NEAR(ratio(x), 1, 0.03) << x;
}

TEST_F(PictureOfShadows, TheGroundIsDarkWhereTheLampThrowsTheBarAndBrightAside) {
    const View view = fromAbove();
    const Pixels with = draw(scene_, view, 2);
    SceneLook look;
    look.hidden_members = {"low", "high"};
    scene_.setLook(look);
    const Pixels without = draw(scene_, view, 2);
    const auto ratio = [&](double x, double y) {
        const Pixel p = pixelOf(view, Vec3(x, y, -400), with);
        return meanBrightness(with, p, 1) / meanBrightness(without, p, 1);
    };
    // The low bar hangs 400 mm over the ground: its shadow lies that far along the lamp's slope.
    const double aside_y = -400 * kKeyLight.y() / kKeyLight.z();
    for (const double x : {-500.0, -250.0, 400.0}) EXPECT_LT(ratio(x, aside_y), 0.90) << x;
    for (const double x : {-500.0, 400.0}) EXPECT_GT(ratio(x, aside_y + 500), 0.97) << x;
}

TEST_F(PictureOfShadows, ShadowsGoWithWhatThrewThem) {
    const View view = fromAbove();
    const Pixels before = draw(scene_, view);
    scene_.set(job_, CageGeometry());
    scene_.set(job_, cage_);
    EXPECT_EQ(draw(scene_, view).rgba, before.rgba);
    CageGeometry low = cage_;
    low.members.pop_back();
    CageScene fresh;
    fresh.set(job_, low);
    scene_.set(job_, low);
    // The ground keeps its middle with the scene, so a scene that was edited looks like one newly made.
    EXPECT_EQ(draw(scene_, view).rgba, draw(fresh, view).rgba);
}

TEST_F(PictureOfShadows, WithoutGroundThereIsOnlyBackdropBehindTheBars) {
    scene_.setLook(withoutGround());
    const View view = orthographic("front", {0, 0, 250}, 4);
    const Pixels picture = draw(scene_, view);
    // Every row of the backdrop is of one brightness, and it darkens upwards.
    const auto brightness_of = [&](int y) { return brightness(picture, {3, y}); };
    for (int y = 0; y < kHeight; ++y)
        EXPECT_NEAR(brightness_of(y), brightness(picture, {kWidth - 4, y}), 0.51);
    EXPECT_LT(brightness_of(5) + 20, brightness_of(kHeight - 5));
}

TEST(PictureOfTheGround, HasALineEveryHundredMillimetresAndAHeavierOneEveryMetre) {
    CageScene scene;
    scene.set(Job(), CageGeometry());
    const View view = orthographic("top", {300, 150, 0}, 2);
    const Pixels picture = draw(scene, view, 2);
    const auto ground = [&](double x, double y) {
        return brightness(picture, pixelOf(view, {x, y, 0}, picture));
    };
    // The ground pales outwards, so each line is held against the open ground beside it.
    for (const double x : {100.0, 200.0, 300.0, 400.0})
        EXPECT_LT(ground(x, 150), ground(x + 30, 150) - 1) << x;
    for (const double y : {100.0, 200.0, 300.0}) EXPECT_LT(ground(150, y), ground(150, y + 30) - 1) << y;
    EXPECT_LT(ground(0, 150), ground(100, 150) - 4);  // x = 0 is a whole metre
    // The car's centre line, y = 0: dashes of 260, a gap, a dot, a gap, every 400 mm.
    EXPECT_LT(ground(130, 0), ground(285, 0) - 8);
    EXPECT_LT(ground(330, 0), ground(375, 0) - 8);
}

// ---- evidence

struct EvidenceCase {
    const char* name;
    ShownShape shape;
    std::vector<Vec3> on, off;  // in the plane x = 0, seen from the front
};
std::string shapeName(const ::testing::TestParamInfo<EvidenceCase>& info) {
    return info.param.name;
}
void PrintTo(const EvidenceCase& one, std::ostream* out) {
    *out << one.name;
}

class PictureOfEvidence : public ::testing::TestWithParam<EvidenceCase> {};

TEST_P(PictureOfEvidence, StandsWhereTheMeasurementIsAndNowhereElse) {
    CageScene scene;
    scene.set(Job(), smallCage());
    scene.setLook(withoutGround());
    const View view = orthographic("front", {0, 0, 300}, 4);
    const Pixels before = draw(scene, view, 2);
    constexpr double kSize_mm = 10;
    drawEvidence(*scene.evidence(), {GetParam().shape}, {0.1f, 0.2f, 0.9f}, kSize_mm);
    const Pixels after = draw(scene, view, 2);
    for (const Vec3& p : GetParam().on)
        EXPECT_GT(difference(before, after, pixelOf(view, p, after)), 12) << p.transpose();
    for (const Vec3& p : GetParam().off)
        EXPECT_LE(difference(before, after, pixelOf(view, p, after)), 1) << p.transpose();
    drawEvidence(*scene.evidence(), {}, {0, 0, 0}, kSize_mm);
    EXPECT_EQ(draw(scene, view, 2).rgba, before.rgba);
}

std::vector<EvidenceCase> evidenceCases() {
    return {
        {"Point", ShownPoint{{0, 100, 300}}, {{0, 100, 300}, {0, 110, 305}}, {{0, 150, 300}, {0, 100, 350}}},
        {"Line",
         ShownLine{{0, -300, 200}, {0, 300, 500}, false},
         {{0, 0, 350}, {0, -200, 250}, {0, 290, 495}},
         {{0, 0, 390}, {0, 330, 515}, {0, -330, 185}}},
        {"DimensionWithArrows",
         ShownLine{{0, -300, 300}, {0, 300, 300}, true},
         {{0, 0, 300}, {0, 252, 312}, {0, -252, 288}},
         {{0, 0, 330}, {0, 230, 330}, {0, 320, 300}}},
        {"Angle",
         ShownAngle{{0, 0, 100}, {0, 400, 100}, {0, 0, 500}},
         {{0, 200, 100}, {0, 0, 300}, {0, 100, 200}, {0, 248 * 0.7071, 100 + 248 * 0.7071}},
         {{0, -60, 100}, {0, 300, 300}, {0, 0, 40}}},
        {"PlaneEdgeOn",
         ShownPlane{{0, 0, 250}, Vec3::UnitZ(), 300},
         {{0, 0, 250}, {0, 280, 250}, {0, -280, 250}},
         {{0, 0, 280}, {0, 330, 250}}},
        {"PlaneFaceOn",
         ShownPlane{{0, 0, 300}, Vec3::UnitX(), 200},
         {{0, 0, 300}, {0, 190, 490}, {0, -190, 110}, {0, 200, 300}},
         {{0, 230, 300}, {0, 0, 530}}},
        {"Band",
         ShownBand{{0, 0, 150}, {0, 0, 350}, {0, 250, 0}},
         {{0, 0, 250}, {0, 240, 160}, {0, -240, 340}, {0, 0, 350}, {0, 0, 150}},
         {{0, 0, 380}, {0, 0, 120}, {0, 280, 250}}}};
}
INSTANTIATE_TEST_SUITE_P(OfEachShape, PictureOfEvidence, ::testing::ValuesIn(evidenceCases()), shapeName);

// ---- car and driver

std::vector<ShellStation> boxyShell() {
    return {{"front", 1500, {{600, -100}, {700, 200}, {650, 400}, {0, 430}}},
            {"roof", 0, {{700, -100}, {780, 200}, {600, 950}, {0, 1010}}},
            {"tail", -1500, {{640, -100}, {720, 200}, {690, 450}, {0, 480}}}};
}

TEST(PictureOfTheCar, TheShellFillsItsMeasuredOutlineAndLetsTheCageThrough) {
    Job job;
    job.car.ground_z_mm = -400;
    job.car.shell = boxyShell();
    CageScene scene;
    scene.set(job, smallCage(600));
    SceneLook look = withoutGround();
    scene.setLook(look);
    const View view = orthographic("left", {0, 0, 450}, 10);
    const Pixels with = draw(scene, view);
    look.show_car = false;
    scene.setLook(look);
    const Pixels without = draw(scene, view);
    const Changed shell = changed(with, without);
    // From the left x runs to the left: nose at -1500, tail at +1500, each rounded off by 35 mm at most.
    const auto column = [&](double x) { return pixelOf(view, {x, 0, 0}, with).x; };
    const auto row = [&](double z) { return pixelOf(view, {0, 0, z}, with).y; };
    EXPECT_NEAR(shell.left, column(1535), 2);
    EXPECT_NEAR(shell.right, column(-1535), 2);
    EXPECT_NEAR(shell.top, row(1010), 2);
    EXPECT_NEAR(shell.bottom, row(-100), 2);
    // The dark hoop is still much darker than the open shell beside it.
    EXPECT_LT(brightness(with, pixelOf(view, {0, 0, 300}, with)) + 30,
              brightness(with, pixelOf(view, {300, 0, 300}, with)));
    // And the body tints what is behind it only a little.
    EXPECT_LT(difference(with, without, pixelOf(view, {300, 0, 300}, with)), 60);
}

TEST(PictureOfTheCar, AMovedStationMovesTheRoof) {
    Job job;
    job.car.shell = boxyShell();
    CageScene scene;
    scene.setLook(withoutGround());
    const View view = orthographic("front", {0, 0, 450}, 10);
    int tops[2] = {0, 0};
    scene.set(Job(), CageGeometry());
    const Pixels empty = draw(scene, view);
    for (const int raised : {0, 1}) {
        job.car.shell[1].outline.back().y() = 1010 + 200 * raised;
        scene.set(job, CageGeometry());
        tops[raised] = changed(draw(scene, view), empty).top;
    }
    EXPECT_NEAR(tops[0] - tops[1], 20, 1);
}

TEST(PictureOfTheCar, WheelsAreDiscsOfTheirMeasuredSizeAtTheirMeasuredPlaces) {
    Job job;
    CageScene scene;
    scene.setLook(withoutGround());
    const View view = orthographic("left", {0, 0, 100}, 10);
    scene.set(Job(), CageGeometry());
    const Pixels empty = draw(scene, view);
    job.car.wheels = {{{1300, 700, -60}, 600, 195}};
    scene.set(job, CageGeometry());
    const Pixels with = draw(scene, view);
    const Changed wheel = changed(with, empty);
    EXPECT_NEAR(wheel.right - wheel.left + 1, 60, 2);
    EXPECT_NEAR(wheel.bottom - wheel.top + 1, 60, 2);
    EXPECT_NEAR(wheel.x, view.project({1300, 700, -60}, kWidth, kHeight).x(), 1);
    EXPECT_NEAR(wheel.count, std::numbers::pi * 30 * 30, 120);
}

TEST(PictureOfTheDriver, TheHelmetIsWhereItWasMeasuredAndMovesWithIt) {
    Driver driver;
    driver.id = "someone";
    driver.hip = {250, 0, 80};
    driver.shoulder_left = {60, 170, 590}, driver.shoulder_right = {60, -170, 590};
    driver.elbow_left = {300, 220, 390}, driver.elbow_right = {300, -220, 390};
    driver.hand_left = {520, 160, 540}, driver.hand_right = {520, -160, 540};
    driver.knee_left = {640, 120, 280}, driver.knee_right = {640, -120, 280};
    driver.heel_left = {960, 70, -90}, driver.heel_right = {960, -70, -90};
    driver.helmet = {{110, 0, 780}, 340, 265, 275};
    CageScene scene;
    scene.setLook(withoutGround());
    const View view = orthographic("front", {0, 0, 780}, 3);
    scene.set(Job(), CageGeometry());
    const Pixels empty = draw(scene, view);
    Changed before;
    for (const double raised : {0.0, 90.0}) {
        Job job;
        driver.helmet.centre.z() = 780 + raised;
        job.drivers = {driver};
        scene.set(job, CageGeometry());
        const Pixels with = draw(scene, view);
        const Changed now = changed(with, empty);
        // The helmet is the highest thing: its top, and its width at its middle.
        EXPECT_NEAR(now.top, view.project({110, 0, 780 + raised + 137.5}, kWidth, kHeight).y(), 1.6);
        const int row = pixelOf(view, driver.helmet.centre, with).y;
        int wide = 0;
        for (int x = 0; x < kWidth; ++x) wide += difference(with, empty, {x, row}) > 2;
        EXPECT_NEAR(wide, 265.0 / 3, 3) << raised;
        if (raised > 0) {
            EXPECT_NEAR(before.top - now.top, 30, 1);
        }
        before = now;
    }
    SceneLook look = withoutGround();
    look.show_drivers = false;
    scene.setLook(look);
    EXPECT_EQ(changed(draw(scene, view), empty).count, 0);
}

/// A car of skin alone, half round from sill to sill.
Job halfRoundSkin() {
    constexpr double kRadius = 500;
    Job job;
    for (const double x : {-1200.0, 0.0, 1200.0}) {
        ShellStation station{"at", x, {}};
        for (int i = 0; i <= 12; ++i) {
            const double angle = std::numbers::pi / 2 * i / 12;
            station.outline.emplace_back(kRadius * std::cos(angle), kRadius * std::sin(angle));
        }
        job.car.shell.push_back(station);
    }
    return job;
}

TEST(PictureOfTheSkin, HasALineWhereItTurnsAwayAndOfOneWidthHoweverNearTheEyeIs) {
    CageScene scene;
    scene.setLook(withoutGround());
    scene.set(halfRoundSkin(), CageGeometry());
    for (const double mm_per_px : {5.0, 1.5}) {
        const View view = orthographic("left", {0, 0, 500}, mm_per_px);
        const Pixels picture = draw(scene, view, 2);
        for (const double x : {-120.0, 30.0, 110.0}) {
            const Pixel top = pixelOf(view, {x, 0, 500}, picture);
            int dark = 0;
            const double sky = brightness(picture, {top.x, top.y - 5}),
                         glass = brightness(picture, {top.x, top.y + 8});
            for (int y = top.y - 4; y <= top.y + 6; ++y)
                dark += brightness(picture, {top.x, y}) < std::min(sky, glass) - 25;
            EXPECT_GE(dark, 1) << mm_per_px << " mm a pixel, at " << x;
            EXPECT_LE(dark, 3) << mm_per_px << " mm a pixel, at " << x;
        }
    }
}

// ---- sizes, and the same again

struct PictureSize {
    int width, height;
};
std::string sizeName(const ::testing::TestParamInfo<PictureSize>& info) {
    return std::to_string(info.param.width) + "By" + std::to_string(info.param.height);
}
void PrintTo(const PictureSize& size, std::ostream* out) {
    *out << size.width << " x " << size.height;
}
class PictureSizes : public ::testing::TestWithParam<PictureSize> {};

TEST_P(PictureSizes, AreMadeToThePixelAndOpaque) {
    const auto [width, height] = GetParam();
    CageScene scene;
    scene.set(Job(), smallCage());
    const View view = standardView("front", scene.bounds(), static_cast<double>(width) / height);
    const auto picture = still(scene, view, width, height, 1);
    ASSERT_TRUE(picture) << picture.reason();
    EXPECT_EQ(picture->width, width);
    EXPECT_EQ(picture->height, height);
    ASSERT_EQ(picture->rgba.size(), 4 * static_cast<std::size_t>(width) * static_cast<std::size_t>(height));
    std::size_t opaque = 0, black = 0;
    for (std::size_t i = 0; i < picture->rgba.size(); i += 4) {
        opaque += picture->rgba[i + 3] == 255;
        black += picture->rgba[i] + picture->rgba[i + 1] + picture->rgba[i + 2] == 0;
    }
    EXPECT_EQ(opaque, picture->rgba.size() / 4);
    EXPECT_EQ(black, 0u);  // no part was left undrawn
}
INSTANTIATE_TEST_SUITE_P(Of, PictureSizes,
                         ::testing::Values(PictureSize{1, 1}, PictureSize{7, 3}, PictureSize{64, 64},
                                           PictureSize{1366, 768}, PictureSize{4097, 30},
                                           PictureSize{30, 2305}, PictureSize{16384, 2},
                                           PictureSize{2, 16384}),
                         sizeName);

TEST(PictureSizes, OnePixelTooManyIsRefusedInOneSentence) {
    CageScene scene;
    scene.set(Job(), smallCage());
    for (const auto& [width, height] : {std::pair{16385, 10}, {10, 16385}, {0, 0}, {-5, 10}}) {
        const auto picture = still(scene, View(), width, height, 1);
        ASSERT_FALSE(picture);
        EXPECT_EQ(picture.reason(), "A picture must be 1 to 16384 pixels a side; this one is " +
                                        std::to_string(width) + " x " + std::to_string(height) + ".");
    }
}

TEST(PictureParts, NoSeamShowsWhereTheyMeet) {
    // Of the backdrop alone every row is of one colour, so any seam would stand out.
    CageScene scene;
    scene.set(Job(), CageGeometry());
    scene.setLook(withoutGround());
    const auto picture = still(scene, standardView("three_quarter", Box(), 4.0), 4400, 40, 2);
    ASSERT_TRUE(picture);
    for (int y = 0; y < picture->height; ++y)
        for (const int x : {2046, 2047, 2048, 2049, 2351, 2352, 2353, 4095, 4096})
            for (int channel = 0; channel < 3; ++channel)
                ASSERT_EQ(at(*picture, {x, y})[channel], at(*picture, {0, y})[channel]) << x << " " << y;
}

class SamePicture : public ::testing::Test {
protected:
    View view() const {
        return standardView("three_quarter", Box(Vec3(-900, -700, 0), Vec3(200, 700, 1020)), kAspect);
    }
    const CageGeometry cage_ = smallCage();
};

TEST_F(SamePicture, FromASceneMadeAnew) {
    CageScene one, other;
    one.set(Job(), cage_);
    other.set(Job(), cage_);
    EXPECT_EQ(draw(one, view()).rgba, draw(other, view()).rgba);
}

TEST_F(SamePicture, AfterOthersOfOtherSizesAndLooks) {
    CageScene scene;
    scene.set(Job(), cage_);
    const Pixels before = draw(scene, view());
    SceneLook odd;
    odd.dark = odd.x_ray = true;
    odd.show_plates = false;
    odd.colouring = Colouring::steel;
    scene.setLook(odd);
    scene.setSelected({"belt_bar", "foot.left"});
    ASSERT_TRUE(still(scene, standardView("top", scene.bounds(), 2), 200, 100, 2));
    EXPECT_NE(draw(scene, view()).rgba, before.rgba);
    scene.setLook({});
    scene.setSelected({});
    scene.setQuality(Quality::draft);  // a still is always drawn at full quality
    EXPECT_EQ(draw(scene, view()).rgba, before.rgba);
}

TEST_F(SamePicture, DrawnOnAnotherThread) {
    CageScene scene;
    scene.set(Job(), cage_);
    const Pixels here = draw(scene, view());
    Pixels there;
    std::thread other([&] { there = draw(scene, view()); });
    other.join();
    EXPECT_EQ(here.rgba, there.rgba);
}

TEST_F(SamePicture, AfterAnEditAndItsUndo) {
    CageScene scene;
    scene.set(Job(), cage_);
    const Pixels before = draw(scene, view());
    scene.set(Job(), smallCage(700));
    EXPECT_GT(changed(draw(scene, view()), before).count, 300);
    scene.set(Job(), cage_);
    EXPECT_EQ(draw(scene, view()).rgba, before.rgba);
}

TEST_F(SamePicture, SupersamplesOutsideOneToFourAreTakenAsTheNearest) {
    CageScene scene;
    scene.set(Job(), cage_);
    EXPECT_EQ(draw(scene, view(), 0).rgba, draw(scene, view(), 1).rgba);
    EXPECT_EQ(draw(scene, view(), 9).rgba, draw(scene, view(), 4).rgba);
}

TEST_F(SamePicture, MoreSamplesSmoothItAndMoveNothing) {
    CageScene scene;
    scene.set(Job(), cage_);
    const Pixels coarse = draw(scene, view(), 1), fine = draw(scene, view(), 4);
    double sum = 0;
    for (int y = 0; y < kHeight; ++y)
        for (int x = 0; x < kWidth; ++x) sum += brightness(coarse, {x, y}) - brightness(fine, {x, y});
    EXPECT_NEAR(sum / (kWidth * kHeight), 0, 1.0);
    EXPECT_LT(changed(coarse, fine, 60).count, kWidth * kHeight / 100);
}

}  // namespace
}  // namespace hoopwright
