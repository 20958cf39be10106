#include <algorithm>
#include <memory>
#include <ostream>

#include "app/commands/offscreen.h"
#include "app/commands/picture_options.h"
#include "app/commands/progress_line.h"
#include "app/view/bar_marks.h"
#include "app/view/picture_pair.h"
#include "app/view/turntable.h"
#include "core/base/whole_file.h"
#include "core/files/yaml_map.h"
#include "core/model/resolve.h"
#include "render/still.h"
#include "render/view.h"
#include "rules/belt_band.h"

namespace hoopwright {
namespace {

std::string_view viewOfBytes(const QByteArray& bytes) {
    return {bytes.constData(), static_cast<std::size_t>(bytes.size())};
}

Expected<BandSign> beltBandOf(const std::string& driver, std::span<const RuleTableRef> tables, const Job& job,
                              const CageGeometry& cage) {
    const Expected<BeltBand> band = beltBand(tables, job, cage, driver);
    if (!band) return Reason{band.reason()};
    const auto person = std::ranges::find(job.drivers, driver, &Driver::id);
    return bandSign(*band, *person);
}

/// What needs the tables: results, one finding, where the belt bar may be. The exit code where something is
/// wrong.
std::optional<int> addChecked(const CommandLine& line, const JobResult& opened, const CageGeometry& cage,
                              PictureOptions& options, Streams streams) {
    const bool by_result = options.look.colouring == Colouring::by_result;
    if (!by_result && !line.has("--finding") && !line.has("--belt-band")) return std::nullopt;
    const std::optional<std::vector<RuleTableRef>> tables = openTables(line, opened, streams);
    if (!tables) return kExitBadInput;
    if (by_result || line.has("--finding")) {
        const CheckReport report = check(*tables, *opened.job, cage);
        if (by_result) options.marks = marksOf(report, cage);
        if (line.has("--finding")) {
            const Expected<Finding> finding = readFinding(line.value("--finding"), report);
            if (!finding) return refuse(streams, "picture", finding.reason());
            options.finding = *finding;
        }
    }
    if (line.has("--belt-band")) {
        const Expected<BandSign> sign = beltBandOf(line.value("--belt-band"), *tables, *opened.job, cage);
        if (!sign) return refuse(streams, "picture", "--belt-band: " + sign.reason());
        options.band = *sign;
    }
    return std::nullopt;
}

/// The frames together as one animated file, and each as a file of a folder where that is asked for.
int writeTurn(const CommandLine& line, const Job& job, const CageGeometry& cage,
              const PictureOptions& options, Streams streams) {
    const Expected<int> frames =
        wholeNumber("--turntable", line.value("--turntable"), kFewestFrames, kMostFrames);
    if (!frames) return refuse(streams, "picture", frames.reason());
    TurntableFiles files{line.value("--out"), {}};
    if (line.has("--frames")) files.folder = line.value("--frames");
    const std::optional<Problem> problem =
        writeTurntable(job, cage, options, *frames, files, progressLine(streams, "picture"));
    if (!problem) return kExitGood;
    if (problem->at.file.empty()) return refuse(streams, "picture", problem->what);
    print(streams.err, {*problem});
    return kExitBadInput;
}

int writePicture(const CommandLine& line, const Job& job, const CageGeometry& cage,
                 const PictureOptions& options, Streams streams) {
    WholeFile file(line.value("--out"));
    if (file.problem()) {
        print(streams.err, {*file.problem()});
        return kExitBadInput;
    }
    const Expected<std::vector<std::string>> without = readMembers(line, "--without", job.cage);
    if (!without) return refuse(streams, "picture", without.reason());
    const WorkProgress progress = progressLine(streams, "picture");
    const Expected<QImage> picture = without->empty()
                                         ? composePicture(job, cage, options, progress)
                                         : composeWithAndWithout(job, cage, *without, options, progress);
    if (!picture) return refuse(streams, "picture", picture.reason());
    const QByteArray bytes = pngOf(*picture);
    if (bytes.isEmpty()) return refuse(streams, "picture", "the picture could not be turned into PNG");
    file.write(viewOfBytes(bytes));
    if (const std::optional<Problem> problem = file.commit()) {
        print(streams.err, {*problem});
        return kExitBadInput;
    }
    return kExitGood;
}

int runPicture(const CommandLine& line, Streams streams) {
    const std::string file = line.value("--out");
    if (file.empty()) return refuse(streams, "picture", "--out PNG is missing: name the file to write");
    if (!QString::fromStdString(file).endsWith(".png", Qt::CaseInsensitive)) {
        return refuse(streams, "picture",
                      "--out: '" + file + "' does not end in .png: pictures are written as PNG");
    }
    if (line.has("--frames") && !line.has("--turntable"))
        return refuse(streams, "picture", "--frames goes with --turntable: say how many");
    if (line.has("--turntable") && line.has("--without"))
        return refuse(streams, "picture", "--turntable and --without: one or the other");
    const std::optional<JobResult> opened = openJob(line.files()[0], streams);
    if (!opened) return kExitBadInput;
    const Job& job = *opened->job;
    Expected<PictureOptions> options = readPictureOptions(line, job.cage,
                                                          line.has("--turntable") ? "960x540"
                                                          : line.has("--without") ? "1920x780"
                                                                                  : "1920x1080");
    if (!options) return refuse(streams, "picture", options.reason());
    const CageGeometry cage = resolve(job);
    if (line.has("--section")) {
        const Expected<SectionCut> cut = readSection(line.value("--section"), job.cage.unit);
        if (!cut) return refuse(streams, "picture", cut.reason());
        options->look.section = *cut;
    }
    for (const auto& [option, into] :
         {std::pair{"--only", &options->look.only}, std::pair{"--x-ray", &options->selected}}) {
        const Expected<std::vector<std::string>> parts = readParts(line, option, cage);
        if (!parts) return refuse(streams, "picture", parts.reason());
        *into = *parts;
    }
    options->look.x_ray = !options->selected.empty();
    if (const std::optional<int> wrong = addChecked(line, *opened, cage, *options, streams)) return *wrong;
    if (options->look.colouring == Colouring::by_gap) {
        const CarSkin skin = carSkin(job.car, job.scan_meshes);
        options->gaps = barGaps(cage, skin, gapsToSkin(cage, skin));
    }
    const std::unique_ptr<QGuiApplication> application = offscreenApplication();
    return line.has("--turntable") ? writeTurn(line, job, cage, *options, streams)
                                   : writePicture(line, job, cage, *options, streams);
}

}  // namespace

Command pictureCommand() {
    return {"picture",
            {"CAGE"},
            "a picture of the cage as PNG",
            "Draws the cage in its car with its driver and writes a PNG. Views: " + listed(standardViews()) +
                ", and those kept in the cage. No display is needed, nor a graphics card.",
            "hoopwright picture data/cages/mile_pickup.yaml --view left --out pickup.png",
            {{"--out", "PNG", "the file to write"},
             {"--view", "VIEW", "where it is seen from, a kept view too; three_quarter unless said"},
             {"--size", "WIDTHxHEIGHT",
              "in pixels, 1920x1080 unless said; " + std::to_string(kMostSide_px) + " a side at most"},
             {"--paint", "HOW", "colours by place, role, state, tube, result, gap (to the skin) or steel"},
             {"--legend", "", "with a legend, of places too"},
             {"--section", "AXIS=PLACE",
              "cut across x, y or z there, as in x=812; x=812,other keeps the other half"},
             {"--only", "ID", "these bars and plates alone; of a pair .left or .right", true},
             {"--x-ray", "ID", "these in full, all other bars see-through", true},
             {"--upright", "", "perspective with plumb lines upright (two-point)"},
             {"--no-labels", "", "without names and tube sizes"},
             {"--numbers", "", "each bar's number in place of names, the same as on papers"},
             {"--finding", "RULE", "with what a rule measured, as RULE, RULE/SUBJECT or TABLE/RULE/SUBJECT"},
             {"--without", "ID",
              "two beside each other: with these bars, and without them; 1920x780 unless --size says", true},
             {"--turntable", "FRAMES", "once round as an animated PNG; 960x540 unless --size says"},
             {"--frames", "DIR", "of a turntable, each frame as a PNG too: frame_001.png and on"},
             {"--no-dimensions", "", "without the dimensions pinned to the cage"},
             {"--no-car", "", "without the car"},
             {"--no-drivers", "", "without the people"},
             {"--belt-band", "DRIVER", "with the places where the rules let this driver's belt bar be"},
             {"--rules", "FILE",
              "for --belt-band, --finding and results: instead of the tables the cage names", true},
             {"--dark", "", "on a dark ground"}},
            &runPicture};
}

}  // namespace hoopwright
