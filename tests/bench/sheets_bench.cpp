// What the papers of a cage cost: the saloon's, with forty joints. Figures and pages apart from files; the
// inspector's pack of both demos.
#include <benchmark/benchmark.h>

#include <QGuiApplication>

#include "app/pack/pack_files.h"
#include "app/sheets/sheet_files.h"
#include "core/model/resolve.h"

namespace hoopwright {
namespace {

struct Demo {
    explicit Demo(const char* file) {
        const JobResult read = readJob(std::string(HOOPWRIGHT_SOURCE_DIR "/data/cages/") + file);
        job = *read.job;
        cage = resolve(job);
        for (const auto& rules : read.files.rules) tables.push_back(readRuleTable(rules).table);
        head = sheetHead(job, tables, revisionOf(read.files));
    }
    Job job;
    CageGeometry cage;
    std::vector<RuleTableRef> tables;
    SheetHead head;
};
const Demo& saloon() {
    static const Demo made("hillclimb_saloon.yaml");
    return made;
}

void figures(benchmark::State& state) {
    const Demo& s = saloon();
    for (auto _ : state) benchmark::DoNotOptimize(shopSheets(s.job, s.cage, s.tables).copes.size());
    state.counters["joints"] = static_cast<double>(s.cage.joints.size());
}
BENCHMARK(figures)->Unit(benchmark::kMillisecond);

void pages(benchmark::State& state) {
    const Demo& s = saloon();
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
    const Demo& s = saloon();
    std::size_t count = 0;
    for (auto _ : state) count = sheetFiles(s.head, shopSheets(s.job, s.cage, s.tables), usualKinds()).size();
    state.counters["files"] = static_cast<double>(count);
}
BENCHMARK(everything)->Unit(benchmark::kMillisecond);

/// Check, drawings with hidden lines removed, schedules, wall sheet, checklist: the PDF and every CSV.
void inspectorsPack(benchmark::State& state, const char* file) {
    const Demo demo(file);
    std::size_t bytes = 0;
    for (auto _ : state) {
        bytes = 0;
        const InspectorPack pack = inspectorPack(demo.job, demo.cage, demo.tables,
                                                 HOOPWRIGHT_SOURCE_DIR "/data/cages", "2026-01-01");
        for (const SheetFile& one : packFiles(demo.head, pack))
            bytes += static_cast<std::size_t>(one.bytes.size());
    }
    state.counters["bytes"] = static_cast<double>(bytes);
}
BENCHMARK_CAPTURE(inspectorsPack, saloon, "hillclimb_saloon.yaml")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(inspectorsPack, pickup, "mile_pickup.yaml")->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace hoopwright

int main(int argc, char** argv) {
    qputenv("QT_QPA_PLATFORM", "offscreen");
    const QGuiApplication application(argc, argv);
    benchmark::Initialize(&argc, argv);
    benchmark::RunSpecifiedBenchmarks();
}
