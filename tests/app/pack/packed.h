// Packs of the demo jobs, and what stands on their pages.
#pragma once

#include <gmock/gmock.h>

#include <map>
#include <memory>
#include <string>
#include <vector>

#include "app/pack/pack_files.h"
#include "app/pack/pack_pages.h"
#include "core/model/resolve.h"
#include "tests/app/sheets/read_back.h"

namespace hoopwright {

namespace fs = std::filesystem;

inline const fs::path kCages = HOOPWRIGHT_SOURCE_DIR "/data/cages";

struct Packed {
    Job job;
    CageGeometry cage;
    std::vector<RuleTableRef> tables;
    InspectorPack pack;
    SheetHead head;
    void make(const fs::path& folder = kCages) {
        cage = resolve(job);
        pack = inspectorPack(job, cage, tables, folder, "2026-03-02");
    }
};
inline std::unique_ptr<Packed> packed(const std::string& name) {
    auto out = std::make_unique<Packed>();
    const JobResult read = readJob(kCages / (name + ".yaml"));
    EXPECT_TRUE(read.job);
    out->job = *read.job;
    for (const fs::path& file : read.files.rules) out->tables.push_back(readRuleTable(file).table);
    out->make();
    out->head.job = out->job.cage.name;
    out->head.revision = "1A2B3C4D";
    out->head.tables = "Club hillclimb, demo 1";
    out->head.unit = out->job.cage.unit;
    return out;
}
inline const Packed& demoPack(const std::string& name) {
    static std::map<std::string, std::unique_ptr<Packed>> kept;
    auto& made = kept[name];
    if (!made) made = packed(name);
    return *made;
}
inline const std::vector<std::string> kDemoPacks = {"hillclimb_saloon", "mile_pickup",
                                                    "faults/hillclimb_saloon"};

inline const std::vector<PackPage>& demoPages(const std::string& name) {
    static std::map<std::string, std::vector<PackPage>> kept;
    auto& made = kept[name];
    if (made.empty()) made = packPages(demoPack(name).head, demoPack(name).pack, {});
    return made;
}

inline std::string wordsOf(const PackPage& page) {
    std::string out;
    for (const DrawnText& text : page.words.texts) out += text.words + "\n";
    return out;
}
/// All pages whose head names it.
inline std::string wordsAbout(const std::vector<PackPage>& pages, const std::string& about) {
    std::string out;
    for (const PackPage& page : pages)
        if (page.words.title.find(about) != std::string::npos) out += wordsOf(page);
    return out;
}

}  // namespace hoopwright
