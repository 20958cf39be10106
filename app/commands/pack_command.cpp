#include <QDate>
#include <filesystem>
#include <ostream>

#include "app/commands/command_kit.h"
#include "app/commands/offscreen.h"
#include "app/commands/pack_report.h"
#include "app/commands/progress_line.h"
#include "app/commands/text_table.h"
#include "app/pack/pack_files.h"
#include "core/base/whole_file.h"
#include "core/files/yaml_map.h"
#include "core/model/resolve.h"

namespace hoopwright {
namespace {

namespace fs = std::filesystem;

std::string editionsOnPack(const CheckReport& report) {
    std::string out;
    for (const RuleTableInfo& table : report.tables)
        out += (out.empty() ? "" : "; ") + table.title + ", " + table.edition;
    return out;
}

/// All of them or none; what went wrong.
std::optional<Problem> writePack(const fs::path& folder, const std::vector<SheetFile>& files) {
    std::error_code failed;
    fs::create_directories(folder, failed);
    if (failed || !fs::is_directory(folder))
        return Problem{{folder.string(), 0, 0}, "no folder can be made there", "name another with --out"};
    std::vector<WholeFile> whole;
    for (const SheetFile& file : files) {
        whole.emplace_back(folder / file.name);
        whole.back().write(
            std::string_view(file.bytes.constData(), static_cast<std::size_t>(file.bytes.size())));
    }
    return commitAll(whole);
}

void reportPack(std::ostream& out, const InspectorPack& pack, const std::string& folder, std::size_t files) {
    const auto count = [](std::size_t n, const char* word) {
        return std::to_string(n) + " " + word + (n == 1 ? "" : "s");
    };
    out << wrapped((folder.empty() ? std::string() : folder + ": " + count(files, "file") + "; ") +
                       count(pack.tubes.size(), "tube") + ", " + count(pack.joints.size(), "weld") + ", " +
                       count(pack.plates.size(), "plate") + ", " + count(pack.spots.size(), "wall spot") +
                       ", " + count(pack.report.findings.size(), "answer") + ", " +
                       std::to_string(pack.pictured().size()) + " with a picture",
                   0);
    const auto resting = [&](RestsOn what) { return std::to_string(pack.resting(what)); };
    out << wrapped("Answers that rest on measurement: " + resting(RestsOn::measured) + "; on the plan: " +
                       resting(RestsOn::plan) + "; on a person's word: " + resting(RestsOn::person) + ".",
                   2);
    for (const PackDate& one : pack.dates)
        if (one.days_left && *one.days_left < 0) out << wrapped(one.what + " ran out on " + one.due + ".", 2);
    for (const PackInspection& one : pack.inspections)
        if (!one.trouble.empty()) out << wrapped("Inspection of " + one.was.when + ": " + one.trouble, 2);
    for (const PackPhoto& photo : pack.photos)
        if (!photo.there) out << wrapped("The photo " + photo.file + " is not there.", 2);
    out << wrapped(std::string(caution()), 0);
}

int runPack(const CommandLine& line, Streams streams) {
    const std::string folder = line.value("--out");
    if (folder.empty() && !line.has("--json"))
        return refuse(streams, "pack", "--out DIR is missing: name the folder to write to");
    const std::string made = line.value("--when", QDate::currentDate().toString(Qt::ISODate).toStdString());
    if (!isDate(made))
        return refuse(streams, "pack", "--when: '" + made + "' is no date; write it as 2026-03-02");
    const std::optional<JobResult> opened = openJob(line.files()[0], streams);
    if (!opened) return kExitBadInput;
    const std::optional<std::vector<RuleTableRef>> tables = openTables(line, *opened, streams);
    if (!tables) return kExitBadInput;
    const Job& job = *opened->job;
    const std::string usual = job.cage.unit == LengthUnit::in ? "Letter" : "A4";
    const std::string paper = line.value("--paper", usual);
    if (paper != "A4" && paper != "a4" && paper != "Letter" && paper != "letter")
        return refuse(streams, "pack", "--paper: '" + paper + "' is not known: A4 or Letter");
    const CageGeometry cage = resolve(job);
    const InspectorPack pack = inspectorPack(job, cage, *tables, opened->files.cage.parent_path(), made);
    SheetHead head;
    head.job = job.cage.name;
    head.tables = editionsOnPack(pack.report);
    head.revision = revisionOf(opened->files);
    head.shop = job.shop ? job.shop->name : "";
    head.unit = job.cage.unit;
    head.paper = paper == "A4" || paper == "a4" ? Paper::a4 : Paper::letter;
    std::vector<SheetFile> files;
    if (!folder.empty()) {
        const std::unique_ptr<QGuiApplication> application = offscreenApplication();
        files = packFiles(head, pack, progressLine(streams, "pack"));
        if (const std::optional<Problem> problem = writePack(folder, files)) {
            print(streams.err, {*problem});
            return kExitBadInput;
        }
    }
    if (line.has("--json")) {
        std::vector<std::string> names;
        for (const SheetFile& file : files) names.push_back((fs::path(folder) / file.name).generic_string());
        writePackJson(streams.out, pack, head.revision, names);
    } else {
        reportPack(streams.out, pack, folder, files.size());
    }
    return pack.report.allMeet() && cage.problems.empty() ? kExitGood : kExitFallsShort;
}

}  // namespace

Command packCommand() {
    return {
        "pack",
        {"CAGE"},
        "papers for the inspector: PDF and CSV",
        "A numbered line drawing to scale, schedules of tubes, welds and plates, the wall-reading sheet, "
        "clearances and belts of each driver, each table's checklist in its own order with a picture of what "
        "is to be looked at, as built against the plan, what has changed since the last inspection, dates, "
        "photographs, and a declaration for the builder to sign. It is a check of a plan and certifies "
        "nothing. All files are written or none. Ends as check does.",
        "hoopwright pack data/cages/hillclimb_saloon.yaml --out pack",
        {{"--out", "DIR", "the folder to write to; made if it is not there"},
         {"--paper", "A4|Letter", "A4 unless said; Letter for a cage in inches"},
         {"--when", "DATE", "the day it is made, as 2026-03-02; today unless said"},
         {"--rules", "FILE", "check against this table instead of those the cage names", true},
         {"--json", "", "every figure of the pack for programs; --out may then be left out"}},
        &runPack};
}

}  // namespace hoopwright
