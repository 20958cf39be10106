#include <algorithm>
#include <array>
#include <memory>
#include <ostream>

#include "app/commands/command_kit.h"
#include "app/commands/offscreen.h"
#include "app/sheets/measuring_sheet.h"
#include "core/base/text.h"
#include "core/files/yaml_map.h"

namespace hoopwright {
namespace {

template <class T>
using Named = std::vector<std::pair<std::string, T>>;

const Named<Car::Body> kBodies = {{"saloon", Car::Body::saloon},
                                  {"hatchback", Car::Body::hatchback},
                                  {"open", Car::Body::open},
                                  {"pickup", Car::Body::pickup},
                                  {"van", Car::Body::van}};
const Named<Car::Frame> kFrames = {
    {"unibody", Car::Frame::unibody}, {"ladder", Car::Frame::ladder}, {"perimeter", Car::Frame::perimeter}};
const Named<Paper> kPapers = {{"a4", Paper::a4}, {"letter", Paper::letter}};
const Named<LengthUnit> kUnits = {{"mm", LengthUnit::mm}, {"in", LengthUnit::in}};

/// The thing an option's word stands for; what is there already where the option is not given.
template <class T>
std::optional<Reason> choose(const CommandLine& line, const std::string& option, const Named<T>& words,
                             T& out) {
    if (!line.has(option)) return std::nullopt;
    const std::string word = line.value(option);
    std::vector<std::string> known;
    for (const auto& [name, meaning] : words) {
        if (name == word) {
            out = meaning;
            return std::nullopt;
        }
        known.push_back(name);
    }
    const std::string near = didYouMean(word, known);
    return Reason{option + ": '" + word + "' is not known: " +
                  (near.empty() ? "one of " + listed(known) : "did you mean " + near + "?")};
}

int runSheet(const CommandLine& line, Streams streams) {
    const std::string& kind = line.files()[0];
    if (kind != "measuring")
        return refuse(streams, "sheet",
                      "there is no sheet '" + kind + "': the one there is is called measuring");
    const std::string file = line.value("--out");
    if (file.empty()) return refuse(streams, "sheet", "--out PDF is missing: name the file to write");
    if (!file.ends_with(".pdf") && !file.ends_with(".PDF"))
        return refuse(streams, "sheet",
                      "--out: '" + file + "' does not end in .pdf: sheets are written as PDF");

    MeasuringSheetOptions options;
    std::optional<Car> car;
    if (line.files().size() > 1) {
        ReadResult<Car> read = readCar(line.files()[1]);
        if (!read.value) {
            print(streams.err, read.problems);
            return kExitBadInput;
        }
        car = std::move(read.value);
        options.car = &*car;
        options.body = car->body;
        options.frame = car->frame;
        options.unit = unitOf(read.text);
    }
    if (options.unit == LengthUnit::in) options.paper = Paper::letter;
    for (const std::optional<Reason>& wrong :
         {choose(line, "--body", kBodies, options.body), choose(line, "--frame", kFrames, options.frame),
          choose(line, "--units", kUnits, options.unit), choose(line, "--paper", kPapers, options.paper)}) {
        if (wrong) return refuse(streams, "sheet", wrong->text);
    }
    const std::unique_ptr<QGuiApplication> application = offscreenApplication();
    const MeasuringSheet sheet = measuringSheet(options);
    if (const std::optional<Problem> problem = saveText(file, sheet.pdf.toStdString())) {
        print(streams.err, {*problem});
        return kExitBadInput;
    }
    return kExitGood;
}

}  // namespace

Command sheetCommand() {
    return {
        "sheet",
        {"measuring", "[CAR]"},
        "a numbered sheet to measure a car with, as PDF",
        "Draws a car of the kind with every point to be taped numbered in the order you walk round it, left "
        "and "
        "right apart, with a box for each figure. With a car file: its kind, its name, and the figures it "
        "has "
        "already in small. Body: saloon, hatchback, open, pickup, van; frame: unibody, ladder, perimeter.",
        "hoopwright sheet measuring --body hatchback --frame unibody --paper a4 --out measure.pdf",
        {{"--out", "PDF", "the file to write"},
         {"--body", "BODY", "saloon unless said, or the car's"},
         {"--frame", "FRAME", "unibody unless said, or the car's"},
         {"--paper", "a4|letter", "a4 unless said; letter for a car in inches"},
         {"--units", "mm|in", "mm unless said, or the car's"}},
        &runSheet};
}

}  // namespace hoopwright
