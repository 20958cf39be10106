#include "core/files/car_points.h"
#include "core/files/file_text.h"
#include "core/files/scan_fields.h"
#include "core/survey/survey.h"

namespace hoopwright {
namespace {

const Words<Car::Body> kBodies = {{"saloon", Car::Body::saloon},
                                  {"hatchback", Car::Body::hatchback},
                                  {"open", Car::Body::open},
                                  {"pickup", Car::Body::pickup},
                                  {"van", Car::Body::van}};
const Words<Car::Frame> kFrames = {
    {"unibody", Car::Frame::unibody}, {"ladder", Car::Frame::ladder}, {"perimeter", Car::Frame::perimeter}};
const Words<FrameRail::Of> kRailOf = {
    {"by_name", FrameRail::Of::by_name}, {"body", FrameRail::Of::body}, {"frame", FrameRail::Of::frame}};
const Words<CarLine::Kind> kLineKinds = {{"body", CarLine::Kind::body},
                                         {"glass", CarLine::Kind::glass},
                                         {"floor", CarLine::Kind::floor},
                                         {"opening", CarLine::Kind::opening}};

}  // namespace

template <class Io>
void fields(Io& io, DatumPlane& plane) {
    io.text("name", plane.name);
    io.measure("x", plane.x_mm, Dimension::length, Range::any);
    io.measureIf("tolerance", plane.tolerance_mm, Dimension::length, 0, Range::not_negative);
}

template <class Io>
void fields(Io& io, CarPoint& point) {
    io.text("name", point.name);
    takenFields(io, point);
    io.measureIf("tolerance", point.tolerance_mm, Dimension::length, 0, Range::not_negative);
    io.textIf("how", point.how);
}

template <class Io>
void fields(Io& io, CarLine& line) {
    io.text("name", line.name);
    io.wordIf("kind", line.kind, kLineKinds);
    io.flagIf("closed", line.closed);
    cornerFields(io, "points", line.points, line.corners);
}

template <class Io>
void fields(Io& io, ShellStation& station) {
    io.text("name", station.name);
    io.measure("x", station.x_mm, Dimension::length, Range::any);
    io.pairs("outline", station.outline);
}

template <class Io>
void fields(Io& io, FrameRail& rail) {
    io.text("name", rail.name);
    cornerFields(io, "line", rail.line, rail.corners);
    io.measure("width", rail.width_mm, Dimension::length, Range::positive);
    io.measure("height", rail.height_mm, Dimension::length, Range::positive);
    io.measure("wall", rail.wall_mm, Dimension::length, Range::positive);
    io.wordIf("of", rail.of, kRailOf);
}

template <class Io>
void fields(Io& io, Wheel& wheel) {
    io.point("centre", wheel.centre);
    io.measure("diameter", wheel.diameter_mm, Dimension::length, Range::positive);
    io.measure("width", wheel.width_mm, Dimension::length, Range::positive);
}

template <class Io>
void fields(Io& io, Lesson& lesson) {
    io.textIf("about", lesson.about);
    io.dateIf("when", lesson.when);
    io.text("note", lesson.note);
}

template <class Io>
void fields(Io& io, Car& car) {
    io.text("name", car.name);
    io.word("body", car.body, kBodies);
    io.word("frame", car.frame, kFrames);
    io.measure("ground", car.ground_z_mm, Dimension::length, Range::any);
    io.factsIf("facts", car.facts);
    // Before version 2 a car was taken to be symmetric.
    io.flagOr("symmetric", car.symmetric, io.version() == 1);
    io.listIf("planes", car.planes, Layout::one_a_line, "name");
    io.listIf("points", car.points, Layout::one_a_line, "name");
    io.listIf("lines", car.lines, Layout::one_a_line, "name");
    io.listIf("shell", car.shell, Layout::one_a_line, "name");
    io.listIf("rails", car.rails, Layout::one_a_line, "name");
    io.listIf("wheels", car.wheels, Layout::one_a_line);
    io.listIf("scans", car.scans, Layout::block, "file");
    io.listIf("lessons", car.lessons, Layout::one_a_line);
    io.textIf("notes", car.notes);
}

namespace {

constexpr std::size_t kMostPlaced = 200;

/// Where the reading stands that a problem is about; at the part itself where the reading cannot be told.
class ReadingPlaces {
public:
    explicit ReadingPlaces(const YamlValue& top) {
        for (const std::string_view key : {"points", "planes", "lines", "rails"})
            parts_.push_back(top.peek(key).list());
    }
    const YamlValue& part(const SurveyProblem& problem) const {
        return parts_[static_cast<std::size_t>(problem.part)][static_cast<std::size_t>(problem.index)];
    }
    FileMark of(const SurveyProblem& problem) const {
        const YamlValue value = part(problem).peek(problem.key);
        if (!value) return part(problem).at();
        if (problem.item < 0) return value.at();
        const std::vector<YamlValue> items = value.list();
        const auto item = static_cast<std::size_t>(problem.item);
        return item < items.size() ? items[item].at() : value.at();
    }

private:
    std::vector<std::vector<YamlValue>> parts_;
};

}  // namespace

void settleCar(YamlFile& file, Car& car) {
    // A car that was half read would be blamed for readings that are merely missing.
    if (!file.problems().empty()) return;
    LengthStyle style;
    style.unit = file.unit();
    const std::vector<SurveyProblem> problems = settle(car, style);
    if (problems.empty()) return;
    const ReadingPlaces places(YamlValue(file, file.root(), ""));
    std::size_t placed = 0;
    for (const SurveyProblem& problem : problems) {
        const FileMark at = placed++ < kMostPlaced ? places.of(problem) : places.part(problem).at();
        file.add({at, problem.what, problem.remedy});
    }
}

LengthUnit unitOf(const FileTextRef& file) {
    if (!file) return LengthUnit::mm;
    YamlFile whole(file->text, file->name);
    return YamlValue(whole, whole.root(), "").peek("units").text() == "in" ? LengthUnit::in : LengthUnit::mm;
}

ReadResult<Car> readCar(const std::filesystem::path& file) {
    return readFileAs<Car>("car", file);
}
ReadResult<Car> readCarText(std::string text, const std::string& name) {
    return readAs<Car>("car", std::move(text), name);
}
std::string writeCar(const Car& car, const FileTextRef& was, LengthUnit unit) {
    return writeAs("car", car, was, unit);
}

}  // namespace hoopwright
