// The car's surfaces, and the gap from bars to them.
#include <gmock/gmock.h>
#include <unistd.h>

#include <cmath>
#include <filesystem>
#include <fstream>

#include "core/files/job_file.h"
#include "core/files/scan_files.h"
#include "core/mesh/scan_mesh.h"
#include "core/mesh/triangle_distance.h"
#include "core/model/resolve.h"
#include "core/skin/gap_to_skin.h"
#include "core/skin/shell.h"
#include "tests/core/mesh/made_scan.h"
#include "tests/core/mesh/mesh_files.h"

namespace hoopwright {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
namespace fs = std::filesystem;

/// Flat sides at y = +-700, a flat roof at z = 1000; x from -1000 to 1000.
Car boxCar() {
    Car car;
    const std::vector<Vec2> outline = {{700, -100}, {700, 500}, {700, 1000}, {350, 1000}, {0, 1000}};
    car.shell = {{"rear", -1000, outline}, {"front", 1000, outline}};
    return car;
}

ResolvedMember bar(const Vec3& from, const Vec3& to, double od_mm = 40) {
    ResolvedMember out;
    const std::vector<PathPoint> path = {{from, 0}, {to, 0}};
    out.line = makeCentreline(path).line;
    out.section.od_mm = od_mm;
    return out;
}

CarLine ring(const std::string& name, CarLine::Kind kind, double z) {
    return {name, kind, {{-500, -400, z}, {500, -400, z}, {500, 400, z}, {-500, 400, z}}, true};
}

TEST(ShellSections, RunThroughTheStationsNoFartherApartThanForty) {
    const auto sections = shellSections(boxCar().shell);
    ASSERT_GE(sections.size(), 51u);
    EXPECT_EQ(sections.front().x_mm, -1000);
    EXPECT_EQ(sections.back().x_mm, 1000);
    for (std::size_t i = 1; i < sections.size(); ++i) {
        EXPECT_LE(sections[i].x_mm - sections[i - 1].x_mm, 40 + 1e-9);
        EXPECT_EQ(sections[i].half.size(), sections[0].half.size());
    }
    EXPECT_THAT(shellSections({}), IsEmpty());
    EXPECT_THAT(shellSections({boxCar().shell[0]}), IsEmpty());
}

TEST(CarSkin, ShellGlassAndFloorAreSurfacesAndNamed) {
    Car car = boxCar();
    car.lines = {ring("pane", CarLine::Kind::glass, 990),
                 ring("floor", CarLine::Kind::floor, -50),
                 ring("bed", CarLine::Kind::floor, 200),
                 ring("patch", CarLine::Kind::body, 300),
                 {"open", CarLine::Kind::glass, {{0, 0, 500}, {100, 0, 500}, {100, 100, 500}}, false}};
    const CarSkin skin = carSkin(car, {});
    ASSERT_EQ(skin.surfaces.size(), 3u);
    EXPECT_EQ(skin.surfaces[0].kind, SurfaceKind::shell);
    EXPECT_EQ(skin.surfaces[1].kind, SurfaceKind::glass);
    EXPECT_EQ(skin.surfaces[2].kind, SurfaceKind::floor);
    ASSERT_EQ(skin.surfaces[2].parts.size(), 2u);
    EXPECT_EQ(skin.surfaces[2].partAt(0), "floor");
    EXPECT_EQ(skin.surfaces[2].partAt(skin.surfaces[2].parts[1].second), "bed");
    EXPECT_EQ(skin.missing(), "");
    EXPECT_THAT(carSkin(Car(), {}).missing(), HasSubstr("no skin"));
}

TEST(GapToSkin, OfAStraightBarUnderAFlatRoofIsTheDrawings) {
    const CarSkin skin = carSkin(boxCar(), {});
    const auto roof = gapToSkin(bar({-400, 100, 800}, {400, 100, 900}), skin);
    ASSERT_TRUE(roof);
    EXPECT_NEAR(roof->gap.least_mm, 100 - 20, 0.01);
    EXPECT_NEAR(roof->gap.greatest_mm, 200 - 20, kGreatestGapError_mm);
    EXPECT_NEAR(roof->gap.mean_mm, 150 - 20, 0.1);
    EXPECT_NEAR(roof->gap.least_station_mm, std::hypot(800, 100), 0.01);
    EXPECT_EQ(roof->part, "shell");
    const auto side = gapToSkin(bar({-400, -600, 300}, {400, -600, 300}), skin);
    EXPECT_NEAR(side->gap.least_mm, 80, 0.01);
    EXPECT_NEAR(side->gap.on_mesh.y(), -700, 0.01);
    EXPECT_NEAR(side->gap.on_tube.y(), -620, 0.01);
    EXPECT_NEAR(gapToSkin(bar({0, 0, 500}, {0, 0, 1500}), skin)->gap.least_mm, -20, 0.01);
}

TEST(GapToSkin, NeitherTheBottomNorTheEndsOfTheShellAreThere) {
    // Nobody measured them: from below the nearest is a sill's edge, not a closing sheet.
    const CarSkin skin = carSkin(boxCar(), {});
    EXPECT_NEAR(gapToSkin(bar({-400, 0, -100}, {400, 0, -100}), skin)->gap.least_mm, 700 - 20, 0.01);
}

TEST(GapToSkin, EachSurfaceHasItsLeastAndKindsCanBeChosen) {
    Car car = boxCar();
    car.lines = {ring("floor", CarLine::Kind::floor, -50)};
    const CarSkin skin = carSkin(car, {});
    const ResolvedMember post = bar({0, 0, 0}, {0, 0, 900});
    const auto all = gapToSkin(post, skin);
    ASSERT_EQ(all->surfaces.size(), 2u);
    EXPECT_NEAR(all->surfaces[0].least_mm, 80, 0.01);
    EXPECT_NEAR(all->surfaces[0].station_mm, 900, 0.01);
    EXPECT_NEAR(all->surfaces[1].least_mm, 30, 0.01);
    EXPECT_EQ(all->surfaces[1].part, "floor");
    EXPECT_EQ(all->part, "floor");
    EXPECT_NEAR(gapToSkin(post, skin, bitOf(SurfaceKind::shell))->gap.least_mm, 80, 0.01);
    EXPECT_NEAR(gapToSkin(post, skin, bitOf(SurfaceKind::floor))->gap.greatest_mm, 930, kGreatestGapError_mm);
    EXPECT_FALSE(gapToSkin(post, skin, bitOf(SurfaceKind::scan)));
    EXPECT_FALSE(gapToSkin(ResolvedMember(), skin));
}

TEST(GapToSkin, AFootStandsOnTheFloorAndIsNoFault) {
    Car car = boxCar();
    car.lines = {ring("floor", CarLine::Kind::floor, 0)};
    const CarSkin skin = carSkin(car, {});
    ResolvedMember post = bar({0, 0, 0}, {0, 0, 900});
    EXPECT_NEAR(gapToSkin(post, skin)->gap.least_mm, -20, 0.01);
    post.ends[0].on = ResolvedEnd::On::plate;
    const double left_out = kFootLeftOut_od * post.section.od_mm;
    const auto gap = gapToSkin(post, skin, bitOf(SurfaceKind::floor));
    EXPECT_NEAR(gap->gap.least_mm, left_out - 20, 0.01);
    EXPECT_NEAR(gap->surfaces[0].least_mm, left_out - 20, 0.01);
    EXPECT_NEAR(gap->gap.stations_mm.front(), left_out, 1e-9);
    // A stub shorter than that is measured whole.
    post.line = bar({0, 0, 0}, {0, 0, 50}).line;
    EXPECT_NEAR(gapToSkin(post, skin)->gap.least_mm, -20, 0.01);
}

TEST(GapToSkin, TheDemoHoopAgreesWithLookingAtEveryTriangle) {
    const JobResult demo = readJob(HOOPWRIGHT_SOURCE_DIR "/data/cages/hillclimb_saloon.yaml");
    ASSERT_TRUE(demo.job);
    const CageGeometry cage = resolve(*demo.job);
    const CarSkin skin = carSkin(demo.job->car, demo.job->scan_meshes);
    const auto gaps = gapsToSkin(cage, skin);
    ASSERT_EQ(gaps.size(), cage.members.size());
    const auto hoop = static_cast<std::size_t>(cage.member("main_hoop"));
    double least = 1e300;
    const double feet = kFootLeftOut_od * cage.members[hoop].section.od_mm;
    for (double s = feet; s <= cage.members[hoop].line.length_mm() - feet; s += 5) {
        const Vec3 p = cage.members[hoop].line.point(s);
        for (const SkinSurface& surface : skin.surfaces) {
            const TriangleMesh mesh = surface.mesh.inCar();
            for (const Corners& t : mesh.triangles) {
                const Triangle at{mesh.vertices[t[0]], mesh.vertices[t[1]], mesh.vertices[t[2]]};
                least = std::min(least, (nearestOnTriangle(p, at) - p).norm());
            }
        }
    }
    const double radius = cage.members[hoop].radius_mm();
    EXPECT_LE(gaps[hoop]->gap.least_mm, least - radius + 1e-9);
    EXPECT_GE(gaps[hoop]->gap.least_mm, least - radius - 2.5);
    for (const auto& gap : gaps) {
        ASSERT_TRUE(gap);
        EXPECT_LE(gap->gap.least_mm, gap->gap.mean_mm + 1e-9);
        EXPECT_LE(gap->gap.mean_mm, gap->gap.greatest_mm + 1e-9);
    }
}

/// The scan of a wall at x = 600 in car axes, in inches and its own axes, with the pairs to place it.
struct WallScan {
    CarScan said;
    TriangleMesh mesh;
};
WallScan wallScan() {
    WallScan out;
    MeshPlacement place;
    place.scale = 25.4;
    place.turn = Eigen::AngleAxisd(0.7, Vec3(1, 2, 3).normalized()).toRotationMatrix();
    place.shift = {300, -200, 100};
    for (const double y : {-900.0, 900.0})
        for (const double z : {-100.0, 1300.0}) out.mesh.vertices.push_back(place.toMesh({600, y, z}));
    out.mesh.vertices.push_back(place.toMesh({-2000, 0, 500}));
    out.mesh.triangles = {{0, 1, 2}, {1, 3, 2}, {0, 1, 4}};
    out.said.file = "wall.ply";
    out.said.unit = ScanUnit::in;
    for (const Vec3& at :
         {Vec3(600, -900, -100), Vec3(600, 900, -100), Vec3(600, 0, 1300), Vec3(-2000, 0, 500)})
        out.said.pairs.push_back({place.toMesh(at), at});
    // Keeps the wall, not the triangle that runs back from it.
    out.said.cuts = {{{500, 0, 0}, {3, 0, 0}}};
    return out;
}

ScanMeshRef loaded(const TriangleMesh& mesh) {
    return std::make_shared<const ScanMesh>(
        *readMeshBytes(plyFile(mesh, PlyForm::text), MeshKind::ply, "wall.ply").value);
}

TEST(CarSkin, AScanIsMeasuredWhereItsPairsPutIt) {
    const WallScan wall = wallScan();
    Car car;
    car.scans = {wall.said};
    const CarSkin skin = carSkin(car, {{"wall.ply", loaded(wall.mesh)}});
    ASSERT_EQ(skin.surfaces.size(), 1u) << skin.missing();
    EXPECT_EQ(skin.missing(), "");
    EXPECT_LT(skin.scans[0].fit->rms_mm, 1e-6);
    const auto gap = gapToSkin(bar({0, -300, 400}, {100, 300, 400}), skin);
    EXPECT_NEAR(gap->gap.least_mm, 500 - 20, 1e-3);
    EXPECT_NEAR(gap->gap.greatest_mm, 600 - 20, kGreatestGapError_mm);
    EXPECT_EQ(gap->part, "wall.ply");
    // Without the cut the triangle that runs back is nearer: from (600, -900) to (-2000, 0) in plan, and the
    // bar starts at (0, -300).
    car.scans[0].cuts.clear();
    const CarSkin uncut = carSkin(car, {{"wall.ply", loaded(wall.mesh)}});
    EXPECT_NEAR(gapToSkin(bar({0, -300, 400}, {100, 300, 400}), uncut)->gap.least_mm,
                (2600 * 600 - 900 * 600) / std::hypot(2600, 900) - 20, 0.05);
    car.scans[0].box = ScanBox{{550, -5000, -5000}, {650, 5000, 5000}};
    const CarSkin boxed = carSkin(car, {{"wall.ply", loaded(wall.mesh)}});
    EXPECT_NEAR(gapToSkin(bar({0, -300, 400}, {100, 300, 400}), boxed)->gap.least_mm, 480, 60);
}

TEST(CarSkin, AScanThatCannotBePlacedSaysWhyAndLeavesTheRest) {
    const WallScan wall = wallScan();
    Car car = boxCar();
    car.scans = {wall.said};
    EXPECT_THAT(carSkin(car, {}).missing(), HasSubstr("'wall.ply' is not loaded"));
    EXPECT_EQ(carSkin(car, {}).surfaces.size(), 1u);
    const ScanMeshes meshes = {{"wall.ply", loaded(wall.mesh)}};
    car.scans[0].pairs.resize(2);
    EXPECT_THAT(carSkin(car, meshes).missing(), HasSubstr("2 pairs are picked"));
    car.scans[0].pairs.clear();
    EXPECT_EQ(carSkin(car, meshes).missing(), "");
    EXPECT_FALSE(carSkin(car, meshes).scans[0].fit);
    TriangleMesh huge = wall.mesh;
    for (Vec3& vertex : huge.vertices) vertex *= 1e4;
    car.scans[0].unit = ScanUnit::guess;
    EXPECT_THAT(carSkin(car, {{"wall.ply", loaded(huge)}}).missing(), HasSubstr("say its unit"));
    EXPECT_EQ(carSkin(car, meshes).scans[0].unit, ScanUnit::in);
    EXPECT_TRUE(carSkin(car, meshes).scans[0].unit_guessed);
}

class ScanFiles : public testing::Test {
protected:
    void SetUp() override { fs::create_directories(folder_ / "cars" / "scans"); }
    void TearDown() override { fs::remove_all(folder_); }
    void write(const std::string& name, const std::string& bytes) const {
        std::ofstream(folder_ / name, std::ios::binary) << bytes;
    }
    static Car carWith(const std::vector<std::string>& files) {
        Car car;
        for (const std::string& file : files) car.scans.emplace_back().file = file;
        return car;
    }
    fs::path carFile() const { return folder_ / "cars" / "car.yaml"; }
    const fs::path folder_ = fs::path(testing::TempDir()) / ("scan_files_" + std::to_string(::getpid()));
};

TEST_F(ScanFiles, AreReadOnceAndKept) {
    write("cars/scans/a.stl", stlBinary(madeScan(5, 5)));
    const ScanLoad first = loadScans(carWith({"scans/a.stl", "scans/a.stl"}), carFile());
    ASSERT_THAT(first.problems, IsEmpty());
    ASSERT_EQ(first.meshes.size(), 1u);
    const ScanLoad again = loadScans(carWith({"scans/a.stl"}), carFile(), first.meshes);
    EXPECT_EQ(again.meshes.at("scans/a.stl"), first.meshes.at("scans/a.stl"));
    EXPECT_THAT(loadScans(carWith({}), carFile(), first.meshes).meshes, IsEmpty());
    // A job that holds it is copied without copying it.
    Job job;
    job.scan_meshes = first.meshes;
    const Job copy = job;
    EXPECT_EQ(copy, job);
    EXPECT_EQ(copy.scan_meshes.begin()->second.get(), job.scan_meshes.begin()->second.get());
}

TEST_F(ScanFiles, ThatAreNotThereDamagedOrOutsideAreSaid) {
    write("outside.stl", stlBinary(madeScan(5, 5)));
    write("cars/scans/bad.stl", stlBinary(madeScan(5, 5)).substr(0, 400));
    write("cars/scans/good.stl", stlBinary(madeScan(5, 5)));
    const auto problems = [&](const std::string& file) {
        const ScanLoad load = loadScans(carWith({file, "scans/good.stl"}), carFile());
        EXPECT_EQ(load.problems.size(), 1u);
        EXPECT_EQ(load.meshes.size(), 1u);
        return load.problems.empty() ? "" : load.problems[0].text();
    };
    EXPECT_THAT(problems("scans/none.stl"), HasSubstr("there is no file"));
    EXPECT_THAT(problems("scans/bad.stl"), HasSubstr("cut short"));
    EXPECT_THAT(problems("../outside.stl"), HasSubstr("leads out"));
    fs::create_symlink(folder_ / "outside.stl", folder_ / "cars" / "link.stl");
    EXPECT_THAT(problems("link.stl"), HasSubstr("leads out"));
}

TEST_F(ScanFiles, CanBeStopped) {
    write("cars/scans/a.stl", stlBinary(madeScan(150, 200)));
    double last = -1;
    const ScanLoad load = loadScans(carWith({"scans/a.stl"}), carFile(), {}, [&](double done) {
        last = done;
        return false;
    });
    EXPECT_TRUE(load.stopped);
    EXPECT_THAT(load.meshes, IsEmpty());
    EXPECT_GE(last, 0);
}

const std::string kCarHead =
    "hoopwright: car\nversion: 1\nunits: mm\nname: c\nbody: open\nframe: ladder\nground: 0\nscans:\n";

std::string carProblem(const std::string& scan) {
    const ReadResult<Car> read = readCarText(kCarHead + scan, "car");
    EXPECT_FALSE(read.value);
    return read.problems.empty() ? "" : read.problems[0].text();
}

TEST(ScansOfTheCarFile, MayNotLeaveItsFolder) {
    EXPECT_THAT(carProblem("  - {file: /etc/passwd}\n"),
                HasSubstr("car:9:12: file: '/etc/passwd' starts at"));
    EXPECT_THAT(carProblem("  - {file: ../a.stl}\n"),
                HasSubstr("'../a.stl' leads out of the car file's folder"));
    EXPECT_THAT(carProblem("  - {file: scans/../../a.stl}\n"), HasSubstr("leads out"));
    EXPECT_THAT(carProblem("  - {file: ''}\n"), HasSubstr("no file is named"));
    EXPECT_TRUE(readCarText(kCarHead + "  - {file: scans/../a.stl}\n", "car").value);
}

TEST(ScansOfTheCarFile, AreStrict) {
    EXPECT_THAT(carProblem("  - {units: mm}\n"), HasSubstr("file"));
    EXPECT_THAT(carProblem("  - {file: a.stl, units: miles}\n"), HasSubstr("miles"));
    EXPECT_THAT(carProblem("  - {file: a.stl, pairs: [{scan: [1, 2], car: [1, 2, 3]}]}\n"),
                HasSubstr("has 2 numbers"));
    EXPECT_THAT(carProblem("  - {file: a.stl, pairs: [{scan: [1, 2, 3 mm], car: [1, 2, 3]}]}\n"),
                HasSubstr("3 mm"));
    EXPECT_THAT(carProblem("  - {file: a.stl, cuts: [{at: [0, 0, 0], keep: [0, 0, 0]}]}\n"),
                HasSubstr("keep"));
    EXPECT_THAT(carProblem("  - {file: a.stl}\n  - {file: a.stl}\n"), HasSubstr("used already"));
}

TEST(ScansOfTheCarFile, AScansOwnNumbersAreNotTurnedIntoTheFilesUnit) {
    std::string text = kCarHead + "  - {file: a.stl, pairs: [{scan: [1, 2, 3], car: [4, 5, 6]}]}\n";
    text.replace(text.find("units: mm"), 9, "units: in");
    const ReadResult<Car> read = readCarText(text, "car");
    ASSERT_TRUE(read.value);
    EXPECT_EQ(read.value->scans[0].pairs[0].scan, Vec3(1, 2, 3));
    EXPECT_NEAR(read.value->scans[0].pairs[0].car.x(), 4 * 25.4, 1e-9);
}

}  // namespace
}  // namespace hoopwright
