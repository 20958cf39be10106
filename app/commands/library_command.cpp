#include <ostream>

#include "app/commands/command_kit.h"
#include "app/commands/json.h"
#include "app/commands/text_table.h"
#include "core/files/car_library.h"

namespace hoopwright {
namespace {

namespace fs = std::filesystem;

int ended(Streams streams, const Problems& problems, const std::string& done) {
    print(streams.err, problems);
    if (!problems.empty()) return kExitBadInput;
    streams.out << done << "\n";
    return kExitGood;
}

Existing existing(const CommandLine& line) {
    return line.has("--replace") ? Existing::replace : Existing::keep;
}

int add(const CommandLine& line, Streams streams) {
    if (line.files().size() < 2) return refuse(streams, "library", "add: no car file is named");
    const fs::path file = line.files()[1];
    const std::string name = line.value("--name", libraryName(file));
    return ended(streams, addToLibrary(carLibraryFolder(), file, name, existing(line)), "kept as " + name);
}

int use(const CommandLine& line, Streams streams) {
    if (line.files().size() < 2) return refuse(streams, "library", "use: no car of the library is named");
    const std::string out = line.value("--out");
    if (out.empty()) return refuse(streams, "library", "--out FILE is missing: name the file to write");
    return ended(streams, useFromLibrary(carLibraryFolder(), line.files()[1], out, existing(line)),
                 "written to " + out);
}

void writeJson(std::ostream& out, const std::vector<LibraryCar>& cars) {
    JsonWriter json(out);
    const auto top = json.object();
    json.text("hoopwright", "library");
    json.whole("version", 1);
    json.text("folder", carLibraryFolder().string());
    const auto list = json.list("cars");
    for (const LibraryCar& one : cars) {
        const auto each = json.object();
        json.text("name", one.name);
        json.text("file", one.file.string());
        json.text("car", one.car ? one.car->name : "");
        json.text("body", one.car ? bodyWord(one.car->body) : "");
        json.text("frame", one.car ? frameWord(one.car->frame) : "");
        json.whole("points", one.car ? static_cast<long long>(one.car->points.size()) : 0);
        {
            const auto lessons = json.list("lessons");
            if (one.car) {
                for (const Lesson& lesson : one.car->lessons) {
                    const auto said = json.object();
                    json.text("about", lesson.about);
                    json.text("when", lesson.when);
                    json.text("note", lesson.note);
                }
            }
        }
        std::vector<std::string> problems;
        for (const Problem& problem : one.problems) problems.push_back(problem.text());
        json.texts("problems", problems);
    }
}

int list(const CommandLine& line, Streams streams) {
    if (line.files().size() > 1) return refuse(streams, "library", "list: takes no name");
    const std::vector<LibraryCar> cars = libraryCars(carLibraryFolder());
    if (line.has("--json")) {
        writeJson(streams.out, cars);
        return kExitGood;
    }
    if (cars.empty()) streams.out << "No cars are kept yet in " << carLibraryFolder().string() << "\n";
    TextTable rows({Align::left, Align::left, Align::left, Align::right, Align::right});
    const auto count = [](std::size_t n, const std::string& one, const std::string& many) {
        return std::to_string(n) + " " + (n == 1 ? one : many);
    };
    for (const LibraryCar& one : cars) {
        if (!one.car) {
            rows.add({one.name, "cannot be read: " + one.problems.front().text(), "", "", ""});
            continue;
        }
        rows.add({one.name, one.car->name,
                  std::string(bodyWord(one.car->body)) + ", " + std::string(frameWord(one.car->frame)),
                  count(one.car->points.size(), "point", "points"),
                  count(one.car->lessons.size(), "lesson", "lessons")});
    }
    if (!rows.empty()) streams.out << rows.text(0);
    return kExitGood;
}

int runLibrary(const CommandLine& line, Streams streams) {
    const std::string& what = line.files()[0];
    if (what == "add") return add(line, streams);
    if (what == "list") return list(line, streams);
    if (what == "use") return use(line, streams);
    return refuse(streams, "library", "'" + what + "' is not known here: add, list or use");
}

}  // namespace

Command libraryCommand() {
    return {"library",
            {"add|list|use", "[CAR]"},
            "measured cars kept for the next job",
            "add CAR keeps a copy of a car file, comments and lessons and all, under your own data folder; "
            "list shows what "
            "is kept; use NAME --out FILE writes it out for a job. Nothing is overwritten unless --replace "
            "says so.",
            "hoopwright library add data/cars/saloon.yaml --name two_door",
            {{"--name", "NAME", "add: what to call it; the file's name unless said"},
             {"--out", "FILE", "use: the car file to write"},
             {"--replace", "", "what is there under that name may go"},
             {"--json", "", "list: for programs"}},
            &runLibrary};
}

}  // namespace hoopwright
