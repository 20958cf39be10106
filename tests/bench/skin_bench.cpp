// What colours by gap cost: the skin of the demo saloon, every bar's gap to it, one bar's, and the same with
// a scan of 100 000 triangles.
#include <benchmark/benchmark.h>

#include "core/files/job_file.h"
#include "core/mesh/scan_mesh.h"
#include "core/model/resolve.h"
#include "core/skin/gap_to_skin.h"
#include "tests/core/mesh/made_scan.h"

namespace hoopwright {
namespace {

Job saloon(bool scanned) {
    Job job = *readJob(HOOPWRIGHT_SOURCE_DIR "/data/cages/hillclimb_saloon.yaml").job;
    if (!scanned) return job;
    ReadMesh read;
    read.mesh = madeScan(250, 200);
    CarScan scan;
    scan.file = "cab.stl";
    scan.unit = ScanUnit::mm;
    job.car.scans.push_back(scan);
    job.scan_meshes["cab.stl"] = std::make_shared<const ScanMesh>(std::move(read));
    return job;
}

void Skin(benchmark::State& state) {
    const Job job = saloon(state.range(0));
    for (auto _ : state) benchmark::DoNotOptimize(carSkin(job.car, job.scan_meshes).surfaces.size());
}
BENCHMARK(Skin)->ArgName("scanned")->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);

void GapsOfEveryBar(benchmark::State& state) {
    const Job job = saloon(state.range(0));
    const CageGeometry cage = resolve(job);
    const CarSkin skin = carSkin(job.car, job.scan_meshes);
    for (auto _ : state) benchmark::DoNotOptimize(gapsToSkin(cage, skin).size());
    state.counters["bars"] = static_cast<double>(cage.members.size());
}
BENCHMARK(GapsOfEveryBar)->ArgName("scanned")->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);

void GapsOfTheMainHoop(benchmark::State& state) {
    const Job job = saloon(state.range(0));
    const CageGeometry cage = resolve(job);
    const CarSkin skin = carSkin(job.car, job.scan_meshes);
    const ResolvedMember& hoop = cage.members[static_cast<std::size_t>(cage.member("main_hoop"))];
    for (auto _ : state) benchmark::DoNotOptimize(gapToSkin(hoop, skin)->gap.least_mm);
}
BENCHMARK(GapsOfTheMainHoop)->ArgName("scanned")->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);

void ThinnedForAPicture(benchmark::State& state) {
    const TriangleMesh mesh = madeScan(1000, 1000);
    for (auto _ : state) {
        state.PauseTiming();
        ReadMesh read;
        read.mesh = mesh;
        const ScanMesh scan(std::move(read));
        state.ResumeTiming();
        benchmark::DoNotOptimize(scan.shown().fine.triangles.size());
    }
}
BENCHMARK(ThinnedForAPicture)->Unit(benchmark::kMillisecond)->Iterations(3);

}  // namespace
}  // namespace hoopwright
