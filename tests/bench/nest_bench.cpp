#include <benchmark/benchmark.h>

#include <random>

#include "core/shop/nest.h"

namespace hoopwright {
namespace {

std::vector<Piece1d> randomPieces(unsigned seed, int count, double least_mm, double most_mm) {
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> length(least_mm, most_mm);
    std::vector<Piece1d> pieces;
    for (int i = 0; i < count; ++i) pieces.push_back({"piece", length(random)});
    return pieces;
}

/// Twenty lists in turn, so that one lucky or unlucky list does not stand for all.
void nestLists(benchmark::State& state, double least_mm, double most_mm,
               const std::vector<StickLength>& sticks) {
    std::vector<std::vector<Piece1d>> lists;
    for (unsigned seed = 1; seed <= 20; ++seed)
        lists.push_back(randomPieces(seed, static_cast<int>(state.range(0)), least_mm, most_mm));
    int not_proved = 0;
    std::size_t turn = 0;
    for (auto _ : state) not_proved += nest(lists[turn++ % lists.size()], sticks, 3)->proved ? 0 : 1;
    state.counters["not_proved"] = not_proved;
}

void nestOneStickLength(benchmark::State& state) {
    nestLists(state, 250, 3200, {{6096, 0}});
}
void nestLongPieces(benchmark::State& state) {
    nestLists(state, 700, 4000, {{6096, 0}});
}
void nestThreeStickLengths(benchmark::State& state) {
    nestLists(state, 250, 3200, {{6096, 100}, {7315, 118}, {3658, 64}});
}
BENCHMARK(nestOneStickLength)->Arg(20)->Arg(60)->Unit(benchmark::kMillisecond)->Iterations(100);
BENCHMARK(nestLongPieces)->Arg(20)->Arg(60)->Unit(benchmark::kMillisecond)->Iterations(100);
BENCHMARK(nestThreeStickLengths)->Arg(20)->Arg(60)->Unit(benchmark::kMillisecond)->Iterations(100);

}  // namespace
}  // namespace hoopwright
