// Joints: the end of a branch on its host. And pairs of bars.
#include <algorithm>
#include <cmath>

#include "core/geometry/distance.h"
#include "rules/measuring.h"

namespace hoopwright {
namespace {

Vec3 branchAxis(const TableRun& run, const Joint& joint) {
    return run.scene().member(joint.branch).ends[static_cast<std::size_t>(joint.end)].outward;
}
Vec3 hostAxis(const TableRun& run, const Joint& joint) {
    return run.scene().member(joint.host).line.tangent(joint.host_station_mm);
}

Shown shownAtJoint(const TableRun& run, const Joint& joint, SeenFrom view) {
    constexpr double leg_mm = 250;
    const Vec3 inward = -seen(branchAxis(run, joint), view), host = seen(hostAxis(run, joint), view);
    const double way = inward.dot(host) < 0 ? -1 : 1;
    Shown shown = shownAngle(joint.at, joint.at + leg_mm * inward, joint.at + way * leg_mm * host);
    shown.members = {joint.branch, joint.host};
    return shown;
}

Measured jointAngle(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const Joint& joint = run.scene().joint(what);
    double angle = joint.angle_rad;
    if (with.view != SeenFrom::in_space) {
        const auto in_view = angleBetween(branchAxis(run, joint), hostAxis(run, joint), with.view);
        if (!in_view) return Measured::unknown("one of the bars has no direction " + viewWords(with.view));
        angle = *in_view;
    }
    Measured out = Measured::number(angle);
    return show ? std::move(out).with(shownAtJoint(run, joint, with.view)) : std::move(out);
}

Measured jointOffset(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const Joint& joint = run.scene().joint(what);
    Measured out = Measured::number(joint.offset_mm);
    if (!show) return out;
    // Where the axes pass each other: square to both, or for parallel ones straight across.
    const Vec3 from = run.scene().member(joint.branch).ends[static_cast<std::size_t>(joint.end)].at;
    const Vec3 u = branchAxis(run, joint), v = hostAxis(run, joint), between = joint.at - from;
    const double cos = u.dot(v), sin2 = 1 - cos * cos;
    const double s = sin2 > 1e-12 ? (between.dot(u) - between.dot(v) * cos) / sin2 : 0;
    const Vec3 on_branch = from + s * u, on_host = joint.at + (on_branch - joint.at).dot(v) * v;
    Shown shown = shownLine(on_host, on_branch);
    shown.members = {joint.branch, joint.host};
    return std::move(out).with(std::move(shown));
}

Measured gussetsAtJoint(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const Joint& joint = run.scene().joint(what);
    const auto& gussets = run.scene().cage().gussets;
    const auto here = [&](const ResolvedGusset& g) {
        const bool these = (g.member_a == joint.branch && g.member_b == joint.host) ||
                           (g.member_a == joint.host && g.member_b == joint.branch);
        // A bar can land on the same host with both ends: the gusset belongs to the end it is near.
        const Vec3& far_end = run.scene().member(joint.branch).ends[joint.end == 0 ? 1 : 0].at;
        return these && (g.corners[0] - joint.at).norm() <= (g.corners[0] - far_end).norm();
    };
    Measured out = Measured::number(static_cast<double>(std::count_if(gussets.begin(), gussets.end(), here)));
    if (!show) return out;
    Shown shown = shownPoint(joint.at);
    for (const ResolvedGusset& g : gussets) {
        if (!here(g)) continue;
        for (std::size_t i = 0; i < g.corners.size(); ++i)
            shown.shapes.push_back(ShownLine{g.corners[i], g.corners[(i + 1) % g.corners.size()], false});
    }
    shown.members = {joint.branch, joint.host};
    return std::move(out).with(std::move(shown));
}

Nearest nearestOf(const TableRun& run, const Subject& what) {
    return nearest(run.scene().member(what.first).line, run.scene().member(what.second).line);
}

Measured gap(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const Nearest at = nearestOf(run, what);
    const double radii =
        run.scene().member(what.first).radius_mm() + run.scene().member(what.second).radius_mm();
    Measured out = Measured::number(at.distance_mm - radii);
    if (!show) return out;
    // Outside to outside; where the axes cross there is no way from one to the other.
    const Vec3 way = at.distance_mm > 1e-9 ? Vec3((at.on_b - at.on_a) / at.distance_mm) : Vec3(Vec3::UnitZ());
    Shown shown = shownLine(at.on_a + run.scene().member(what.first).radius_mm() * way,
                            at.on_b - run.scene().member(what.second).radius_mm() * way);
    shown.members = {what.first, what.second};
    return std::move(out).with(std::move(shown));
}

Measured includedAngle(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const Centreline &a = run.scene().member(what.first).line, &b = run.scene().member(what.second).line;
    if (a.empty() || b.empty()) return Measured::leftOut();
    const auto angle = angleBetween(a.end() - a.start(), b.end() - b.start(), with.view);
    if (!angle) return Measured::unknown("one of the bars has no direction " + viewWords(with.view));
    Measured out = Measured::number(*angle);
    if (!show) return out;
    const Nearest at = nearest(a, b);
    Shown shown =
        shownAngle(at.on_a, at.on_a + (a.end() - a.start()) / 2, at.on_a + (b.end() - b.start()) / 2);
    shown.members = {what.first, what.second};
    return std::move(out).with(std::move(shown));
}

Measured sameTube(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const MemberFacts &a = run.scene().facts(what.first), &b = run.scene().facts(what.second);
    if (!a.stock) return noStock(run, what.first);
    if (!b.stock) return noStock(run, what.second);
    Measured out =
        Measured::yesNo(a.stock->section == b.stock->section && a.stock->material == b.stock->material);
    if (!show) return out;
    return std::move(out).with(shownMiddles(run, {what.first, what.second}));
}

}  // namespace

std::vector<Quantity> jointQuantities() {
    constexpr auto j = SubjectKind::joint;
    constexpr auto num = ValueKind::number;
    return {
        {{"joint_angle", Dimension::angle, "joint", "Between the two axes, 0 to 90 degrees.", ""},
         j,
         num,
         0,
         only(Arg::view),
         jointAngle,
         {}},
        {{"joint_offset", Dimension::length, "joint", "How far the two axes miss each other.", ""},
         j,
         num,
         0,
         0,
         jointOffset,
         {}},
        {{"gussets_at_joint", Dimension::none, "joint", "Gussets in the corners of these two bars.", ""},
         j,
         num,
         0,
         0,
         gussetsAtJoint,
         {}},
    };
}

std::vector<Quantity> pairQuantities() {
    constexpr auto p = SubjectKind::pair;
    return {
        {{"gap", Dimension::length, "pair",
          "Between the outsides of two bars; negative where they run into each other.", ""},
         p,
         ValueKind::number,
         0,
         0,
         gap,
         {}},
        {{"included_angle", Dimension::angle, "pair", "Between the chords of two bars, 0 to 90 degrees.", ""},
         p,
         ValueKind::number,
         0,
         only(Arg::view),
         includedAngle,
         {}},
        {{"same_tube", Dimension::none, "pair", "Same outside diameter, wall and material.", "stock"},
         p,
         ValueKind::yes_no,
         0,
         0,
         sameTube,
         {}},
    };
}

}  // namespace hoopwright
