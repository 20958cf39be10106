#include "render/ambient.h"

#include <gtest/gtest.h>

#include <cmath>

#include "render/colours.h"
#include "render/gap_scale.h"
#include "tests/render/small_cage.h"

namespace hoopwright {
namespace {

Mesh oneCorner(const Vec3f& at, const Vec3f& normal) {
    Mesh mesh;
    MeshCorner corner;
    corner.at = at;
    corner.normal = normal;
    mesh.add(corner);
    return mesh;
}

float lightOf(Mesh mesh, const std::vector<ShadeRod>& capsules, int owner = 0) {
    shade(mesh, 0, 1, owner, capsules, -1e6);
    return mesh.corners[0].light;
}

TEST(Shade, GrowsAsATubeComesNearAndIsNothingFarAway) {
    const auto tube = [](float height) {
        return std::vector<ShadeRod>{{{-500, 0, height}, {500, 0, height}, 20, 1}};
    };
    const Mesh up = oneCorner({0, 0, 0}, {0, 0, 1});
    float before = 1;
    for (const float height : {300.0f, 150.0f, 80.0f, 40.0f, 25.0f}) {
        const float light = lightOf(up, tube(height));
        EXPECT_LE(light, before);
        before = light;
    }
    EXPECT_EQ(lightOf(up, tube(300)), 1);
    EXPECT_LT(before, 0.5f);
}

TEST(Shade, ComesOnlyFromTheSideTheSurfaceFacesAndNotFromItself) {
    const std::vector<ShadeRod> tube = {{{-500, 0, 50}, {500, 0, 50}, 20, 1}};
    EXPECT_LT(lightOf(oneCorner({0, 0, 0}, {0, 0, 1}), tube), 0.95f);
    EXPECT_EQ(lightOf(oneCorner({0, 0, 0}, {0, 0, -1}), tube), 1);
    EXPECT_EQ(lightOf(oneCorner({0, 0, 0}, {0, 0, 1}), tube, 1), 1);
}

TEST(Capsules, FollowTheCentrelineEndToEnd) {
    const CageGeometry cage = testing_render::smallCage();
    const Centreline& line = cage.members[0].line;
    const auto capsules = shadeRodsOf(line, 20, 3);
    EXPECT_EQ(capsules.front().from, line.start().cast<float>());
    EXPECT_LT((capsules.back().to - line.end().cast<float>()).norm(), 1e-3f);
    for (std::size_t i = 0; i + 1 < capsules.size(); ++i)
        EXPECT_LT((capsules[i].to - capsules[i + 1].from).norm(), 1e-3f);
    for (const ShadeRod& c : capsules) EXPECT_EQ(c.owner, 3);
}

int keyAt(const GroundShadow& shadow, double x, double y) {
    const int i = static_cast<int>((x - shadow.x_mm) / shadow.length_mm * shadow.width),
              k = static_cast<int>((y - shadow.y_mm) / shadow.breadth_mm * shadow.height);
    if (i < 0 || k < 0 || i >= shadow.width || k >= shadow.height) return 255;
    return shadow.pixels[2 * (static_cast<std::size_t>(k) * static_cast<std::size_t>(shadow.width) +
                              static_cast<std::size_t>(i))];
}

TEST(GroundShadow, LiesWhereTheLampThrowsItAndSoftensWithHeight) {
    const Vec3 lamp = Vec3(0, 0.5, 1).normalized();
    const auto bar = [](float z) { return std::vector<ShadeRod>{{{-600, 0, z}, {600, 0, z}, 20, 0}}; };
    const GroundShadow low = groundShadow(bar(60), {}, 0, lamp), high = groundShadow(bar(900), {}, 0, lamp);
    EXPECT_LT(keyAt(low, 0, -30), 60);  // 60 mm up: thrown 30 mm aside, nearly black
    EXPECT_EQ(keyAt(low, 0, 200), 255);
    EXPECT_LT(keyAt(high, 0, -450), 245);  // 900 mm up: 450 mm aside, pale and wide
    EXPECT_GT(keyAt(high, 0, -450), 150);
    EXPECT_LT(keyAt(high, 0, -550), 255);
    EXPECT_EQ(keyAt(high, 0, 0), 255);
}

TEST(GroundShadow, OfABarInTwoPiecesIsThatOfTheWhole) {
    const Vec3 lamp = Vec3(0, 0.5, 1).normalized();
    const GroundShadow one = groundShadow({{{-600, 0, 400}, {600, 0, 400}, 20, 0}}, {}, 0, lamp);
    const GroundShadow two = groundShadow(
        {{{-600, 0, 400}, {50, 0, 400}, 20, 0}, {{50, 0, 400}, {600, 0, 400}, 20, 0}}, {}, 0, lamp);
    ASSERT_EQ(one.pixels.size(), two.pixels.size());
    for (std::size_t i = 0; i < one.pixels.size(); i += 2) EXPECT_NEAR(one.pixels[i], two.pixels[i], 2);
}

TEST(GroundShadow, IsEmptyWithNothingToThrowOne) {
    EXPECT_TRUE(groundShadow({}, {}, 0, Vec3::UnitZ()).pixels.empty());
}

// ---- colours
// -------------------------------------------------------------------------------------------------------

using Matrix = Eigen::Matrix3d;

/// Colour sight of strong forms of colour blindness, in linear RGB. Source: G. Machado, M. Oliveira, L.
/// Fernandes, IEEE TVCG 15 (2009), table of matrices at severity 1.0 (from memory; each row sums to 1).
std::vector<std::pair<const char*, Matrix>> sights() {
    Matrix protan, deutan, tritan;
    protan << 0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998;
    deutan << 0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.011820, 0.042940, 0.968881;
    tritan << 1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.303900;
    return {{"full", Matrix::Identity()}, {"protan", protan}, {"deutan", deutan}, {"tritan", tritan}};
}

/// CIE 1976 L*a*b* of an sRGB colour seen through a sight. Source: IEC 61966-2-1 (transfer curve, primaries)
/// and CIE 15 (L*a*b*), white D65.
Vec3 labOf(Rgb colour, const Matrix& sight) {
    const auto linear = [](float c) {
        return c <= 0.04045f ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
    };
    Vec3 rgb = sight * Vec3(linear(colour.r), linear(colour.g), linear(colour.b));
    rgb = rgb.cwiseMax(0).cwiseMin(1);
    Matrix to_xyz;
    to_xyz << 0.4124, 0.3576, 0.1805, 0.2126, 0.7152, 0.0722, 0.0193, 0.1192, 0.9505;
    const Vec3 xyz = (to_xyz * rgb).cwiseQuotient(Vec3(0.9505, 1, 1.089));
    const auto f = [](double t) { return t > 0.008856 ? std::cbrt(t) : 7.787 * t + 16.0 / 116; };
    const double x = f(xyz.x()), y = f(xyz.y()), z = f(xyz.z());
    return {116 * y - 16, 500 * (x - y), 200 * (y - z)};
}

TEST(Colours, PlacesAndTheSelectionStayApartForEveryColourSight) {
    std::vector<Rgb> colours;
    for (const Place place :
         {Place::hoops_and_sides, Place::across_the_hoop, Place::roof, Place::doors_and_sills,
          Place::to_the_back, Place::feet_and_returns, Place::other})
        colours.push_back(placeColour(place));
    colours.push_back(selectedColour());
    // A difference of 2.3 is just noticeable; 12 is plain at a glance even on thin tubes (common practice, no
    // source).
    for (const auto& [name, sight] : sights())
        for (std::size_t i = 0; i < colours.size(); ++i)
            for (std::size_t k = i + 1; k < colours.size(); ++k)
                EXPECT_GT((labOf(colours[i], sight) - labOf(colours[k], sight)).norm(), 12)
                    << name << " " << i << " " << k;
}

TEST(Colours, NoPlaceWearsTheColourOfAResult) {
    for (const Place place :
         {Place::hoops_and_sides, Place::across_the_hoop, Place::roof, Place::doors_and_sills,
          Place::to_the_back, Place::feet_and_returns, Place::other})
        for (const Mark mark : {Mark::meets, Mark::fails, Mark::ask, Mark::cannot_tell})
            EXPECT_GT(
                (labOf(placeColour(place), Matrix::Identity()) - labOf(markColour(mark), Matrix::Identity()))
                    .norm(),
                22);
}

TEST(Colours, ResultsStayApartForEveryColourSight) {
    const std::vector<Mark> marks = {Mark::none, Mark::meets, Mark::fails, Mark::ask, Mark::cannot_tell};
    // Less apart than places are: a result always has its mark beside it, of a shape of its own.
    for (const auto& [name, sight] : sights())
        for (std::size_t i = 0; i < marks.size(); ++i)
            for (std::size_t k = i + 1; k < marks.size(); ++k)
                EXPECT_GT((labOf(markColour(marks[i]), sight) - labOf(markColour(marks[k]), sight)).norm(), 8)
                    << name << i << k;
}

TEST(Colours, BandsOfGapStayApartForEveryColourSightAndGrowLighterWithTheGap) {
    std::vector<Rgb> colours;
    for (int band = 0; band < gapScale(LengthUnit::mm).bands(); ++band) colours.push_back(gapColour(band));
    colours.push_back(noGapColour());
    for (const auto& [name, sight] : sights()) {
        for (std::size_t i = 0; i < colours.size(); ++i)
            for (std::size_t k = i + 1; k < colours.size(); ++k)
                EXPECT_GT((labOf(colours[i], sight) - labOf(colours[k], sight)).norm(), 12)
                    << name << " " << i << " " << k;
        // Lightness alone tells near from far, on a grey print too: but for what touches, which has rings.
        for (std::size_t i = 2; i + 1 < colours.size(); ++i)
            EXPECT_GT(labOf(colours[i], sight)[0], labOf(colours[i - 1], sight)[0] + 10) << name << " " << i;
    }
    EXPECT_GT(labOf(touchRingColour(), Matrix::Identity())[0],
              labOf(gapColour(0), Matrix::Identity())[0] + 35);
}

}  // namespace
}  // namespace hoopwright
