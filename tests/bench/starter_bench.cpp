// Starters of both demo cars: laid out with every bar fitted, and chosen for their classes.
#include <benchmark/benchmark.h>

#include "core/files/job_file.h"
#include "rules/starter_choice.h"

namespace hoopwright {
namespace {

struct Class {
    Job site;
    std::vector<RuleTableRef> tables;
    explicit Class(bool pickup) {
        const JobResult read = readJob(std::string(HOOPWRIGHT_SOURCE_DIR) + "/data/cages/" +
                                       (pickup ? "mile_pickup" : "hillclimb_saloon") + ".yaml");
        site = *read.job;
        for (const auto& file : read.files.rules) tables.push_back(readRuleTable(file).table);
    }
};

StarterWish wishFor(benchmark::State& state) {
    StarterWish wish;
    const Starter& starter = starters()[static_cast<std::size_t>(state.range(1))];
    wish.starter = starter.id;
    state.SetLabel(wish.starter);
    return wish;
}

void everyStarter(benchmark::internal::Benchmark* bench) {
    for (const int pickup : {0, 1})
        for (std::size_t i = 0; i < starters().size(); ++i) bench->Args({pickup, static_cast<int>(i)});
    bench->Unit(benchmark::kMillisecond);
}

/// Laid out, bars fitted: a maker that knows nothing yet.
void LaidOut(benchmark::State& state) {
    const Class demo(state.range(0) != 0);
    const StarterWish wish = wishFor(state);
    for (auto _ : state) benchmark::DoNotOptimize(StarterMaker(demo.site).make(wish));
}
BENCHMARK(LaidOut)->Apply(everyStarter);

/// With tubes and options chosen, and other starters tried where a rule falls short.
void Chosen(benchmark::State& state) {
    const Class demo(state.range(0) != 0);
    const StarterWish wish = wishFor(state);
    for (auto _ : state) benchmark::DoNotOptimize(StarterChooser(demo.tables, demo.site).choose(wish));
}
BENCHMARK(Chosen)->Apply(everyStarter);

/// What every option does, by a chooser that has just chosen: after a switch is turned in the window.
void Effects(benchmark::State& state) {
    const Class demo(state.range(0) != 0);
    const StarterWish wish = wishFor(state);
    StarterChooser chooser(demo.tables, demo.site);
    const StarterWish chosen = chooser.choose(wish)->wish;
    for (auto _ : state) benchmark::DoNotOptimize(chooser.effects(chosen));
}
BENCHMARK(Effects)->Apply(everyStarter);

}  // namespace
}  // namespace hoopwright
