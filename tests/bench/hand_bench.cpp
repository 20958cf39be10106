// One frame of a drag without its picture, in a cage of 60 tubes: where the hand is, what it snaps to, the
// cage that makes, resolved, checked, and the gap to skin and scan (100 000 triangles) of every bar that
// moved. And how long it takes to know how far a grip may go.
#include <benchmark/benchmark.h>

#include <algorithm>

#include "core/edit/cage_edits.h"
#include "core/edit/snap.h"
#include "core/files/job_file.h"
#include "core/mesh/scan_mesh.h"
#include "core/model/resolve.h"
#include "core/skin/gap_to_skin.h"
#include "rules/grip_range.h"
#include "tests/core/mesh/made_scan.h"

namespace hoopwright {
namespace {

constexpr int kRungs = 17;  // on two bars: 60 tubes with the demo's 26

struct Held {
    Job job;
    CageGeometry now;
    std::vector<RuleTableRef> tables;
    CarSkin skin;
    explicit Held() : job(*readJob(HOOPWRIGHT_SOURCE_DIR "/data/cages/hillclimb_saloon.yaml").job) {
        ReadMesh read;
        read.mesh = madeScan(250, 200);
        CarScan scan;
        scan.file = "cab.stl";
        scan.unit = ScanUnit::mm;
        job.car.scans.push_back(scan);
        job.scan_meshes["cab.stl"] = std::make_shared<const ScanMesh>(std::move(read));
        // Rungs from side to side, as many as it takes.
        for (int n = 1; n <= kRungs; ++n)
            for (const char* host : {"side_bar", "rear_brace"}) {
                Member rung = *job.cage.member("dash_bar");
                rung.id = freeId(job.cage, std::string("rung_") + host);
                rung.path.clear();
                for (const char* side : {".left", ".right"}) {
                    Landing landing;
                    landing.host = std::string(host) + side;
                    landing.by = Landing::By::fraction;
                    landing.value = n / (kRungs + 1.0);
                    rung.path.push_back({landing, std::nullopt});
                }
                job.cage.members.push_back(std::move(rung));
            }
        now = resolve(job);
        skin = carSkin(job.car, job.scan_meshes);
        for (const std::string& file : job.cage.rule_files)
            tables.push_back(
                readRuleTable(std::filesystem::path(HOOPWRIGHT_SOURCE_DIR "/data/cages") / file).table);
    }
    Grip grip(const char* part, Grip::Kind kind) const {
        const std::vector<Grip> grips = gripsOf(job, now, part);
        return *std::ranges::find(grips, kind, &Grip::kind);
    }
};

/// @return bars that moved
int frame(const Held& held, const Grip& grip, double by_mm) {
    const Vec3 from = grip.at + Vec3(2500, 1500, 800);
    const Vec3 way = (grip.at + Vec3(by_mm, 0, -by_mm) - from).normalized();
    Vec3 place = placeUnder(held.now, grip, from, way);
    if (const auto snap = snapped(held.job, held.now, grip, place, 4)) place = snap->at;
    const auto cage = pulled(held.job, held.now, grip, place);
    if (!cage) return 0;
    Job job = held.job;
    job.cage = *cage;
    const CageGeometry made = resolve(job);
    benchmark::DoNotOptimize(check(held.tables, job, made).findings.size());
    std::vector<const ResolvedMember*> moved;
    for (std::size_t i = 0; i < made.members.size(); ++i) {
        const Centreline &was = held.now.members[i].line, &is = made.members[i].line;
        if (was.length_mm() == is.length_mm() && was.start() == is.start() && was.end() == is.end()) continue;
        moved.push_back(&made.members[i]);
    }
    benchmark::DoNotOptimize(gapsToSkin(moved, held.skin).size());
    return static_cast<int>(moved.size());
}

void dragFrame(benchmark::State& state, const char* part, Grip::Kind kind) {
    const Held held;
    const Grip grip = held.grip(part, kind);
    double by = 5, moved = 0;
    for (auto _ : state) {
        moved = frame(held, grip, by);
        by = by > 40 ? 5 : by + 0.7;
    }
    state.counters["tubes"] = static_cast<double>(held.now.members.size());
    state.counters["bars_moved"] = moved;
}
BENCHMARK_CAPTURE(dragFrame, landing, "belt_bar", Grip::Kind::landing)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(dragFrame, corner, "main_hoop", Grip::Kind::corner)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(dragFrame, lean, "main_hoop", Grip::Kind::lean)->Unit(benchmark::kMillisecond);

void rangeOfALanding(benchmark::State& state) {
    const Held held;
    const Grip grip = held.grip("belt_bar", Grip::Kind::landing);
    for (auto _ : state)
        benchmark::DoNotOptimize(gripRange(held.tables, held.job, held.now, grip)->track.size());
}
BENCHMARK(rangeOfALanding)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace hoopwright
