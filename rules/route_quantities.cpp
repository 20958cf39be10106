// How a bar runs: in one piece from low to low, in line with another, crossed by others.
#include <algorithm>
#include <cmath>

#include "core/geometry/distance.h"
#include "rules/measuring.h"

namespace hoopwright {
namespace {

constexpr double kPastCentre_mm = 1;
const double kInLine = std::cos(10 * M_PI / 180);  // common practice, no source

/// From a low end on one side of the car over the top to a low end on the other.
Measured lowToLow(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const ResolvedMember& m = memberOf(run, what);
    if (m.line.empty()) return Measured::leftOut();
    const Vec3 &a = m.ends[0].at, &b = m.ends[1].at;
    const Box& box = m.line.bounds();
    const bool across =
        std::abs(a.y()) > kPastCentre_mm && std::abs(b.y()) > kPastCentre_mm && (a.y() > 0) != (b.y() > 0);
    const bool ends_low = box.min().z() >= std::min(a.z(), b.z()) - kPastCentre_mm;
    const bool over = box.max().z() > std::max(a.z(), b.z()) + m.section.od_mm;
    const auto stands = [&](std::size_t end) {
        if (with.members < 0) return m.ends[end].on == ResolvedEnd::On::plate;
        const std::vector<int>& touched = factsOf(run, what).touches[end];
        return std::any_of(touched.begin(), touched.end(),
                           [&](int i) { return run.picks(with.members, i, what); });
    };
    Measured out = Measured::yesNo(across && ends_low && over && stands(0) && stands(1));
    if (!show) return out;
    return std::move(out).with({{ShownPoint{a}, ShownPoint{b}}, {}, 0.5 * (a + b)});
}

/// Ends that meet an end of another of these bars, which turns off by no more than an angle of this cosine.
Measured endsMet(const TableRun& run, const Subject& what, int members, double least_cos, bool show) {
    const ResolvedMember& m = memberOf(run, what);
    Shown shown;
    int count = 0;
    for (std::size_t e = 0; e < 2; ++e) {
        const ResolvedEnd& own = m.ends[e];
        const std::vector<int>& touched = factsOf(run, what).touches[e];
        const auto meets = [&](int i) {
            if (i == what.first || !run.picks(members, i, what)) return false;
            const ResolvedMember& next = run.scene().member(i);
            return std::any_of(next.ends.begin(), next.ends.end(), [&](const ResolvedEnd& its) {
                return (its.at - own.at).norm() <= m.radius_mm() + next.radius_mm() &&
                       its.outward.dot(own.outward) <= -least_cos;
            });
        };
        const auto at = std::find_if(touched.begin(), touched.end(), meets);
        if (at == touched.end()) continue;
        ++count;
        shown.shapes.push_back(ShownPoint{own.at});
        shown.members.push_back(*at);
        shown.look_at = own.at;
    }
    if (count == 0 && show) shown = shownChord(m.line);
    Measured out = Measured::number(count);
    return show ? std::move(out).with(std::move(shown)) : std::move(out);
}

/// Ends where another tube carries on in its line: a splice, whatever holds it together.
Measured splices(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    return endsMet(run, what, -1, kInLine, show);
}

/// Any turn but straight back: two tubes side by side are no joint of one.
Measured buttedEnds(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    return endsMet(run, what, with.members, -kInLine, show);
}

/// Bars that land on it between its ends, or pass through it there.
Measured crossedBy(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const ResolvedMember& m = memberOf(run, what);
    if (m.line.empty()) return Measured::leftOut();
    const auto between = [](const ResolvedMember& bar, double station) {
        return station > bar.section.od_mm && station < bar.line.length_mm() - bar.section.od_mm;
    };
    Shown shown = shownPoint(m.line.point(m.line.length_mm() / 2));
    shown.shapes.clear();
    int count = 0;
    for (int i : run.members(with.members, what)) {
        if (i == what.first) continue;
        std::optional<Vec3> where;
        for (const Joint& joint : run.scene().cage().joints)
            if (joint.host == what.first && joint.branch == i && between(m, joint.host_station_mm))
                where = joint.at;
        const ResolvedMember& other = run.scene().member(i);
        const double reach = m.radius_mm() + other.radius_mm();
        if (!where && run.scene().facts(what.first).box.exteriorDistance(run.scene().facts(i).box) <= reach) {
            const auto near = nearestWithin(m.line, other.line, reach);
            if (near && between(m, near->station_a_mm) && between(other, near->station_b_mm))
                where = near->on_a;
        }
        if (!where) continue;
        ++count;
        shown.shapes.push_back(ShownPoint{*where});
        shown.members.push_back(i);
        shown.look_at = *where;
    }
    if (shown.shapes.empty()) shown.shapes.push_back(ShownPoint{shown.look_at});
    Measured out = Measured::number(count);
    return show ? std::move(out).with(std::move(shown)) : std::move(out);
}

}  // namespace

std::vector<Quantity> routeQuantities() {
    constexpr auto m = SubjectKind::member;
    const auto N = Dimension::none;
    return {
        {{"low_to_low", N, "member",
          "In one piece from a low end on one side of the car, over, to a low end on the other; both on "
          "plates, or on these bars.",
          ""},
         m,
         ValueKind::yes_no,
         0,
         only(Arg::members),
         lowToLow,
         {}},
        {{"splices", N, "member",
          "Ends where another tube carries on in its line, within 10 degrees: where it is pieced together.",
          ""},
         m,
         ValueKind::number,
         0,
         0,
         splices,
         {}},
        {{"butted_ends", N, "member",
          "Ends that meet an end of another of these bars, at whatever angle: a splice or a corner cut and "
          "welded.",
          "the bars it may be pieced together with"},
         m,
         ValueKind::number,
         only(Arg::members),
         0,
         buttedEnds,
         {}},
        {{"crossed_by", N, "member",
          "How many of these bars land on it or pass through it, farther than its diameter from its ends.",
          ""},
         m,
         ValueKind::number,
         0,
         only(Arg::members),
         crossedBy,
         {}},
    };
}

}  // namespace hoopwright
