// How a bar stands. Angles to an axis are 0 to 90 degrees; a lean has a sign.
#include <algorithm>
#include <cmath>

#include "rules/measuring.h"

namespace hoopwright {
namespace {

struct Run {
    Vec3 from, to;
};

/// The lines of a bar that count: its chord, all its straights, or the straight at its upper or lower end.
std::vector<Run> runsOf(const Centreline& line, TubePart part) {
    if (part == TubePart::chord) return {{line.start(), line.end()}};
    std::vector<Run> straights;
    for (const Piece& piece : line.pieces())
        if (piece.kind == Piece::Kind::straight && piece.length_mm > 1e-6)
            straights.push_back({piece.start, piece.end()});
    if (part == TubePart::straights || straights.empty()) return straights;
    const bool first_is_upper = line.start().z() >= line.end().z();
    return {first_is_upper == (part == TubePart::upper) ? straights.front() : straights.back()};
}

/// Against the axis, or (`square`) against the plane square to it.
Shown shownAgainst(const Run& run, const Vec3& axis, SeenFrom view, bool square) {
    const Vec3 d = seen(run.to - run.from, view);
    Vec3 way = d.dot(axis) < 0 ? Vec3(-axis) : axis;
    if (square) {
        const Vec3 flat = d - d.dot(axis) * axis;
        const Vec3 any = view == SeenFrom::front ? Vec3::UnitY() : Vec3::UnitX();
        way = flat.norm() > 1e-6 * d.norm() ? Vec3(flat.normalized()) : any;
    }
    Shown shown = shownAngle(run.from, run.from + d, run.from + d.norm() * way);
    shown.look_at = 0.5 * (run.from + run.to);
    return shown;
}

Measured toAxis(const TableRun& run, const Subject& what, const Arguments& with, bool show, const Vec3& axis,
                bool square) {
    const Centreline& line = memberOf(run, what).line;
    if (line.empty()) return Measured::leftOut();
    std::optional<double> least, greatest;
    Run steepest{};
    for (const Run& one : runsOf(line, with.tube_part)) {
        const std::optional<double> to_axis = angleToAxis(one.to - one.from, axis, with.view);
        if (!to_axis) continue;
        const double angle = square ? M_PI / 2 - *to_axis : *to_axis;
        if (!least || angle < *least) steepest = one;
        least = std::min(least.value_or(angle), angle);
        greatest = std::max(greatest.value_or(angle), angle);
    }
    if (!least) return Measured::unknown("it has no direction " + viewWords(with.view));
    Measured out = Measured::stretch(*least, *greatest);
    return show ? std::move(out).with(shownAgainst(steepest, axis, with.view, square)) : std::move(out);
}

Measured toVertical(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    return toAxis(run, what, with, show, Vec3::UnitZ(), false);
}
Measured toHorizontal(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    return toAxis(run, what, with, show, Vec3::UnitZ(), true);
}
Measured toForeAft(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    return toAxis(run, what, with, show, Vec3::UnitX(), false);
}

/// Highest point; where a whole straight is highest, its middle.
Vec3 topOf(const Centreline& line) {
    double best = -1e300;
    for (const Piece& piece : line.pieces()) best = std::max(best, piece.bounds().max().z());
    const auto at = line.crossings({0, 0, best - 1e-4}, Vec3::UnitZ());
    if (at.empty()) return line.start().z() >= line.end().z() ? line.start() : line.end();
    Vec3 mean = Vec3::Zero();
    for (double station : at) mean += line.point(station) / static_cast<double>(at.size());
    return mean;
}

/// The feet of a hoop (the mean of both ends), or the lower end of a bar that only rises.
Vec3 baseOf(const Centreline& line, double top_z) {
    const Vec3 a = line.start(), b = line.end();
    const double half_way = 0.5 * (std::min(a.z(), b.z()) + top_z);
    if (std::max(a.z(), b.z()) < half_way) return 0.5 * (a + b);
    return a.z() < b.z() ? a : b;
}

/// The middle of where a bar passes the height of a place; or what is missing.
struct Passes {
    std::optional<Vec3> at;
    std::string missing;
};
Passes passes(const TableRun& run, const Centreline& line, int place_index) {
    const auto place = run.place(place_index);
    if (place.empty()) return {std::nullopt, run.placeMissing(place_index)};
    const auto lowest = std::min_element(place.begin(), place.end(),
                                         [](const auto& a, const auto& b) { return a.at.z() < b.at.z(); });
    const auto stations = line.crossings(lowest->at, Vec3::UnitZ());
    if (stations.empty()) {
        const std::string& name = run.table().places[static_cast<std::size_t>(place_index)].name;
        return {std::nullopt, "it does not pass the height of '" + name + "'"};
    }
    Vec3 mean = Vec3::Zero();
    for (double station : stations) mean += line.point(station) / static_cast<double>(stations.size());
    return {mean, {}};
}

Measured lean(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const Centreline& line = memberOf(run, what).line;
    if (line.empty()) return Measured::leftOut();
    Vec3 top = topOf(line), base = baseOf(line, top.z());
    if (with.above >= 0) {
        const Passes from = passes(run, line, with.above);
        if (!from.at) return Measured::unknown(from.missing);
        base = *from.at;
    }
    if (with.below >= 0) {
        const Passes to = passes(run, line, with.below);
        if (!to.at) return Measured::unknown(to.missing);
        top = *to.at;
    }
    if (!(top.z() - base.z() > 1e-3)) return Measured::unknown("it does not rise there");
    Measured out = Measured::number(std::atan2(base.x() - top.x(), top.z() - base.z()));
    if (!show) return out;
    return std::move(out).with(shownAngle(base, {top.x(), base.y(), top.z()}, {base.x(), base.y(), top.z()}));
}

}  // namespace

std::vector<Quantity> angleQuantities() {
    constexpr auto m = SubjectKind::member;
    constexpr auto num = ValueKind::number;
    const auto A = Dimension::angle;
    const ArgSet upright = Arg::upright_view | Arg::tube_part;
    return {
        {{"angle_to_vertical", A, "member", "Angle of its chord, or of its straights, to vertical.", ""},
         m,
         num,
         0,
         upright,
         toVertical,
         {}},
        {{"angle_to_horizontal", A, "member", "Angle of its chord, or of its straights, to level.", ""},
         m,
         num,
         0,
         upright,
         toHorizontal,
         {}},
        {{"angle_to_fore_aft", A, "member", "Angle of its chord, or of its straights, to the car's length.",
          ""},
         m,
         num,
         0,
         Arg::view | Arg::tube_part,
         toForeAft,
         {}},
        {{"lean", A, "member",
          "In side view, of the line from its feet to its top from vertical; leaning back is positive.", ""},
         m,
         num,
         0,
         Arg::above | Arg::below,
         lean,
         {}},
    };
}

}  // namespace hoopwright
