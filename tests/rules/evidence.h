// What a finding shows, held against what it says.
#pragma once

#include <algorithm>
#include <cmath>
#include <functional>
#include <numeric>
#include <string>
#include <vector>

#include "tests/rules/shapes.h"

namespace hoopwright::test::evidence {

/// One finding, and the cage it was measured on.
struct Seen {
    Finding finding;
    Job job;
    CageGeometry cage;
    double value() const { return finding.value.value_or(std::nan("")); }
    const std::vector<ShownShape>& shapes() const { return finding.evidence.shapes; }
    const ResolvedMember& bar() const {
        return cage.members.at(static_cast<std::size_t>(cage.member(finding.subject)));
    }
    const ResolvedPlate& plate() const {
        return cage.plates.at(static_cast<std::size_t>(cage.plate(finding.subject)));
    }
};

template <class Shape>
std::vector<Shape> all(const Seen& seen) {
    std::vector<Shape> out;
    for (const ShownShape& shape : seen.shapes())
        if (const auto* one = std::get_if<Shape>(&shape)) out.push_back(*one);
    return out;
}

inline double lengthOf(const ShownLine& line) {
    return (line.to - line.from).norm();
}

/// Lengths of the lines that carry a figure.
inline std::vector<double> figures(const Seen& seen) {
    std::vector<double> out;
    for (const ShownLine& line : all<ShownLine>(seen))
        if (line.dimension) out.push_back(lengthOf(line));
    return out;
}

inline double sumOfLines(const Seen& seen) {
    double sum = 0;
    for (const ShownLine& line : all<ShownLine>(seen)) sum += lengthOf(line);
    return sum;
}

/// Area of the outline the plain lines close.
inline double outlined_mm2(const Seen& seen) {
    Vec3 twice = Vec3::Zero();
    for (const ShownLine& line : all<ShownLine>(seen))
        if (!line.dimension) twice += line.from.cross(line.to);
    return twice.norm() / 2;
}

inline bool among(const std::vector<double>& figures, double wanted, double within = 1e-6) {
    return std::any_of(figures.begin(), figures.end(),
                       [&](double one) { return std::abs(one - wanted) <= within; });
}

using Holds = std::function<bool(const Seen&)>;

/// A line with a figure is as long as the value, or as the value times something.
inline bool line(const Seen& seen) {
    return among(figures(seen), std::abs(seen.value()), 1e-4);
}
inline Holds lineTimes(double factor) {
    return [=](const Seen& seen) { return among(figures(seen), factor * std::abs(seen.value()), 1e-4); };
}
/// Straight runs laid along a bar are together as long: chords of bends a little less.
inline bool run(const Seen& seen) {
    return std::abs(sumOfLines(seen) - seen.value()) <= 0.01 * seen.value();
}
/// The arc of an angle is as wide.
inline bool angle(const Seen& seen) {
    std::vector<double> wide;
    for (const ShownAngle& one : all<ShownAngle>(seen)) {
        const Vec3 a = one.from - one.apex, b = one.to - one.apex;
        wide.push_back(std::atan2(a.cross(b).norm(), a.dot(b)));
    }
    wide.push_back(std::accumulate(wide.begin(), wide.end(), 0.0));
    return among(wide, std::abs(seen.value()), 1e-7);
}
/// So many marks.
inline bool marks(const Seen& seen) {
    return static_cast<double>(all<ShownPoint>(seen).size()) == seen.value();
}
inline bool onBar(const Seen& seen) {
    const std::vector<ShownPoint> points = all<ShownPoint>(seen);
    const Centreline& bar = seen.bar().line;
    return points.size() == 1 && (bar.point(bar.nearestStation(points[0].at)) - points[0].at).norm() < 1e-6;
}
/// A mark at the plate, and an outline in its plane, if any.
inline bool onPlate(const Seen& seen) {
    const std::vector<ShownPoint> points = all<ShownPoint>(seen);
    if (points.empty() || (points[0].at - seen.plate().at).norm() > 1e-9) return false;
    for (const ShownLine& one : all<ShownLine>(seen))
        if (std::abs((one.from - seen.plate().at).dot(seen.plate().axes.col(2))) > 1e-6) return false;
    return true;
}
inline bool outline(const Seen& seen) {
    return onPlate(seen) && std::abs(outlined_mm2(seen) - seen.value()) <= 1e-6 * seen.value();
}
inline bool atDriver(const Seen& seen) {
    return all<ShownPoint>(seen).size() == 1 && all<ShownPoint>(seen)[0].at == seen.job.drivers[0].hip;
}
/// Marks on two bars that are compared.
inline bool onEachOfTwo(const Seen& seen) {
    return all<ShownPoint>(seen).size() == 2 && seen.finding.evidence.members.size() == 2;
}
inline bool reaching(const Seen& seen) {
    const std::vector<ShownPlane> planes = all<ShownPlane>(seen);
    const std::vector<ShownLine> lines = all<ShownLine>(seen);
    if (planes.size() != 1 || lines.size() != 1) return false;
    const auto over = [&](const Vec3& p) { return (p - planes[0].at).dot(planes[0].normal); };
    return std::abs(over(lines[0].from)) < 1e-6 && std::abs(over(lines[0].to) - seen.value()) < 1e-4;
}

/// One quantity, said as a rule of the table below says it.
struct Row {
    std::string quantity;
    std::string rest;  ///< `of` and `with`
    Holds holds;
    Job (*job)() = nullptr;
};

}  // namespace hoopwright::test::evidence
