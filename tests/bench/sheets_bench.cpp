// What the papers of a cage cost: the saloon's, with forty joints. Figures and pages apart from files.
#include <benchmark/benchmark.h>

#include <QGuiApplication>

#include "app/sheets/sheet_files.h"
#include "core/model/resolve.h"

namespace hoopwright {
namespace {

struct Saloon {
    Saloon() {
        const JobResult read = readJob(HOOPWRIGHT_SOURCE_DIR "/data/cages/hillclimb_saloon.yaml");
        job = *read.job;
        cage = resolve(job);
        for (const auto& file : read.files.rules) tables.push_back(readRuleTable(file).table);
        head = sheetHead(job, tables, revisionOf(read.files));
    }
    Job job;
    CageGeometry cage;
    std::vector<RuleTableRef> tables;
    SheetHead head;
};
const Saloon& saloon() {
    static const Saloon made;
    return made;
}

void figures(benchmark::State& state) {
    const Saloon& s = saloon();
    for (auto _ : state) benchmark::DoNotOptimize(shopSheets(s.job, s.cage, s.tables).copes.size());
    state.counters["joints"] = static_cast<double>(s.cage.joints.size());
}
BENCHMARK(figures)->Unit(benchmark::kMillisecond);

void pages(benchmark::State& state) {
    const Saloon& s = saloon();
    const ShopSheets sheets = shopSheets(s.job, s.cage, s.tables);
    std::size_t count = 0;
    for (auto _ : state) {
        count = 0;
        for (const SheetKind kind : usualKinds()) count += pagesOf(kind, s.head, sheets).size();
    }
    state.counters["pages"] = static_cast<double>(count);
}
BENCHMARK(pages)->Unit(benchmark::kMillisecond);

/// All of it: figures, pages, PDF, SVG, DXF and CSV of every kind that is made unless said.
void everything(benchmark::State& state) {
    const Saloon& s = saloon();
    std::size_t count = 0;
    for (auto _ : state) count = sheetFiles(s.head, shopSheets(s.job, s.cage, s.tables), usualKinds()).size();
    state.counters["files"] = static_cast<double>(count);
}
BENCHMARK(everything)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace hoopwright

int main(int argc, char** argv) {
    qputenv("QT_QPA_PLATFORM", "offscreen");
    const QGuiApplication application(argc, argv);
    benchmark::Initialize(&argc, argv);
    benchmark::RunSpecifiedBenchmarks();
}
