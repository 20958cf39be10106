// Flaps of plates and formed gussets in the picture: closed, and as much metal as the geometry says.
#include <gtest/gtest.h>

#include <numbers>

#include "render/plate_mesh.h"
#include "tests/render/mesh_check.h"

namespace hoopwright {
namespace {

using namespace testing_render;

TEST(FoldedPlateMesh, HasTheMetalOfTheGeometry) {
    for (const double angle : {0.6, std::numbers::pi / 2, 1.9, -std::numbers::pi / 2}) {
        Plate said;
        said.length_mm = 150;
        said.width_mm = 110;
        said.thickness_mm = 3;
        said.flaps = {{PlateEdge::left, 60, angle}, {PlateEdge::behind, 40, std::numbers::pi / 2}};
        ResolvedPlate plate;
        plate.thickness_mm = 3;
        plate.outline = notchedRectangle(said);
        for (const Side side : {Side::left, Side::right}) {
            plate.side = side;
            if (side == Side::right) {
                for (Vec2& p : plate.outline) p.y() = -p.y();
                std::reverse(plate.outline.begin(), plate.outline.end());
            }
            double flat = 0;
            for (std::size_t i = 0; i < plate.outline.size(); ++i) {
                const Vec2 &a = plate.outline[i], &b = plate.outline[(i + 1) % plate.outline.size()];
                flat += (a.x() * b.y() - a.y() * b.x()) / 2;
            }
            plate.flaps = placedFlaps(said, plate);
            const Mesh mesh = plateMesh(plate, &said);
            EXPECT_NEAR(volume(mesh), 3 * flat + flapsVolume_mm3(said), 0.5) << angle;
            EXPECT_EQ(turnedTriangles(mesh), 0);
        }
    }
}

TEST(FoldedGussetMesh, HasTwoCheeksAndAStrip) {
    Gusset said;
    said.formed = true;
    said.thickness_mm = 2;
    ResolvedGusset gusset;
    gusset.corners = {Vec3(0, 0, 0), Vec3(0, 0, 120), Vec3(120, 0, 0)};
    gusset.thickness_mm = 2;
    const double open = 120 * std::numbers::sqrt2;
    for (const bool pierced : {false, true}) {
        if (pierced) said.hole_mm = 20;
        const auto shape = gussetShape(said, gusset.corners, 22.5, 19);
        ASSERT_TRUE(shape);
        ASSERT_EQ(shape->hole.has_value(), pierced);
        const Mesh mesh = gussetMesh(gusset, *shape);
        // The strip is drawn through the tubes, which hide its ends; corners of cheek and strip are broken by
        // 0.4.
        double metal = 2 * (2 * 7200.0) + 2 * open * (45 + 4);
        if (pierced) metal -= 2 * 2 * std::numbers::pi * 100 * polygonShare(48);
        EXPECT_NEAR(volume(mesh) / metal, 1, 0.01);
        EXPECT_EQ(openEdges(mesh), 0);
        EXPECT_EQ(turnedTriangles(mesh), 0);
        Box box = mesh.bounds();
        EXPECT_NEAR(box.min().y(), -24.5, 1e-3);
        EXPECT_NEAR(box.max().y(), 24.5, 1e-3);
    }
    said.formed = false;
    const Mesh flat = gussetMesh(gusset, *gussetShape(said, gusset.corners, 22.5, 19));
    EXPECT_NEAR(volume(flat), 2 * (7200 - std::numbers::pi * 100), 15);
    EXPECT_EQ(openEdges(flat), 0);
}

}  // namespace
}  // namespace hoopwright
