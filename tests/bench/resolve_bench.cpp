#include <benchmark/benchmark.h>

#include "core/model/resolve.h"
#include "tests/core/model/whole_cage.h"

namespace hoopwright {
namespace {

void resolveSixtyTubes(benchmark::State& state) {
    const Job job = testing::wholeCage();
    for (auto _ : state) benchmark::DoNotOptimize(resolve(job));
    state.counters["tubes"] = static_cast<double>(resolve(job).members.size());
}
BENCHMARK(resolveSixtyTubes)->Unit(benchmark::kMicrosecond);

}  // namespace
}  // namespace hoopwright
