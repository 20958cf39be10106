#include <QBuffer>
#include <QByteArray>
#include <QImage>
#include <algorithm>
#include <filesystem>
#include <memory>
#include <ostream>

#include "app/commands/command_kit.h"
#include "app/commands/offscreen.h"
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
    static const std::vector<std::pair<std::string, Colouring>> all = {{"place", Colouring::by_place},
                                                                       {"tube", Colouring::by_stock},
                                                                       {"gap", Colouring::by_gap},
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
         {"--paint", "HOW", "colours by place (unless said), tube, gap (to the car's skin) or steel"},
         {"--no-labels", "", "without names and dimensions"},
         {"--no-car", "", "without the car"},
         {"--no-drivers", "", "without the people"},
         {"--belt-band", "DRIVER", "with the places where the rules let this driver's belt bar be"},
         {"--rules", "FILE", "with --belt-band: this table instead of those the cage names", true},
         {"--dark", "", "on a dark ground"}},
        &runPicture};
}

}  // namespace hoopwright
