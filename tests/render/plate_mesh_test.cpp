#include "render/plate_mesh.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/render/mesh_check.h"
#include "tests/render/small_cage.h"

namespace hoopwright {
namespace {

using namespace testing_render;

/// On a slope and turned, so that no axis of the plate is one of the car's.
ResolvedPlate slopingPlate(double length, double width, double thickness) {
    ResolvedPlate plate;
    plate.id = "foot";
    plate.at = {-130, 640, -127};
    plate.axes =
        (Eigen::AngleAxisd(0.4, Vec3::UnitX()) * Eigen::AngleAxisd(0.9, Vec3::UnitZ())).toRotationMatrix();
    plate.outline = {{-length / 2, -width / 2},
                     {length / 2, -width / 2},
                     {length / 2, width / 2},
                     {-length / 2, width / 2}};
    plate.area_mm2 = length * width;
    plate.thickness_mm = thickness;
    return plate;
}

/// Height over the plate's upper face.
double heightOf(const ResolvedPlate& plate, const MeshCorner& corner) {
    return plate.axes.col(2).dot(corner.at.cast<double>() - plate.at);
}

/// A slab with its upper edge broken by c at 45 degrees: a prism of triangle c^2 / 2 is gone along every
/// edge, and where two edges meet at a right angle a pyramid c^3 / 3 is counted twice.
double slabVolume(double length, double width, double thickness, double c) {
    return length * width * thickness - c * c * (length + width) + 4 * c * c * c / 3;
}

TEST(PlateMesh, HasTheMetalOfTheSheetLessItsBrokenEdge) {
    for (const auto& [length, width, thickness] :
         {std::array{150.0, 110.0, 3.0}, {120.0, 90.0, 3.0}, {152.4, 152.4, 3.175}, {127.0, 76.2, 4.7625}}) {
        const ResolvedPlate plate = slopingPlate(length, width, thickness);
        const Mesh mesh = plateMesh(plate, nullptr);
        const double broken = std::min(1.0, 0.3 * thickness);
        EXPECT_NEAR(volume(mesh) / slabVolume(length, width, thickness, broken), 1, 1e-4);
        EXPECT_EQ(openEdges(mesh), 0);
        EXPECT_EQ(turnedTriangles(mesh), 0);
    }
}

TEST(PlateMesh, LiesBetweenItsTwoFaces) {
    const ResolvedPlate plate = slopingPlate(150, 110, 3);
    double high = -1e9, low = 1e9;
    for (const MeshCorner& corner : plateMesh(plate, nullptr).corners) {
        high = std::max(high, heightOf(plate, corner));
        low = std::min(low, heightOf(plate, corner));
    }
    EXPECT_NEAR(high, 0, 1e-3);
    EXPECT_NEAR(low, -3, 1e-3);
}

TEST(PlateMesh, AnOutlineWithANotchIsFilledOnce) {
    ResolvedPlate plate = slopingPlate(100, 80, 4);
    plate.outline = {{0, 0}, {100, 0}, {100, 80}, {60, 80}, {60, 30}, {40, 30}, {40, 80}, {0, 80}};
    const Mesh mesh = plateMesh(plate, nullptr);
    // Area and length of edge of the notched sheet; what corners add to the broken edge is within 1 in 1000.
    const double area = 100 * 80 - 20 * 50, edge = 2 * (100 + 80) + 2 * 50, broken = 1;
    EXPECT_NEAR(volume(mesh) / (4 * area - broken * broken / 2 * edge), 1, 1e-3);
    EXPECT_EQ(openEdges(mesh), 0);
}

TEST(PlateMesh, OfNoSizeIsNothing) {
    ResolvedPlate plate = slopingPlate(100, 80, 0);
    EXPECT_TRUE(plateMesh(plate, nullptr).triangles.empty());
    plate.thickness_mm = 3;
    plate.outline.resize(2);
    EXPECT_TRUE(plateMesh(plate, nullptr).triangles.empty());
}

/// Middles of the bolt heads: the mean of the corners of each run of the highest face.
std::vector<Vec2> boltHeads(const ResolvedPlate& plate, const Mesh& mesh, double diameter) {
    const double head_top = 0.83 * diameter;  // washer 0.18 d and head 0.65 d
    std::vector<Vec2> heads;
    std::vector<int> counts;
    for (const MeshCorner& corner : mesh.corners) {
        if (heightOf(plate, corner) < head_top - 1e-2) continue;
        const Vec3 local = plate.axes.transpose() * (corner.at.cast<double>() - plate.at);
        const Vec2 p(local.x(), local.y());
        std::size_t k = 0;
        while (k < heads.size() && (heads[k] / counts[k] - p).norm() > 2.2 * diameter) ++k;
        if (k == heads.size()) {
            heads.push_back(Vec2::Zero());
            counts.push_back(0);
        }
        heads[k] += p;
        ++counts[k];
    }
    for (std::size_t k = 0; k < heads.size(); ++k) heads[k] /= counts[k];
    return heads;
}

TEST(PlateMesh, ABoltedPlateHasItsBoltsInsideItsEdgeEvenlySpaced) {
    const ResolvedPlate plate = slopingPlate(150, 110, 3);
    for (const int count : {3, 4, 6, 8}) {
        Plate said;
        said.fixing = Fixing::bolted;
        said.bolts = {count, 8, "8.8"};
        const Mesh mesh = plateMesh(plate, &said);
        const std::vector<Vec2> heads = boltHeads(plate, mesh, 8);
        ASSERT_EQ(heads.size(), static_cast<std::size_t>(count));
        double least = 1e9;
        for (std::size_t i = 0; i < heads.size(); ++i) {
            EXPECT_LT(std::abs(heads[i].x()), 75 - 8);  // the head stays on the plate
            EXPECT_LT(std::abs(heads[i].y()), 55 - 8);
            for (std::size_t k = 0; k < i; ++k) least = std::min(least, (heads[i] - heads[k]).norm());
        }
        EXPECT_GT(least, 35) << count;
    }
}

TEST(PlateMesh, AWeldedPlateHasNoBolts) {
    const ResolvedPlate plate = slopingPlate(150, 110, 3);
    Plate said;
    said.fixing = Fixing::welded;
    said.bolts = {4, 8, "8.8"};
    EXPECT_EQ(plateMesh(plate, &said).triangleCount(), plateMesh(plate, nullptr).triangleCount());
}

TEST(PlateMesh, ABackingPlateLiesBelowTheFloorInItsOwnSize) {
    const ResolvedPlate plate = slopingPlate(100, 100, 3);
    Plate said;
    said.fixing = Fixing::welded;
    said.backing = BackingPlate{130, 120, 3};
    const Mesh mesh = plateMesh(plate, &said);
    double lowest = 0, along = 0, across = 0;
    for (const MeshCorner& corner : mesh.corners) {
        const Vec3 local = plate.axes.transpose() * (corner.at.cast<double>() - plate.at);
        lowest = std::min(lowest, local.z());
        if (local.z() > -3.5) continue;  // the plate itself
        along = std::max(along, std::abs(local.x()));
        across = std::max(across, std::abs(local.y()));
    }
    EXPECT_NEAR(lowest, -3 - 1.5 - 3, 1e-3);
    EXPECT_NEAR(along, 65, 1e-3);
    EXPECT_NEAR(across, 60, 1e-3);
    EXPECT_NEAR(volume(mesh) / (slabVolume(100, 100, 3, 0.9) + slabVolume(130, 120, 3, 0.5)), 1, 1e-4);
}

TEST(GussetMesh, IsTheSheetHalfToEachSideOfItsThreeCorners) {
    ResolvedGusset gusset;
    gusset.corners = {Vec3(100, 50, 900), Vec3(220, 60, 900), Vec3(110, 60, 780)};
    gusset.thickness_mm = 3;
    const Vec3 a = gusset.corners[1] - gusset.corners[0], b = gusset.corners[2] - gusset.corners[0];
    const Vec3 normal = a.cross(b).normalized();
    const Mesh mesh = gussetMesh(gusset);
    double high = -1e9, low = 1e9;
    for (const MeshCorner& corner : mesh.corners) {
        const double height = normal.dot(corner.at.cast<double>() - gusset.corners[0]);
        high = std::max(high, height);
        low = std::min(low, height);
    }
    EXPECT_NEAR(high, 1.5, 1e-3);
    EXPECT_NEAR(low, -1.5, 1e-3);
    EXPECT_EQ(openEdges(mesh), 0);
    // The triangle's area times the sheet, less an edge broken by 0.6 round 120 + 120 + 180 mm.
    const double area = 0.5 * a.cross(b).norm();
    EXPECT_NEAR(volume(mesh) / (3 * area), 1, 0.01);
    EXPECT_LT(volume(mesh), 3 * area);
    gusset.thickness_mm = 0;
    EXPECT_TRUE(gussetMesh(gusset).triangles.empty());
}

}  // namespace
}  // namespace hoopwright
