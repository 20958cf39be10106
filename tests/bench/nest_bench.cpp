#include <benchmark/benchmark.h>

#include <chrono>
#include <random>

#include "core/shop/nest.h"
#include "tests/bench/stock_columns.h"

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
/// Fifty seeded lists once each: median, nine in ten and worst of their times, and how many were not proved.
void nestFiftyLists(benchmark::State& state, const std::vector<StickLength>& sticks) {
    std::vector<double> each_ms;
    int not_proved = 0;
    for (auto _ : state) {
        for (unsigned seed = 1; seed <= 50; ++seed) {
            const auto pieces = randomPieces(seed, static_cast<int>(state.range(0)), 250, 3200);
            const auto begun = std::chrono::steady_clock::now();
            not_proved += nest(pieces, sticks, 3)->proved ? 0 : 1;
            each_ms.push_back(
                std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - begun).count());
        }
    }
    std::sort(each_ms.begin(), each_ms.end());
    state.counters["median_ms"] = each_ms[each_ms.size() / 2];
    state.counters["nine_in_ten_ms"] = each_ms[each_ms.size() * 9 / 10];
    state.counters["worst_ms"] = each_ms.back();
    state.counters["not_proved"] = not_proved;
}
void fiftyOfOneStickLength(benchmark::State& state) {
    nestFiftyLists(state, {{6096, 100}});
}
void fiftyOfThreeStickLengths(benchmark::State& state) {
    nestFiftyLists(state, {{6096, 100}, {7315, 118}, {3658, 64}});
}
BENCHMARK(fiftyOfOneStickLength)->Arg(60)->Unit(benchmark::kMillisecond)->Iterations(1);
BENCHMARK(fiftyOfThreeStickLengths)->Arg(60)->Unit(benchmark::kMillisecond)->Iterations(1);

#ifdef HOOPWRIGHT_HAVE_GLPK
/// Both sides in turn on the same lists, lengths in whole millimetres: times, their ratio, and what each
/// paid.
void nestAgainstColumns(benchmark::State& state, const std::vector<StickLength>& sticks, IntegerBy by) {
    std::vector<double> ratios;
    double ours_s = 0, theirs_s = 0, ours_paid = 0, theirs_paid = 0;
    int ours_not_proved = 0, theirs_not_proved = 0;
    constexpr double limit_s = 4;
    for (auto _ : state) {
        for (unsigned seed = 1; seed <= 5; ++seed) {
            auto pieces = randomPieces(seed, static_cast<int>(state.range(0)), 250, 3200);
            for (Piece1d& piece : pieces) piece.length_mm = std::round(piece.length_mm);
            const auto begun = std::chrono::steady_clock::now();
            const Expected<NestPlan> ours = nest(pieces, sticks, 3);
            const auto between = std::chrono::steady_clock::now();
            const ColumnPlan theirs = ColumnStock(pieces, sticks, 3, limit_s).solve(by);
            const auto ended = std::chrono::steady_clock::now();
            const double a = std::chrono::duration<double>(between - begun).count();
            const double b = std::chrono::duration<double>(ended - between).count();
            ratios.push_back(b / a);
            ours_s += a;
            theirs_s += b;
            ours_paid += ours->price;
            theirs_paid += theirs.cost;
            ours_not_proved += ours->proved ? 0 : 1;
            theirs_not_proved += theirs.proved ? 0 : 1;
        }
    }
    std::sort(ratios.begin(), ratios.end());
    state.counters["median_ratio"] = ratios[ratios.size() / 2];
    state.counters["ours_s"] = ours_s;
    state.counters["theirs_s"] = theirs_s;
    state.counters["ours_paid"] = ours_paid;
    state.counters["theirs_paid"] = theirs_paid;
    state.counters["ours_not_proved"] = ours_not_proved;
    state.counters["theirs_not_proved"] = theirs_not_proved;
}
const std::vector<StickLength> kOneLength = {{6096, 100}};
const std::vector<StickLength> kThreeLengths = {{6096, 100}, {7315, 118}, {3658, 64}};
BENCHMARK_CAPTURE(nestAgainstColumns, one_length_glpk, kOneLength, IntegerBy::glpk)->Arg(60)->Iterations(1);
BENCHMARK_CAPTURE(nestAgainstColumns, three_lengths_glpk, kThreeLengths, IntegerBy::glpk)
    ->Arg(60)
    ->Iterations(1);
#ifdef HOOPWRIGHT_HAVE_CBC
BENCHMARK_CAPTURE(nestAgainstColumns, one_length_cbc, kOneLength, IntegerBy::cbc)->Arg(60)->Iterations(1);
BENCHMARK_CAPTURE(nestAgainstColumns, three_lengths_cbc, kThreeLengths, IntegerBy::cbc)
    ->Arg(60)
    ->Iterations(1);
#endif
#endif

BENCHMARK(nestOneStickLength)->Arg(20)->Arg(60)->Unit(benchmark::kMillisecond)->Iterations(100);
BENCHMARK(nestLongPieces)->Arg(20)->Arg(60)->Unit(benchmark::kMillisecond)->Iterations(100);
BENCHMARK(nestThreeStickLengths)->Arg(20)->Arg(60)->Unit(benchmark::kMillisecond)->Iterations(100);

}  // namespace
}  // namespace hoopwright
