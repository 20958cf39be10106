// A main hoop fitted to the demo cars, bare and with a scan of 100 000 triangles. With NLopt: its own way to
// the same hoop in the same run, and the ratio.
#include <benchmark/benchmark.h>

#include <chrono>

#include "core/mesh/scan_mesh.h"
#include "tests/core/mesh/made_scan.h"
#include "tests/outside/fit/hoop_measure.h"
#ifdef HOOPWRIGHT_HAVE_NLOPT
#include <nlopt.h>
#endif

namespace hoopwright {
namespace {

using Clock = std::chrono::steady_clock;

double secondsSince(Clock::time_point start) {
    return std::chrono::duration<double>(Clock::now() - start).count();
}

/// Arguments: bends; sides alike.
void HoopOfTheSaloon(benchmark::State& state) {
    const DemoHoop demo("hillclimb_saloon");
    HoopWish wish = demo.wish;
    wish.bends = static_cast<int>(state.range(0));
    wish.sides_alike = state.range(1) != 0;
    double score = 0;
    for (auto _ : state) score = fitHoop(demo.car, wish)->bar.after.score_mm;
    state.counters["score_mm"] = score;
}
BENCHMARK(HoopOfTheSaloon)->ArgsProduct({{2, 4, 6}, {1, 0}})->Unit(benchmark::kMillisecond);

void HoopOfTheSaloonWithAScan(benchmark::State& state) {
    DemoHoop demo("hillclimb_saloon");
    // The made shell is bigger than the saloon: shrunk to lie just inside its skin.
    TriangleMesh mesh = madeScan(250, 200);
    for (Vec3& p : mesh.vertices) p = Vec3(p.x(), 0.8 * p.y(), 0.92 * p.z());
    ReadMesh read;
    read.mesh = std::move(mesh);
    CarScan scan;
    scan.file = "cab.stl";
    scan.unit = ScanUnit::mm;
    demo.job.car.scans = {scan};
    const FitCar car(demo.job.car, {{"cab.stl", std::make_shared<const ScanMesh>(std::move(read))}});
    HoopWish wish = demo.wish;
    wish.left_foot.y() = 550;
    wish.right_foot.y() = -550;
    wish.bends = static_cast<int>(state.range(0));
    double score = 0;
    for (auto _ : state) {
        const auto fit = fitHoop(car, wish);
        score = fit ? fit->bar.after.score_mm : -1;
    }
    state.counters["score_mm"] = score;
}
BENCHMARK(HoopOfTheSaloonWithAScan)->Arg(2)->Arg(4)->Unit(benchmark::kMillisecond);

#ifdef HOOPWRIGHT_HAVE_NLOPT
/// Counters: how many times longer COBYLA takes to come within 1 % of ours from the same first guess, and the
/// score each ends with.
void AgainstNlopt(benchmark::State& state) {
    const DemoHoop demo("hillclimb_saloon");
    HoopWish wish = demo.wish;
    wish.bends = static_cast<int>(state.range(0));
    const HoopMeasure hoop(demo.car, hoopStarts(demo.car, wish, wish.bends));
    double ours_s = 0, theirs_s = 0, ours = 0, theirs = 0;
    struct Asked {
        const HoopMeasure& hoop;
        double enough, best;
        nlopt_opt search;
    };
    for (auto _ : state) {
        auto start = Clock::now();
        ours = fitHoop(demo.car, wish)->bar.after.score_mm;
        ours_s += secondsSince(start);
        start = Clock::now();
        Asked asked{hoop, 1.01 * ours, 1e300,
                    nlopt_create(NLOPT_LN_COBYLA, static_cast<unsigned>(hoop.count()))};
        nlopt_set_min_objective(
            asked.search,
            [](unsigned, const double* x, double*, void* data) {
                auto& of = *static_cast<Asked*>(data);
                const HoopMeasure::Value value = of.hoop.at(of.hoop.path(0, x));
                if (value.missed_mm() <= kFitError_mm) of.best = std::min(of.best, value.score_mm);
                if (of.best <= of.enough) nlopt_force_stop(of.search);
                return value.score_mm;
            },
            &asked);
        std::vector<double> x(hoop.count(), 0);
        const auto limits = static_cast<unsigned>(hoop.at(hoop.path(0, x.data())).limits_mm.size());
        const std::vector<double> tolerance(limits, kFitError_mm / 2);
        nlopt_add_inequality_mconstraint(
            asked.search, limits,
            [](unsigned count, double* result, unsigned, const double* at, double*, void* data) {
                auto& of = *static_cast<Asked*>(data);
                const HoopMeasure::Value value = of.hoop.at(of.hoop.path(0, at));
                for (unsigned i = 0; i < count; ++i) result[i] = -value.limits_mm[i];
            },
            &asked, tolerance.data());
        nlopt_set_initial_step1(asked.search, 30);
        nlopt_set_maxeval(asked.search, 2000);
        double f = 0;
        nlopt_optimize(asked.search, x.data(), &f);
        nlopt_destroy(asked.search);
        theirs_s += secondsSince(start);
        theirs = asked.best;
    }
    const double runs = static_cast<double>(state.iterations());
    state.counters["ours_ms"] = 1000 * ours_s / runs;
    state.counters["ratio"] = theirs_s / ours_s;
    state.counters["ours_mm"] = ours;
    state.counters["nlopt_mm"] = theirs;
}
BENCHMARK(AgainstNlopt)->Arg(2)->Arg(4)->Unit(benchmark::kMillisecond)->Iterations(5);
#endif

}  // namespace
}  // namespace hoopwright
