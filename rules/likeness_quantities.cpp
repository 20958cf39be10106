// Whether bars are alike.
#include <algorithm>
#include <cmath>

#include "rules/measuring.h"

namespace hoopwright {
namespace {

bool sameTube(const MemberFacts& a, const MemberFacts& b) {
    return a.stock == b.stock ||
           (a.stock->section == b.stock->section && a.stock->material == b.stock->material);
}

Measured sameTubeAs(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const MemberFacts& own = factsOf(run, what);
    if (!own.stock) return noStock(run, what.first);
    std::vector<int> others = run.members(with.members, what);
    std::erase(others, what.first);
    if (others.empty()) return Measured::unknown(run.noMember(with.members));
    bool same = true;
    for (int i : others) {
        if (!run.scene().facts(i).stock) return noStock(run, i);
        same = same && sameTube(own, run.scene().facts(i));
    }
    Measured out = Measured::yesNo(same);
    if (!show) return out;
    Shown shown = shownMiddles(run, others);
    shown.shapes.insert(shown.shapes.begin(), ShownPoint{middleOf(memberOf(run, what))});
    shown.look_at = middleOf(memberOf(run, what));
    return std::move(out).with(std::move(shown));
}

/// Farthest any point of a is from b: {distance, where on a, where on b}.
struct Stray {
    double distance = -1;
    Vec3 on_a = Vec3::Zero(), on_b = Vec3::Zero();
};
Stray strays(const Centreline& a, const Centreline& b) {
    Stray out;
    for (double station : a.sampleStations(0.5)) {
        const Vec3 p = a.point(station), q = b.point(b.nearestStation(p));
        if ((p - q).norm() > out.distance) out = {(p - q).norm(), p, q};
    }
    return out;
}

/// Piece by piece the same: so it is with pairs made by mirroring, and much quicker to see.
bool samePieces(const Centreline& a, const Centreline& b) {
    constexpr double same_mm = 1e-9;
    return std::equal(a.pieces().begin(), a.pieces().end(), b.pieces().begin(), b.pieces().end(),
                      [](const Piece& p, const Piece& q) {
                          return p.kind == q.kind && (p.start - q.start).norm() <= same_mm &&
                                 (p.tangent - q.tangent).norm() <= same_mm &&
                                 std::abs(p.length_mm - q.length_mm) <= same_mm &&
                                 std::abs(p.radius_mm - q.radius_mm) <= same_mm &&
                                 (p.axis - q.axis).norm() <= same_mm;
                      });
}

Stray strayBothWays(const Centreline& a, const Centreline& b) {
    if (samePieces(a, b)) return {0, a.start(), b.start()};
    const Stray there = strays(a, b), back = strays(b, a);
    return there.distance >= back.distance ? there : Stray{back.distance, back.on_b, back.on_a};
}

/// Its like on the other side: the other half of the pair, or a bar of the same role.
std::vector<int> likes(const TableRun& run, const Subject& what) {
    const ResolvedMember& m = memberOf(run, what);
    const Side side = factsOf(run, what).side;
    if (side == Side::centre) return {what.first};
    std::vector<int> same_role;
    for (int i = 0; i < run.scene().memberCount(); ++i) {
        if (i == what.first || run.scene().facts(i).side != other(side)) continue;
        const ResolvedMember& like = run.scene().member(i);
        if (m.layout >= 0 && like.layout == m.layout) return {i};
        if (like.role == m.role) same_role.push_back(i);
    }
    return same_role;
}

Measured mirrorDifference(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const Centreline& line = memberOf(run, what).line;
    if (line.empty()) return Measured::leftOut();
    const std::vector<int> candidates = likes(run, what);
    if (candidates.empty()) return Measured::unknown("there is no bar like it on the other side");
    Stray least;
    int which = -1;
    for (int i : candidates) {
        const Stray now = strayBothWays(line, run.scene().member(i).line.mirrored());
        if (which >= 0 && now.distance >= least.distance) continue;
        least = now;
        which = i;
    }
    Measured out = Measured::number(least.distance);
    if (!show) return out;
    Shown shown = shownLine(least.on_a, least.on_b);
    shown.members.push_back(which);
    return std::move(out).with(std::move(shown));
}

}  // namespace

std::vector<Quantity> likenessQuantities() {
    constexpr auto m = SubjectKind::member;
    return {
        {{"same_tube_as", Dimension::none, "member",
          "Same outside diameter, wall and material as each of these bars.", "stock"},
         m,
         ValueKind::yes_no,
         only(Arg::members),
         0,
         sameTubeAs,
         {}},
        {{"mirror_difference", Dimension::length, "member",
          "Farthest it strays from the mirror of its like on the other side.",
          "a bar of its role on the other side"},
         m,
         ValueKind::number,
         0,
         0,
         mirrorDifference,
         {}},
    };
}

}  // namespace hoopwright
