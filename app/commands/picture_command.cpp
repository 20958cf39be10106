#include <QBuffer>
#include <QByteArray>
#include <QImage>
#include <algorithm>
#include <array>
#include <filesystem>
#include <memory>
#include <ostream>

#include "app/commands/command_kit.h"
#include "app/commands/offscreen.h"
#include "app/view/bar_marks.h"
#include "app/view/picture.h"
#include "core/base/text.h"
#include "core/files/yaml_map.h"
#include "core/model/resolve.h"
#include "render/still.h"
#include "render/view.h"
#include "rules/belt_band.h"

namespace hoopwright {
namespace {

/// Qt's "quality" of a PNG, which is lossless at any: packed in a third of the time, a fifth larger.
constexpr int kQuickPng = 80;

struct Size {
    int width = 0, height = 0;
};

Expected<Size> readSize(const std::string& text) {
    const std::size_t by = text.find('x');
    if (by == std::string::npos)
        return Reason{"--size: '" + text + "' is no size: write WIDTHxHEIGHT, such as 1920x1080"};
    const Expected<int> width = wholeNumber("--size", text.substr(0, by), 64, kMostSide_px);
    if (!width) return Reason{width.reason()};
    const Expected<int> height = wholeNumber("--size", text.substr(by + 1), 64, kMostSide_px);
    if (!height) return Reason{height.reason()};
    return Size{*width, *height};
}

const std::vector<std::pair<std::string, Colouring>>& paints() {
    static const std::vector<std::pair<std::string, Colouring>> all = {
        {"place", Colouring::by_place}, {"role", Colouring::by_role},     {"state", Colouring::by_state},
        {"tube", Colouring::by_stock},  {"result", Colouring::by_result}, {"gap", Colouring::by_gap},
        {"steel", Colouring::steel}};
    return all;
}

Expected<Colouring> readPaint(const std::string& word) {
    std::vector<std::string> words;
    for (const auto& [name, colouring] : paints()) {
        if (name == word) return colouring;
        words.push_back(name);
    }
    const std::string near = didYouMean(word, words);
    return Reason{"--paint: '" + word + "' is no way to paint: " +
                  (near.empty() ? "one of " + listed(words) : "did you mean " + near + "?")};
}

/// "x=812", "y=0,other": an axis, a place in the cage's unit, and which half stays.
Expected<SectionCut> readSection(const std::string& text, LengthUnit unit) {
    const Reason wrong{"--section: '" + text +
                       "' is no section: write the axis and the place, such as x=812 or z=600,other"};
    if (text.size() < 3 || text[0] < 'x' || text[0] > 'z' || text[1] != '=') return wrong;
    SectionCut cut;
    cut.axis = text[0] - 'x';
    const std::size_t comma = text.find(',');
    if (comma != std::string::npos && text.substr(comma + 1) != "other") return wrong;
    cut.keep_high = comma != std::string::npos;
    const Expected<double> at = readMeasure(text.substr(2, comma == std::string::npos ? comma : comma - 2),
                                            *unitNamed(unit == LengthUnit::in ? "in" : "mm"));
    if (!at) return Reason{"--section: " + at.reason()};
    cut.at_mm = *at;
    return cut;
}

/// Bars and plates named with an option, or the one the cage has not.
Expected<std::vector<std::string>> readParts(const CommandLine& line, const char* option,
                                             const CageGeometry& cage) {
    const std::vector<std::string> ids = line.values(option);
    for (const std::string& id : ids) {
        if (cage.member(id) >= 0 || cage.plate(id) >= 0) continue;
        std::vector<std::string> known;
        for (const ResolvedMember& member : cage.members) known.push_back(member.id);
        for (const ResolvedPlate& plate : cage.plates) known.push_back(plate.id);
        const std::string near = didYouMean(id, known);
        return Reason{std::string(option) + ": the cage has no bar or plate '" + id + "'" +
                      (near.empty() ? "; of a pair say .left or .right" : ": did you mean " + near + "?")};
    }
    return ids;
}

/// The worst answer about each bar.
std::vector<Mark> marksOf(const CheckReport& report, const CageGeometry& cage) {
    const auto badness = [](Answer answer) {
        constexpr std::array kWorst = {Answer::fails, Answer::cannot_tell, Answer::ask_person, Answer::meets,
                                       Answer::does_not_apply};
        return std::ranges::find(kWorst, answer) - kWorst.begin();
    };
    std::vector<Mark> marks;
    for (const ResolvedMember& member : cage.members) {
        std::optional<Answer> worst;
        for (const Finding& finding : report.findings) {
            const auto& about = finding.evidence.members;
            if (std::ranges::find(about, member.id) == about.end()) continue;
            if (!worst || badness(finding.answer) < badness(*worst)) worst = finding.answer;
        }
        marks.push_back(markOf(worst));
    }
    return marks;
}

Expected<PictureOptions> readOptions(const CommandLine& line) {
    PictureOptions options;
    options.view = line.value("--view", "three_quarter");
    const std::vector<std::string>& views = standardViews();
    if (std::ranges::find(views, options.view) == views.end()) {
        const std::string near = didYouMean(options.view, views);
        return Reason{"--view: '" + options.view + "' is no view: " +
                      (near.empty() ? "one of " + listed(views) : "did you mean " + near + "?")};
    }
    const Expected<Size> size = readSize(line.value("--size", "1920x1080"));
    if (!size) return Reason{size.reason()};
    options.width_px = size->width;
    options.height_px = size->height;
    const Expected<Colouring> paint = readPaint(line.value("--paint", "place"));
    if (!paint) return Reason{paint.reason()};
    options.look.colouring = *paint;
    options.labels = !line.has("--no-labels");
    options.look.dark = line.has("--dark");
    options.look.show_car = !line.has("--no-car");
    options.look.show_drivers = !line.has("--no-drivers");
    options.upright = line.has("--upright");
    options.dimensions = !line.has("--no-dimensions");
    options.legend = options.look.colouring != Colouring::by_place || line.has("--legend");
    return options;
}

Expected<BandSign> beltBandOf(const std::string& driver, std::span<const RuleTableRef> tables, const Job& job,
                              const CageGeometry& cage) {
    const Expected<BeltBand> band = beltBand(tables, job, cage, driver);
    if (!band) return Reason{band.reason()};
    const auto person = std::ranges::find(job.drivers, driver, &Driver::id);
    return bandSign(*band, *person);
}

int runPicture(const CommandLine& line, Streams streams) {
    const std::string file = line.value("--out");
    if (file.empty()) return refuse(streams, "picture", "--out PNG is missing: name the file to write");
    if (!QString::fromStdString(file).endsWith(".png", Qt::CaseInsensitive)) {
        return refuse(streams, "picture",
                      "--out: '" + file + "' does not end in .png: pictures are written as PNG");
    }
    Expected<PictureOptions> options = readOptions(line);
    if (!options) return refuse(streams, "picture", options.reason());
    const std::optional<JobResult> opened = openJob(line.files()[0], streams);
    if (!opened) return kExitBadInput;
    options->lengths.unit = opened->job->cage.unit;
    const CageGeometry cage = resolve(*opened->job);
    if (line.has("--section")) {
        const Expected<SectionCut> cut = readSection(line.value("--section"), opened->job->cage.unit);
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
    const bool by_result = options->look.colouring == Colouring::by_result;
    if (by_result) {
        const std::optional<std::vector<RuleTableRef>> tables = openTables(line, *opened, streams);
        if (!tables) return kExitBadInput;
        options->marks = marksOf(check(*tables, *opened->job, cage), cage);
    }
    if (line.has("--belt-band")) {
        const std::optional<std::vector<RuleTableRef>> tables = openTables(line, *opened, streams);
        if (!tables) return kExitBadInput;
        const Expected<BandSign> sign = beltBandOf(line.value("--belt-band"), *tables, *opened->job, cage);
        if (!sign) return refuse(streams, "picture", "--belt-band: " + sign.reason());
        options->band = *sign;
    }
    if (options->look.colouring == Colouring::by_gap) {
        const CarSkin skin = carSkin(opened->job->car, opened->job->scan_meshes);
        options->gaps = barGaps(cage, skin, gapsToSkin(cage, skin));
    }
    const std::unique_ptr<QGuiApplication> application = offscreenApplication();
    const Expected<QImage> picture = composePicture(*opened->job, cage, *options);
    if (!picture) return refuse(streams, "picture", picture.reason());
    QByteArray bytes;
    QBuffer buffer(&bytes);
    if (!picture->save(&buffer, "PNG", kQuickPng))
        return refuse(streams, "picture", "the picture could not be turned into PNG");
    if (const std::optional<Problem> problem = saveText(file, bytes.toStdString())) {
        print(streams.err, {*problem});
        return kExitBadInput;
    }
    return kExitGood;
}

}  // namespace

Command pictureCommand() {
    return {
        "picture",
        {"CAGE"},
        "a picture of the cage as PNG",
        "Draws the cage in its car with its driver and writes a PNG. Views: " + listed(standardViews()) + ".",
        "hoopwright picture data/cages/mile_pickup.yaml --view left --out pickup.png",
        {{"--out", "PNG", "the file to write"},
         {"--view", "VIEW", "where it is seen from; three_quarter unless said"},
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
         {"--no-dimensions", "", "without the dimensions pinned to the cage"},
         {"--no-car", "", "without the car"},
         {"--no-drivers", "", "without the people"},
         {"--belt-band", "DRIVER", "with the places where the rules let this driver's belt bar be"},
         {"--rules", "FILE", "for --belt-band and results: instead of the tables the cage names", true},
         {"--dark", "", "on a dark ground"}},
        &runPicture};
}

}  // namespace hoopwright
