// A scan of 100 000 triangles and 60 bent tubes: the tree, least distances, gaps all along; a scan of two
// million read. With Embree and FCL: the same in turns, and in the same run the ratios.
#include <benchmark/benchmark.h>

#include <bit>
#include <chrono>
#include <filesystem>
#include <fstream>

#include "core/mesh/read_mesh.h"
#include "core/mesh/triangle_distance.h"
#include "core/mesh/tube_gap.h"
#include "tests/core/mesh/made_scan.h"
#include "tests/core/mesh/mesh_files.h"

#ifdef HOOPWRIGHT_HAVE_EMBREE
#include <embree3/rtcore.h>
#endif
#ifdef HOOPWRIGHT_HAVE_FCL
#include <fcl/fcl.h>
#endif

namespace hoopwright {
namespace {

constexpr int kRows = 250, kColumns = 200;
using Clock = std::chrono::steady_clock;

double secondsSince(Clock::time_point start) {
    return std::chrono::duration<double>(Clock::now() - start).count();
}

PlacedMesh placedScan() {
    return {std::make_shared<MeshTree>(madeScan(kRows, kColumns)), {}};
}

double leastOfAll(const std::vector<Centreline>& tubes, const PlacedMesh& mesh) {
    double sum = 0;
    for (const Centreline& tube : tubes) sum += nearest(tube, {&mesh, 1})->distance_mm;
    return sum;
}

void TreeOver100000Triangles(benchmark::State& state) {
    const TriangleMesh mesh = madeScan(kRows, kColumns);
    for (auto _ : state) {
        state.PauseTiming();
        TriangleMesh copy = mesh;
        state.ResumeTiming();
        const MeshTree tree(std::move(copy));
        benchmark::DoNotOptimize(&tree);
    }
}
BENCHMARK(TreeOver100000Triangles)->Unit(benchmark::kMillisecond);

void LeastDistancesOf60Tubes(benchmark::State& state) {
    const PlacedMesh mesh = placedScan();
    const auto tubes = tubesInScan(60);
    double metres = 0;
    for (const Centreline& tube : tubes) metres += tube.length_mm() / 1000;
    for (auto _ : state) benchmark::DoNotOptimize(leastOfAll(tubes, mesh));
    state.counters["metres"] = metres;
}
BENCHMARK(LeastDistancesOf60Tubes)->Unit(benchmark::kMillisecond);

void GapsAlong60Tubes(benchmark::State& state) {
    const PlacedMesh mesh = placedScan();
    const auto tubes = tubesInScan(60);
    for (auto _ : state) {
        double sum = 0;
        for (const Centreline& tube : tubes) sum += gapAlong(tube, 20, {&mesh, 1})->mean_mm;
        benchmark::DoNotOptimize(sum);
    }
}
BENCHMARK(GapsAlong60Tubes)->Unit(benchmark::kMillisecond);

void ReadTwoMillionTriangles(benchmark::State& state) {
    const auto file = std::filesystem::temp_directory_path() / "hoopwright_bench.stl";
    std::ofstream(file, std::ios::binary) << stlBinary(madeScan(1000, 1000));
    double tree_s = 0;
    for (auto _ : state) {
        MeshResult read = readMesh(file);
        state.PauseTiming();
        const auto start = Clock::now();
        const MeshTree tree(std::move(read.value->mesh));
        tree_s = secondsSince(start);
        state.ResumeTiming();
    }
    state.counters["tree_s"] = tree_s;
    std::filesystem::remove(file);
}
BENCHMARK(ReadTwoMillionTriangles)->Unit(benchmark::kMillisecond)->Iterations(3);

#ifdef HOOPWRIGHT_HAVE_EMBREE
/// Embree finds the boxes; the distance to a triangle it leaves to its user. Places every `step` along each
/// tube.
class EmbreeScan {
public:
    explicit EmbreeScan(const TriangleMesh& mesh)
        : mesh_(mesh), device_(rtcNewDevice("threads=1")), scene_(rtcNewScene(device_)) {
        RTCGeometry geometry = rtcNewGeometry(device_, RTC_GEOMETRY_TYPE_TRIANGLE);
        auto* at = static_cast<float*>(rtcSetNewGeometryBuffer(
            geometry, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3, 3 * sizeof(float), mesh.vertices.size()));
        for (const Vec3& vertex : mesh.vertices)
            for (const double part : vertex) *at++ = static_cast<float>(part);
        auto* index = static_cast<std::uint32_t*>(
            rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3,
                                    3 * sizeof(std::uint32_t), mesh.triangles.size()));
        for (const Corners& t : mesh.triangles)
            for (const std::uint32_t corner : t) *index++ = corner;
        rtcCommitGeometry(geometry);
        rtcAttachGeometry(scene_, geometry);
        rtcReleaseGeometry(geometry);
        rtcCommitScene(scene_);
    }
    ~EmbreeScan() {
        rtcReleaseScene(scene_);
        rtcReleaseDevice(device_);
    }
    EmbreeScan(const EmbreeScan&) = delete;
    EmbreeScan& operator=(const EmbreeScan&) = delete;

