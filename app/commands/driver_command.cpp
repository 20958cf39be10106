#include <filesystem>
#include <ostream>

#include "app/commands/command_kit.h"
#include "app/commands/text_table.h"
#include "core/base/text.h"
#include "core/files/job_file.h"
#include "core/files/yaml_map.h"
#include "core/model/figure.h"

namespace hoopwright {
namespace {

std::vector<std::string> figureIds() {
    std::vector<std::string> ids;
    for (const Figure& one : figures()) ids.push_back(one.id);
    return ids;
}

Expected<double> measureOf(const std::string& option, const std::string& text, const Unit& bare) {
    const Expected<double> value = readMeasure(text, bare);
    if (!value) return Reason{option + ": " + value.reason()};
    return value;
}

/// "310,365,55": x, y, z.
Expected<Vec3> pointOf(const std::string& option, const std::string& text, const Unit& bare) {
    Vec3 out;
    std::size_t from = 0;
    for (int axis = 0; axis < 3; ++axis) {
        const std::size_t comma = text.find(',', from);
        if ((comma == std::string::npos) != (axis == 2))
            return Reason{option + ": '" + text + "' is no point: write x,y,z such as 310,365,55"};
        const Expected<double> value = measureOf(option, text.substr(from, comma - from), bare);
        if (!value) return Reason{value.reason()};
        out[axis] = *value;
        from = comma + 1;
    }
    return out;
}

struct NewDriver {
    Driver driver;
    LengthUnit unit = LengthUnit::mm;
};

Expected<NewDriver> makeDriver(const CommandLine& line) {
    const std::string id = line.value("--figure", "student_formula_95");
    const Figure* from = figureNamed(id);
    if (!from) {
        const std::string near = didYouMean(id, figureIds());
        return Reason{"--figure: there is no figure '" + id + "'; " +
                      (near.empty() ? "there is " + listed(figureIds()) : "did you mean " + near + "?")};
    }
    const std::string word = line.value("--unit", "mm");
    if (word != "mm" && word != "in") return Reason{"--unit: '" + word + "' is neither mm nor in"};
    const Unit bare = *unitNamed(word), degree = *unitNamed("deg");
    FigurePlace place;
    const Expected<Vec3> hip = pointOf("--hip", line.value("--hip", "0,0,0"), bare);
    if (!hip) return Reason{hip.reason()};
    place.hip = *hip;
    const Expected<double> back = measureOf("--back", line.value("--back", "20"), degree);
    if (!back) return Reason{back.reason()};
    place.back_angle_rad = *back;
    const std::string sits = line.value("--occupant", "driver");
    if (sits != "driver" && sits != "passenger")
        return Reason{"--occupant: '" + sits + "' is neither driver nor passenger"};
    place.occupant = sits == "driver" ? Driver::Occupant::driver : Driver::Occupant::passenger;
    Expected<Driver> driver = driverFromFigure(*from, place);
    if (!driver) return Reason{"--back: " + driver.reason()};
    return NewDriver{*std::move(driver), word == "in" ? LengthUnit::in : LengthUnit::mm};
}

int runDriver(const CommandLine& line, Streams streams) {
    if (line.files()[0] != "new")
        return refuse(streams, "driver", "'" + line.files()[0] + "' is nothing it can do; write: driver new");
    const std::string file = line.value("--out");
    if (file.empty())
        return refuse(streams, "driver", "--out FILE is missing: name the driver file to write");
    const Expected<NewDriver> made = makeDriver(line);
    if (!made) return refuse(streams, "driver", made.reason());
    std::error_code failed;
    if (std::filesystem::exists(file, failed))
        return refuse(streams, "driver",
                      "--out: there is already a file '" + file + "'; name another, or take it away");
    if (const std::optional<Problem> problem =
            saveText(file, writeDriver(made->driver, nullptr, made->unit))) {
        print(streams.err, {*problem});
        return kExitBadInput;
    }
    streams.out << wrapped(
        "Wrote " + file + " from the figure " + made->driver.figure + ": " + made->driver.note, 0);
    return kExitGood;
}

}  // namespace

Command driverCommand() {
    std::string known;
    for (const Figure& one : figures()) known += " " + one.id + ": " + one.name + ", " + one.source + ".";
    return {"driver",
            {"new"},
            "a driver file started from a figure of published size",
            "Writes a driver file to be corrected with the tape: a seated figure with its hip point where "
            "you say and "
            "its back leaning as you say, upright to fully reclined. Figures:" +
                known,
            "hoopwright driver new --figure student_formula_95 --hip 310,365,55 --back 22 --out driver.yaml",
            {{"--figure", "ID", "the figure; student_formula_95 unless said"},
             {"--hip", "X,Y,Z", "hip point in the car's axes; 0,0,0 unless said"},
             {"--back", "ANGLE", "of the back from vertical, -5 to 85 degrees; 20 unless said"},
             {"--occupant", "WHO", "driver or passenger; driver unless said"},
             {"--unit", "UNIT", "mm or in, of --hip and of the file; mm unless said"},
             {"--out", "FILE", "the file to write; never one that is there"}},
            &runDriver};
}

}  // namespace hoopwright
