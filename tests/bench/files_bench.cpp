// Opening and saving a job: the demo saloon, its cage grown to 60 tubes; every file read, the cage written
// back with one value changed and put on disk. What is wanted of load and save together: under 60 ms.
#include <benchmark/benchmark.h>

#include <filesystem>

#include "core/files/job_file.h"

namespace hoopwright {
namespace {

namespace fs = std::filesystem;

/// The demo job in a folder of its own, with as many tubes as asked for.
class GrownJob {
public:
    explicit GrownJob(std::size_t tubes) {
        fs::remove_all(folder_);
        fs::create_directories(folder_);
        for (const char* part : {"cages", "cars", "drivers", "stock"}) {
            fs::copy(fs::path(HOOPWRIGHT_SOURCE_DIR) / "data" / part, folder_ / part,
                     fs::copy_options::recursive);
        }
        const JobResult demo = readJob(file());
        CageLayout cage = demo.job->cage;
        for (std::size_t i = 0; cage.members.size() < tubes; ++i) {
            Member more = cage.members[i];
            more.id += "_" + std::to_string(cage.members.size());
            cage.members.push_back(more);
        }
        saveText(file(), writeCage(cage, demo.files.cage_text));
    }
    ~GrownJob() { fs::remove_all(folder_); }
    fs::path file() const { return folder_ / "cages/hillclimb_saloon.yaml"; }

private:
    fs::path folder_ = fs::temp_directory_path() / "hoopwright_files_bench";
};

void readSixtyTubes(benchmark::State& state) {
    const GrownJob job(60);
    for (auto each : state) benchmark::DoNotOptimize(readJob(job.file()));
    state.counters["bytes"] = static_cast<double>(fs::file_size(job.file()));
}
BENCHMARK(readSixtyTubes)->Unit(benchmark::kMillisecond);

void readChangeAndSaveSixtyTubes(benchmark::State& state) {
    const GrownJob job(60);
    double padding = 1;
    for (auto each : state) {
        JobResult opened = readJob(job.file());
        opened.job->cage.members[30].padding_mm = ++padding;
        saveText(job.file(), writeCage(opened.job->cage, opened.files.cage_text));
    }
}
BENCHMARK(readChangeAndSaveSixtyTubes)->Unit(benchmark::kMillisecond);

void writeSixtyTubesChanged(benchmark::State& state) {
    const GrownJob job(60);
    const JobResult opened = readJob(job.file());
    CageLayout cage = opened.job->cage;
    cage.members[30].padding_mm = 17;
    for (auto each : state) benchmark::DoNotOptimize(writeCage(cage, opened.files.cage_text));
}
BENCHMARK(writeSixtyTubesChanged)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace hoopwright
