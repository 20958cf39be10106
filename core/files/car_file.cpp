#include "core/files/file_text.h"
#include "core/files/scan_fields.h"

namespace hoopwright {
namespace {

const Words<Car::Body> kBodies = {{"saloon", Car::Body::saloon},
                                  {"hatchback", Car::Body::hatchback},
                                  {"open", Car::Body::open},
                                  {"pickup", Car::Body::pickup},
                                  {"van", Car::Body::van}};
const Words<Car::Frame> kFrames = {
    {"unibody", Car::Frame::unibody}, {"ladder", Car::Frame::ladder}, {"perimeter", Car::Frame::perimeter}};
const Words<CarLine::Kind> kLineKinds = {{"body", CarLine::Kind::body},
                                         {"glass", CarLine::Kind::glass},
                                         {"floor", CarLine::Kind::floor},
                                         {"opening", CarLine::Kind::opening}};

}  // namespace

template <class Io>
void fields(Io& io, CarPoint& point) {
    io.text("name", point.name);
    io.point("at", point.at);
    io.measureIf("tolerance", point.tolerance_mm, Dimension::length, 0, Range::not_negative);
    io.textIf("how", point.how);
}

template <class Io>
void fields(Io& io, CarLine& line) {
    io.text("name", line.name);
    io.wordIf("kind", line.kind, kLineKinds);
    io.flagIf("closed", line.closed);
    io.points("points", line.points);
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
    io.points("line", rail.line);
    io.measure("width", rail.width_mm, Dimension::length, Range::positive);
    io.measure("height", rail.height_mm, Dimension::length, Range::positive);
    io.measure("wall", rail.wall_mm, Dimension::length, Range::positive);
}

template <class Io>
void fields(Io& io, Wheel& wheel) {
    io.point("centre", wheel.centre);
    io.measure("diameter", wheel.diameter_mm, Dimension::length, Range::positive);
    io.measure("width", wheel.width_mm, Dimension::length, Range::positive);
}

template <class Io>
void fields(Io& io, Car& car) {
    io.text("name", car.name);
    io.word("body", car.body, kBodies);
    io.word("frame", car.frame, kFrames);
    io.measure("ground", car.ground_z_mm, Dimension::length, Range::any);
    io.factsIf("facts", car.facts);
    io.listIf("points", car.points, Layout::one_a_line, "name");
    io.listIf("lines", car.lines, Layout::one_a_line, "name");
    io.listIf("shell", car.shell, Layout::one_a_line, "name");
    io.listIf("rails", car.rails, Layout::one_a_line, "name");
    io.listIf("wheels", car.wheels, Layout::one_a_line);
    io.listIf("scans", car.scans, Layout::block, "file");
    io.textIf("notes", car.notes);
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