    double least(const Centreline& tube, double step_mm) const {
        struct Search {
            const TriangleMesh& mesh;
            Vec3 p;
            double best;
        } search{mesh_, Vec3::Zero(), 1e30};
        const int steps = static_cast<int>(tube.length_mm() / step_mm) + 1;
        for (int i = 0; i <= steps; ++i) {
            search.p = tube.point(tube.length_mm() * i / steps);
            RTCPointQuery query{};
            query.x = static_cast<float>(search.p.x());
            query.y = static_cast<float>(search.p.y());
            query.z = static_cast<float>(search.p.z());
            query.radius = static_cast<float>(search.best);
            RTCPointQueryContext context;
            rtcInitPointQueryContext(&context);
            rtcPointQuery(
                scene_, &query, &context,
                [](RTCPointQueryFunctionArguments* found) {
                    auto& now = *static_cast<Search*>(found->userPtr);
                    const Corners& t = now.mesh.triangles[found->primID];
                    const Triangle triangle{now.mesh.vertices[t[0]], now.mesh.vertices[t[1]],
                                            now.mesh.vertices[t[2]]};
                    const double d = (nearestOnTriangle(now.p, triangle) - now.p).norm();
                    if (d >= now.best) return false;
                    now.best = d;
                    found->query->radius = static_cast<float>(d);
                    return true;
                },
                &search);
        }
        return search.best;
    }

private:
    const TriangleMesh& mesh_;
    RTCDevice device_;
    RTCScene scene_;
};

/// Counters: how many times longer Embree takes for the tree, for places every 20 mm, every 5 mm; and how far
/// the latter are off what is exact.
void AgainstEmbree(benchmark::State& state) {
    const TriangleMesh mesh = madeScan(kRows, kColumns);
    const auto tubes = tubesInScan(60);
    double our_tree = 0, their_tree = 0, ours = 0, at_20 = 0, at_5 = 0, off_20 = 0, off_5 = 0;
    for (auto _ : state) {
        auto start = Clock::now();
        const PlacedMesh placed(std::make_shared<MeshTree>(mesh), {});
        our_tree += secondsSince(start);
        start = Clock::now();
        const EmbreeScan embree(mesh);
        their_tree += secondsSince(start);
        leastOfAll(tubes, placed);  // once, so that both start warm
        for (const Centreline& tube : tubes) embree.least(tube, 20);
        for (const Centreline& tube : tubes) {
            start = Clock::now();
            const double exact = nearest(tube, {&placed, 1})->distance_mm;
            ours += secondsSince(start);
            start = Clock::now();
            const double rough = embree.least(tube, 20);
            at_20 += secondsSince(start);
            start = Clock::now();
            const double fine = embree.least(tube, 5);
            at_5 += secondsSince(start);
            off_20 = std::max(off_20, rough - exact);
            off_5 = std::max(off_5, fine - exact);
        }
    }
    const double runs = static_cast<double>(state.iterations());
    state.counters["ours_ms"] = 1000 * ours / runs;
    state.counters["ratio_tree"] = their_tree / our_tree;
    state.counters["ratio_20"] = at_20 / ours;
    state.counters["ratio_5"] = at_5 / ours;
    state.counters["off_20_mm"] = off_20;
    state.counters["off_5_mm"] = off_5;
}
BENCHMARK(AgainstEmbree)->Unit(benchmark::kMillisecond)->Iterations(7);
#endif

#ifdef HOOPWRIGHT_HAVE_FCL
/// FCL on capsules along chords of the tubes. Counters: how many times longer it takes for the tree, for the
/// distances.
void AgainstFcl(benchmark::State& state) {
    const TriangleMesh mesh = madeScan(kRows, kColumns);
    const auto tubes = tubesInScan(60);
    double our_tree = 0, their_tree = 0, ours = 0, theirs = 0;
    for (auto _ : state) {
        auto start = Clock::now();
        const PlacedMesh placed(std::make_shared<MeshTree>(mesh), {});
        our_tree += secondsSince(start);
        start = Clock::now();
        auto model = std::make_shared<fcl::BVHModel<fcl::OBBRSSd>>();
        std::vector<fcl::Triangle> triangles;
        for (const Corners& t : mesh.triangles) triangles.emplace_back(t[0], t[1], t[2]);
        model->beginModel();
        model->addSubModel(mesh.vertices, triangles);
        model->endModel();
        const fcl::CollisionObjectd scan(model);
        their_tree += secondsSince(start);
        for (const Centreline& tube : tubes) {
            start = Clock::now();
            benchmark::DoNotOptimize(nearest(tube, {&placed, 1})->distance_mm);
            ours += secondsSince(start);
            start = Clock::now();
            const std::vector<double> stations = tube.sampleStations(0.05);
            fcl::DistanceResultd result;  // carried along, so that the best so far prunes
            for (std::size_t i = 1; i < stations.size(); ++i) {
                const Vec3 from = tube.point(stations[i - 1]), to = tube.point(stations[i]);
                const auto capsule = std::make_shared<fcl::Capsuled>(20, (to - from).norm());
                fcl::Transform3d at = fcl::Transform3d::Identity();
                at.linear() = Eigen::Quaterniond::FromTwoVectors(Vec3::UnitZ(), to - from).toRotationMatrix();
                at.translation() = (from + to) / 2;
                const fcl::CollisionObjectd chord(capsule, at);
                benchmark::DoNotOptimize(fcl::distance(&chord, &scan, fcl::DistanceRequestd(), result));
            }
            theirs += secondsSince(start);
        }
    }
    state.counters["ratio_tree"] = their_tree / our_tree;
    state.counters["ratio"] = theirs / ours;
}
BENCHMARK(AgainstFcl)->Unit(benchmark::kMillisecond)->Iterations(3);
#endif

}  // namespace
}  // namespace hoopwright
