#include "rules/measuring.h"

#include <algorithm>
#include <cmath>

namespace hoopwright {
namespace {

constexpr double kEndOn = 1e-6;  // a direction shorter than this share of itself in a view has no angle there

}  // namespace

Vec3 seen(const Vec3& v, SeenFrom view) {
    switch (view) {
        case SeenFrom::side:
            return {v.x(), 0, v.z()};
        case SeenFrom::front:
            return {0, v.y(), v.z()};
        case SeenFrom::plan:
            return {v.x(), v.y(), 0};
        case SeenFrom::in_space:
            break;
    }
    return v;
}

std::string viewWords(SeenFrom view) {
    switch (view) {
        case SeenFrom::side:
            return "in side view";
        case SeenFrom::front:
            return "in front view";
        case SeenFrom::plan:
            return "in plan";
        case SeenFrom::in_space:
            break;
    }
    return "";
}

std::optional<double> angleToAxis(const Vec3& direction, const Vec3& axis, SeenFrom view) {
    const Vec3 d = seen(direction, view);
    if (!(d.norm() > kEndOn * direction.norm())) return std::nullopt;
    return std::atan2(d.cross(axis).norm(), std::abs(d.dot(axis)));
}

std::optional<double> angleBetween(const Vec3& a, const Vec3& b, SeenFrom view) {
    const Vec3 p = seen(b, view);
    if (!(p.norm() > kEndOn * b.norm())) return std::nullopt;
    return angleToAxis(a, p, view);
}

double levelHalfWidth_y(double radius_mm, const Vec3& t) {
    return radius_mm * std::sqrt(std::max(0.0, 1 - t.x() * t.x())) / std::abs(t.z());
}

double levelHalfWidth_x(double radius_mm, const Vec3& t) {
    return radius_mm * std::sqrt(std::max(0.0, 1 - t.y() * t.y())) / std::abs(t.z());
}

Shown shownLine(const Vec3& from, const Vec3& to) {
    return {{ShownLine{from, to, true}}, {}, 0.5 * (from + to)};
}

Shown shownAngle(const Vec3& apex, const Vec3& from, const Vec3& to) {
    return {{ShownAngle{apex, from, to}}, {}, apex};
}

Shown shownPoint(const Vec3& at) {
    return {{ShownPoint{at}}, {}, at};
}

Shown shownRun(const Centreline& line, double from_mm, double to_mm) {
    constexpr double chord_error_mm = 2;
    const double low = std::min(from_mm, to_mm), high = std::max(from_mm, to_mm);
    Shown out;
    out.look_at = line.point(0.5 * (low + high));
    std::vector<double> stations = {low};
    for (double station : line.sampleStations(chord_error_mm))
        if (station > low && station < high) stations.push_back(station);
    stations.push_back(high);
    // One straight run has a figure of its own; of several the finding says it.
    const bool straight = stations.size() == 2;
    for (std::size_t i = 1; i < stations.size(); ++i)
        out.shapes.push_back(ShownLine{line.point(stations[i - 1]), line.point(stations[i]), straight});
    return out;
}

Vec3 middleOf(const ResolvedMember& m) {
    return m.line.empty() ? Vec3(Vec3::Zero()) : m.line.point(m.line.length_mm() / 2);
}

Shown shownMiddles(const TableRun& run, const std::vector<int>& members) {
    Shown out;
    for (int i : members) out.shapes.push_back(ShownPoint{middleOf(run.scene().member(i))});
    out.members = members;
    if (!members.empty()) out.look_at = middleOf(run.scene().member(members.front()));
    return out;
}

Shown shownChord(const Centreline& line) {
    if (line.empty()) return {};
    return {{ShownLine{line.start(), line.end(), false}}, {}, line.point(line.length_mm() / 2)};
}

Shown shownGap(const Vec3& axis_at, double radius_mm, const Vec3& to) {
    const Vec3 way = to - axis_at;
    const double far = way.norm();
    return shownLine(far > 1e-9 ? Vec3(axis_at + radius_mm / far * way) : axis_at, to);
}

const ResolvedMember& memberOf(const TableRun& run, const Subject& what) {
    return run.scene().member(what.first);
}
const MemberFacts& factsOf(const TableRun& run, const Subject& what) {
    return run.scene().facts(what.first);
}

Measured noStock(const TableRun& run, int member) {
    const MemberFacts& f = run.scene().facts(member);
    if (f.stock) return Measured::unknown("the stock list has no material '" + f.stock->material + "'");
    const std::string said = f.layout ? f.layout->stock : std::string();
    return Measured::unknown(said.empty() ? "no tube is chosen for it"
                                          : "the stock list has no tube '" + said + "'");
}

}  // namespace hoopwright
