#include "core/files/car_points.h"

namespace hoopwright {
namespace {

using From = ByOffsets::From;
using Toward = ByOffsets::Toward;
using Lies = ByTapes::Lies;

const Words<From> kFrom = {{"sill", From::sill}, {"ground", From::ground}};
const Words<Toward> kToward = {{"", Toward::by_name}, {"left", Toward::left}, {"right", Toward::right}};
const Words<Lies> kLies = {{"", Lies::not_said},    {"inboard", Lies::inboard}, {"outboard", Lies::outboard},
                           {"above", Lies::above},  {"below", Lies::below},     {"ahead", Lies::ahead},
                           {"behind", Lies::behind}};

/// The words a person may write: all but the first, which stands for none.
template <class T>
void choiceIf(FieldReader& io, std::string_view key, T& out, const Words<T>& words) {
    out = words.front().second;
    if (!io.map().has(key)) return;
    io.word(key, out, Words<T>(words.begin() + 1, words.end()));
}
template <class T>
void choiceIf(FieldWriter& io, std::string_view key, T value, const Words<T>& words) {
    io.wordIf(key, value, words);
}

OutNode outCorner(const Vec3& at, const LineCorner* corner, LengthUnit unit) {
    if (!corner || corner->point.empty()) return outPoint(at, unit);
    if (corner->offset == Vec3::Zero()) return outText(corner->point);
    OutNode map = OutNode::map(true);
    FieldWriter out(map, unit);
    out.text("point", corner->point);
    out.point("offset", corner->offset);
    return map;
}

LineCorner readCorner(const YamlValue& value) {
    LineCorner corner;
    if (value.isMap()) {
        YamlMap map = value.map();
        corner.point = map.need("point").text();
        corner.offset = map.find("offset").point();
    } else {
        corner.point = value.text();
    }
    if (corner.point.empty() && (value.isMap() || value.isScalar()))
        value.problem("names no point", "write the name of a point of the car, or [x, y, z]");
    return corner;
}

}  // namespace

template <class Io>
void fields(Io& io, ByOffsets& by) {
    io.measure("height", by.height_mm, Dimension::length, Range::any);
    io.wordIf("from", by.from, kFrom);
    io.measure("out", by.out_mm, Dimension::length, Range::any);
    choiceIf(io, "toward", by.toward, kToward);
    std::string plane = by.plane == kDoorEdge ? std::string() : by.plane;
    io.textIf("plane", plane);
    by.plane = plane.empty() ? std::string(kDoorEdge) : plane;
    io.measure("ahead", by.ahead_mm, Dimension::length, Range::any);
}

template <class Io>
void fields(Io& io, Tape& tape) {
    io.text("from", tape.from);
    io.measure("length", tape.length_mm, Dimension::length, Range::any);
    io.measureIf("tolerance", tape.tolerance_mm, Dimension::length, 0, Range::not_negative);
}

void takenFields(FieldReader& io, CarPoint& point) {
    const std::string way = io.map().oneKeyOf({"at", "offsets", "tapes"});
    if (way == "offsets") {
        ByOffsets by;
        io.part("offsets", by);
        point.taken = by;
    } else if (way == "tapes") {
        ByTapes by;
        io.listIf("tapes", by.tapes, Layout::one_a_line);
        choiceIf(io, "lies", by.lies, kLies);
        if (const YamlValue near = io.map().find("near")) {
            by.near = near.point();
            if (by.lies != Lies::not_said)
                near.problem("'lies' and 'near' both say which place is meant", "keep one of them");
        }
        point.taken = by;
    } else if (way == "at") {
        io.point("at", point.at);
    }
}

void takenFields(FieldWriter& io, const CarPoint& point) {
    if (const auto* by = std::get_if<ByOffsets>(&point.taken)) {
        io.part("offsets", *by);
    } else if (const auto* tapes = std::get_if<ByTapes>(&point.taken)) {
        io.listIf("tapes", tapes->tapes, Layout::one_a_line);
        choiceIf(io, "lies", tapes->lies, kLies);
        if (tapes->near) io.point("near", *tapes->near);
    } else {
        io.point("at", point.at);
    }
}

void cornerFields(FieldReader& io, std::string_view key, std::vector<Vec3>& points,
                  std::vector<LineCorner>& corners) {
    points.clear();
    corners.clear();
    for (const YamlValue& item : io.map().need(key).list()) {
        const bool by_name = item.isScalar() || item.isMap();
        points.push_back(by_name ? Vec3(Vec3::Zero()) : item.point());
        if (!by_name) continue;
        corners.resize(points.size());
        corners.back() = readCorner(item);
    }
}

void cornerFields(FieldWriter& io, std::string_view key, const std::vector<Vec3>& points,
                  const std::vector<LineCorner>& corners) {
    OutNode list = OutNode::list(true);
    for (std::size_t i = 0; i < points.size(); ++i)
        list.add(outCorner(points[i], i < corners.size() ? &corners[i] : nullptr, io.unit()));
    io.add(key, std::move(list));
}

}  // namespace hoopwright
