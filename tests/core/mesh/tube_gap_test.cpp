// From bent tubes to meshes, against close sampling.
#include "core/mesh/tube_gap.h"

#include <gmock/gmock.h>

#include "core/mesh/gap_to_each.h"
#include "tests/core/mesh/made_scan.h"

namespace hoopwright {
namespace {

/// Distances at stations a tenth of a millimetre apart.
struct Sampled {
    double least = 1e300, greatest = 0, mean = 0;
};
Sampled sampled(const Centreline& line, const PlacedMesh& mesh) {
    Sampled out;
    const int steps = static_cast<int>(line.length_mm() / 0.25) + 1;
    for (int i = 0; i < steps; ++i) {
        const double d = mesh.nearest(line.point(line.length_mm() * (i + 0.5) / steps), 1e9)->distance;
        out.least = std::min(out.least, d);
        out.greatest = std::max(out.greatest, d);
        out.mean += d / steps;
    }
    return out;
}

TEST(TubeGap, LeastGreatestAndMeanAreThoseOfCloseSampling) {
    const PlacedMesh mesh(std::make_shared<MeshTree>(madeScan(50, 60)), {});
    for (const Centreline& line : tubesInScan(12)) {
        const Sampled close = sampled(line, mesh);
        const auto gap = gapAlong(line, 20, {&mesh, 1});
        ASSERT_TRUE(gap);
        EXPECT_LE(gap->least_mm, close.least - 20 + kTubeOnMeshError_mm);
        EXPECT_GE(gap->least_mm, close.least - 20 - 0.125 - kTubeOnMeshError_mm);
        EXPECT_NEAR(gap->greatest_mm, close.greatest - 20, kGreatestGapError_mm + 0.125);
        EXPECT_NEAR(gap->mean_mm, close.mean - 20, 0.5);
        const auto near = nearest(line, {&mesh, 1});
        ASSERT_TRUE(near);
        EXPECT_NEAR(near->distance_mm - 20, gap->least_mm, kTubeOnMeshError_mm);
        EXPECT_NEAR((near->on_line - near->on_mesh).norm(), near->distance_mm, 1e-9);
        EXPECT_NEAR((near->on_line - line.point(near->station_mm)).norm(), 0, 1e-9);
        EXPECT_FALSE(nearest(line, {&mesh, 1}, near->distance_mm - kTubeOnMeshError_mm));
        EXPECT_TRUE(nearest(line, {&mesh, 1}, near->distance_mm + kTubeOnMeshError_mm));
    }
}

TEST(TubeGap, StationsRunFromEndToEndAndSayTheGapThere) {
    const PlacedMesh mesh(std::make_shared<MeshTree>(madeScan(50, 60)), {});
    const Centreline line = tubesInScan(1)[0];
    const TubeGap gap = *gapAlong(line, 22, {&mesh, 1}, 15);
    ASSERT_EQ(gap.stations_mm.size(), gap.gaps_mm.size());
    EXPECT_DOUBLE_EQ(gap.stations_mm.front(), 0);
    EXPECT_NEAR(gap.stations_mm.back(), line.length_mm(), 1e-9);
    for (std::size_t i = 0; i < gap.stations_mm.size(); ++i) {
        if (i > 0) {
            EXPECT_LE(gap.stations_mm[i] - gap.stations_mm[i - 1], 15 + 1e-9);
        }
        EXPECT_NEAR(gap.gaps_mm[i], mesh.nearest(line.point(gap.stations_mm[i]), 1e9)->distance - 22, 1e-9);
        EXPECT_GE(gap.gaps_mm[i], gap.least_mm - 1e-9);
        EXPECT_LE(gap.gaps_mm[i], gap.greatest_mm + 1e-9);
    }
}

/// A plate of two triangles at a height, ten metres square.
TriangleMesh plate(double z) {
    TriangleMesh mesh;
    mesh.vertices = {{-5000, -5000, z}, {5000, -5000, z}, {5000, 5000, z}, {-5000, 5000, z}};
    mesh.triangles = {{0, 1, 2}, {0, 2, 3}};
    return mesh;
}

Centreline arch(double foot_z, double top_z) {
    const std::vector<PathPoint> path = {
        {{0, -500, foot_z}, 0}, {{0, -500, top_z}, 135}, {{0, 500, top_z}, 135}, {{0, 500, foot_z}, 0}};
    return makeCentreline(path).line;
}

TEST(TubeGap, UnderAFlatRoofItIsWhatTheDrawingSays) {
    const PlacedMesh roof(std::make_shared<MeshTree>(plate(1000)), {});
    const TubeGap gap = *gapAlong(arch(0, 900), 20, {&roof, 1});
    EXPECT_NEAR(gap.least_mm, 80, 1e-9);
    EXPECT_NEAR(gap.greatest_mm, 980, 1e-9);
    EXPECT_NEAR(gap.on_tube.z(), 920, 1e-9);
    EXPECT_NEAR(gap.on_mesh.z(), 1000, 1e-9);
    // The top of a bend only: an arch on its side, whose bends come nearest to a wall they do not touch.
    const PlacedMesh wall(std::make_shared<MeshTree>(plate(-50)), {});
    EXPECT_NEAR(gapAlong(arch(0, 900), 20, {&wall, 1})->least_mm, 30, 1e-9);
    EXPECT_NEAR(gapAlong(arch(0, 900), 20, {&wall, 1})->greatest_mm, 930, kGreatestGapError_mm);
}

TEST(TubeGap, ThroughTheSkinItIsMinusTheRadius) {
    const PlacedMesh roof(std::make_shared<MeshTree>(plate(400)), {});
    const TubeGap gap = *gapAlong(arch(0, 900), 20, {&roof, 1});
    EXPECT_NEAR(gap.least_mm, -20, 1e-9);
    EXPECT_NEAR(gap.on_mesh.z(), 400, 1e-9);
}

TEST(TubeGap, OnABendItIsGoodToAHundredth) {
    // The inside of a right-angled bend against the corner of a plate that points at its middle: closed form.
    const Vec3 corner(0, 420, 820);
    TriangleMesh mesh;
    mesh.vertices = {corner, corner + Vec3(300, -300, -260), corner + Vec3(-300, -300, -260)};
    mesh.triangles = {{0, 1, 2}};
    const PlacedMesh placed(std::make_shared<MeshTree>(mesh), {});
    const Centreline line = arch(0, 900);  // its left bend turns about (0, 365, 765) at 135
    const double want = 135 - (corner - Vec3(0, 365, 765)).norm();
    EXPECT_NEAR(nearest(line, {&placed, 1})->distance_mm, want, kTubeOnMeshError_mm);
    EXPECT_NEAR(gapAlong(line, 20, {&placed, 1})->least_mm, want - 20, kTubeOnMeshError_mm);
}

TEST(TubeGap, OfSeveralMeshesTheNearestCountsAndIsNamed) {
    const std::vector<PlacedMesh> meshes = {{std::make_shared<MeshTree>(plate(1000)), {}},
                                            {std::make_shared<MeshTree>(plate(-30)), {}}};
    const TubeGap gap = *gapAlong(arch(0, 900), 20, meshes);
    EXPECT_NEAR(gap.least_mm, 10, 1e-9);
    EXPECT_EQ(gap.mesh, 1);
    EXPECT_NEAR(gap.greatest_mm, (1000 + 30) / 2.0 - 20, kGreatestGapError_mm);
}

TEST(TubeGap, OfSeveralMeshesThatLieCloseEachStationAndEachLeastIsThatOfAskingAlone) {
    MeshPlacement moved, turned;
    moved.shift = {15, -25, 12};
    turned.turn = Eigen::AngleAxisd(0.03, Vec3::UnitZ()).toRotationMatrix();
    const auto scan = std::make_shared<MeshTree>(madeScan(50, 60));
    const HalfSpace ahead{{-300, 0, 0}, Vec3::UnitX()};
    const std::vector<PlacedMesh> meshes = {{std::make_shared<MeshTree>(plate(400)), {}},
                                            {scan, moved},
                                            {std::make_shared<MeshTree>(madeScan(9, 11)), {}},
                                            {scan, turned, {&ahead, 1}}};
    std::vector<int> nearest_stations(meshes.size());
    for (const Centreline& line : tubesInScan(20)) {
        const auto each = gapToEach(line, 20, meshes);
        ASSERT_TRUE(each);
        const TubeGap& gap = each->gap;
        for (std::size_t i = 0; i < gap.stations_mm.size(); ++i) {
            double least = 1e300;
            std::size_t at = 0;
            for (std::size_t k = 0; k < meshes.size(); ++k) {
                const double here = meshes[k].nearest(line.point(gap.stations_mm[i]), 1e9)->distance;
                if (here < least) at = k;
                least = std::min(least, here);
            }
            ++nearest_stations[at];
            EXPECT_NEAR(gap.gaps_mm[i], least - 20, 1e-9);
        }
        ASSERT_EQ(each->of_mesh.size(), meshes.size());
        double least = 1e300;
        for (std::size_t k = 0; k < meshes.size(); ++k) {
            const auto alone = nearest(line, {&meshes[k], 1});
            ASSERT_TRUE(alone && each->of_mesh[k]);
            EXPECT_NEAR(each->of_mesh[k]->distance_mm, alone->distance_mm, kTubeOnMeshError_mm);
            EXPECT_EQ(each->of_mesh[k]->mesh, static_cast<int>(k));
            least = std::min(least, each->of_mesh[k]->distance_mm);
        }
        EXPECT_EQ(gap.least_mm, least - 20);
        EXPECT_NEAR(gapAlong(line, 20, meshes)->least_mm, gap.least_mm, kTubeOnMeshError_mm);
    }
    for (const int count : nearest_stations) EXPECT_GT(count, 10);  // or the case says little
}

TEST(TubeGap, AMeshThatIsPlacedIsMeasuredWhereItIs) {
    // The plate in inches, turned upright and shifted: x = 700 in car axes.
    MeshPlacement placement;
    placement.scale = 25.4;
    placement.turn = Eigen::AngleAxisd(M_PI / 2, Vec3::UnitY()).toRotationMatrix();
    placement.shift = {100, 20, 30};
    const TriangleMesh inches = plate(600 / 25.4);
    const PlacedMesh wall(std::make_shared<MeshTree>(inches), placement);
    const TubeGap gap = *gapAlong(arch(0, 900), 20, {&wall, 1});
    EXPECT_NEAR(gap.least_mm, 680, 1e-6);
    EXPECT_NEAR(gap.on_mesh.x(), 700, 1e-9);
    EXPECT_NEAR(wall.inCar().bounds().center().x(), 700, 1e-9);
    // Cut at half height in car axes: what is left begins at z = 1200, over the arch's top.
    const HalfSpace above{{0, 0, 1200}, Vec3::UnitZ()};
    const PlacedMesh upper(std::make_shared<MeshTree>(inches), placement, {&above, 1});
    EXPECT_NEAR(gapAlong(arch(0, 900), 20, {&upper, 1})->least_mm, std::hypot(700, 300) - 20, 1e-6);
    EXPECT_NEAR(upper.inCar().bounds().min().z(), 1200, 1e-6);
    const HalfSpace nowhere{{0, 0, 1e6}, Vec3::UnitZ()};
    const PlacedMesh none(std::make_shared<MeshTree>(inches), placement, {&nowhere, 1});
    EXPECT_FALSE(gapAlong(arch(0, 900), 20, {&none, 1}));
    EXPECT_FALSE(nearest(arch(0, 900), {&none, 1}));
}

TEST(TubeGap, AStretchIsMeasuredByItself) {
    // The arch stands on a plate 30 under its feet; from 100 up its leg the plate is 130 away.
    const PlacedMesh floor(std::make_shared<MeshTree>(plate(-30)), {});
    const Centreline line = arch(0, 900);
    const Stretch part{100, line.length_mm() - 250};
    const TubeGap gap = *gapAlong(line, 20, {&floor, 1}, kGapStep_mm, part);
    EXPECT_NEAR(gap.least_mm, 130 - 20, 1e-9);
    EXPECT_NEAR(gap.least_station_mm, 100, 1e-9);
    EXPECT_NEAR(gap.stations_mm.front(), 100, 1e-9);
    EXPECT_NEAR(gap.stations_mm.back(), line.length_mm() - 250, 1e-9);
    EXPECT_NEAR(nearest(line, {&floor, 1}, 1e9, part)->distance_mm, 130, 1e-9);
    EXPECT_NEAR(nearest(line, {&floor, 1}, 1e9, {300, line.length_mm() - 250})->distance_mm, 280, 1e-9);
    EXPECT_EQ(gapAlong(line, 20, {&floor, 1})->least_mm,
              gapAlong(line, 20, {&floor, 1}, 20, kWholeLine)->least_mm);
}

}  // namespace
}  // namespace hoopwright
