// How a bar is bent.
#include <algorithm>
#include <cmath>

#include "rules/bar_plane.h"
#include "rules/measuring.h"

namespace hoopwright {
namespace {

Vec3 middle(const Piece& bend) {
    return bend.point(bend.length_mm / 2);
}

/// At the corner the bend rounds off: how far the tube turns from straight on.
Shown shownBend(const Piece& bend, SeenFrom view = SeenFrom::in_space) {
    const double setback = bend.radius_mm * std::tan(bend.angle_rad / 2);
    const Vec3 corner = bend.start + setback * bend.tangent;
    return shownAngle(corner, corner + setback * seen(bend.tangent, view),
                      corner + setback * seen(bend.endTangent(), view));
}

/// Lowest height of a place; nothing if there is no such place.
std::optional<double> lowest(const TableRun& run, int place) {
    std::optional<double> z;
    for (const PlacePoint& p : run.place(place)) z = z ? std::min(*z, p.at.z()) : p.at.z();
    return z;
}

Measured bendCount(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    std::optional<double> above, below;
    if (with.above >= 0 && !(above = lowest(run, with.above)))
        return Measured::unknown(run.placeMissing(with.above));
    if (with.below >= 0 && !(below = lowest(run, with.below)))
        return Measured::unknown(run.placeMissing(with.below));
    int count = 0;
    Shown shown;
    for (const Piece& piece : memberOf(run, what).line.pieces()) {
        if (piece.kind != Piece::Kind::bend) continue;
        const double z = middle(piece).z();
        if ((above && z <= *above) || (below && z >= *below)) continue;
        ++count;
        if (!show) continue;
        shown.shapes.push_back(ShownPoint{middle(piece)});
        shown.look_at = middle(piece);
    }
    if (show && count == 0) shown = shownChord(memberOf(run, what).line);
    Measured out = Measured::number(count);
    return show ? std::move(out).with(std::move(shown)) : std::move(out);
}

Measured bendSum(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    double sum = 0;
    Shown shown;
    for (const Piece& piece : memberOf(run, what).line.pieces()) {
        if (piece.kind != Piece::Kind::bend) continue;
        sum += piece.angle_rad;
        if (!show) continue;
        Shown one = shownBend(piece);
        shown.shapes.push_back(one.shapes.front());
        shown.look_at = one.look_at;
    }
    if (show && shown.shapes.empty()) shown = shownChord(memberOf(run, what).line);
    Measured out = Measured::number(sum);
    return show ? std::move(out).with(std::move(shown)) : std::move(out);
}

double leastNodeDistance(const TableRun& run, int member, const Vec3& at) {
    double least = 1e300;
    for (const Node& node : run.scene().cage().nodes) {
        if (std::find(node.members.begin(), node.members.end(), member) != node.members.end())
            least = std::min(least, (node.at - at).norm());
    }
    return least;
}

/// The turn of a bend as it looks in a view.
double turnSeen(const Piece& bend, SeenFrom view) {
    const Vec3 a = seen(bend.tangent, view), b = seen(bend.endTangent(), view);
    if (a.norm() < 1e-9 || b.norm() < 1e-9) return 0;  // one leg seen end-on: no corner is seen
    return std::atan2(a.cross(b).norm(), a.dot(b));
}

/// Whether a bend shows as a corner in a view. A straight that is seen nearly end-on has no direction there,
/// and a flat hoop seen along its own plane is a line up and down again.
bool shows(const Piece& bend, SeenFrom view) {
    if (view == SeenFrom::in_space) return true;
    constexpr double kCorner_rad = M_PI / 180, kEndOn = 0.0872;  // 1 degree; 5 degrees off the way one looks
    const Vec3 a = seen(bend.tangent, view), b = seen(bend.endTangent(), view);
    if (a.norm() < kEndOn || b.norm() < kEndOn) return false;
    const double turn = turnSeen(bend, view);
    return std::min(turn, M_PI - turn) >= kCorner_rad;
}

/// Stations of a bar where one of these bars meets it.
std::vector<double> metAt(const TableRun& run, const Subject& what, int members) {
    const Centreline& line = memberOf(run, what).line;
    const auto counts = [&](int i) { return i != what.first && run.picks(members, i, what); };
    std::vector<double> out;
    for (const Joint& joint : run.scene().cage().joints)
        if (joint.host == what.first && counts(joint.branch)) out.push_back(joint.host_station_mm);
    for (const Node& node : run.scene().cage().nodes) {
        const bool own =
            std::find(node.members.begin(), node.members.end(), what.first) != node.members.end();
        if (own && std::any_of(node.members.begin(), node.members.end(), counts))
            out.push_back(line.nearestStation(node.at));
    }
    return out;
}

/// Of the bends that show: the farthest one is from a bar that meets it.
Measured supportFromBend(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    std::optional<double> above, below;
    if (with.above >= 0 && !(above = lowest(run, with.above)))
        return Measured::unknown(run.placeMissing(with.above));
    if (with.below >= 0 && !(below = lowest(run, with.below)))
        return Measured::unknown(run.placeMissing(with.below));
    const Centreline& line = memberOf(run, what).line;
    const std::vector<double> met = metAt(run, what, with.members);
    double farthest = -1;
    Shown shown;
    for (const Piece& piece : line.pieces()) {
        if (piece.kind != Piece::Kind::bend || !shows(piece, with.view)) continue;
        const double z = middle(piece).z(), from = piece.station_mm, to = from + piece.length_mm;
        if ((above && z <= *above) || (below && z >= *below)) continue;
        double least = line.length_mm(), at = from;  // nothing meets it
        for (const double station : met) {
            const double away = std::max({0.0, from - station, station - to});
            if (away < least) least = away, at = station;
        }
        if (least <= farthest) continue;
        farthest = least;
        if (!show) continue;
        shown = least > 0 ? shownRun(line, std::clamp(at, from, to), at) : shownPoint(line.point(at));
        if (met.empty()) shown = shownRun(line, 0, line.length_mm());
    }
    if (farthest < 0) return Measured::leftOut();
    Measured out = Measured::number(farthest);
    return show ? std::move(out).with(std::move(shown)) : std::move(out);
}

Measured greatestBend(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    double greatest = 0;
    const Piece* where = nullptr;
    for (const Piece& piece : memberOf(run, what).line.pieces()) {
        if (piece.kind != Piece::Kind::bend) continue;
        const double away = with.away_from_nodes_mm;
        if (away >= 0 && leastNodeDistance(run, what.first, middle(piece)) <= away) continue;
        const double turn = with.view == SeenFrom::in_space ? piece.angle_rad : turnSeen(piece, with.view);
        if (turn < greatest) continue;
        greatest = turn;
        where = &piece;
    }
    Measured out = Measured::number(greatest);
    if (!show) return out;
    return std::move(out).with(where ? shownBend(*where, with.view) : shownChord(memberOf(run, what).line));
}

Measured bendRadiusOverOd(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const Piece* tightest = nullptr;
    for (const Piece& piece : memberOf(run, what).line.pieces()) {
        if (piece.kind == Piece::Kind::bend && (!tightest || piece.radius_mm < tightest->radius_mm))
            tightest = &piece;
    }
    if (!tightest) return Measured::leftOut();
    const MemberFacts& f = factsOf(run, what);
    if (!f.stock) return noStock(run, what.first);
    Measured out = Measured::number(tightest->radius_mm / f.stock->section.od_mm);
    return show ? std::move(out).with(shownLine(tightest->centre, middle(*tightest))) : std::move(out);
}

/// The point of the centreline for which `measure` is greatest: ends of pieces, and along bends.
template <class F>
std::pair<double, Vec3> greatestAlong(const Centreline& line, F measure) {
    double greatest = -1e300;
    Vec3 where = Vec3::Zero();
    const auto offer = [&](const Vec3& p) {
        const double now = measure(p);
        if (now > greatest) {
            greatest = now;
            where = p;
        }
    };
    for (const Piece& piece : line.pieces()) {
        offer(piece.start);
        constexpr int kSteps = 64;
        for (int i = 1; piece.kind == Piece::Kind::bend && i < kSteps; ++i)
            offer(piece.point(piece.length_mm * i / kSteps));
        offer(piece.end());
    }
    return {greatest, where};
}

Measured bow(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const Centreline& line = memberOf(run, what).line;
    if (line.empty()) return Measured::leftOut();
    const Vec3 start = line.start(), chord = line.end() - start, flat = seen(chord, with.view);
    const double length = flat.norm();
    if (!(length > 1e-6))
        return Measured::unknown(
            "its two ends are in one place" +
            std::string(with.view == SeenFrom::in_space ? "" : " " + viewWords(with.view)));
    const auto off = [&](const Vec3& p) { return seen(p - start, with.view).cross(flat).norm() / length; };
    const auto [greatest, where] = greatestAlong(line, off);
    Measured out = Measured::number(greatest);
    if (!show) return out;
    const Vec3 foot = start + seen(where - start, with.view).dot(flat) / (length * length) * chord;
    Shown shown = shownLine(foot, where);
    shown.shapes.push_back(ShownLine{start, line.end(), false});
    return std::move(out).with(std::move(shown));
}

Measured outOfPlane(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const Centreline& line = memberOf(run, what).line;
    if (line.empty()) return Measured::leftOut();
    const BarPlane plane = planeOf(line);
    Measured out = Measured::number(plane.off_mm);
    return show ? std::move(out).with({{ShownPlane{plane.middle, plane.normal, 500}}, {}, plane.middle})
                : std::move(out);
}

/// Where it strays farthest from its chord: there it runs along the chord.
double bowStation(const Centreline& line) {
    const Vec3 start = line.start(), along = (line.end() - start).normalized();
    const auto off = [&](const Vec3& p) { return Vec3((p - start) - (p - start).dot(along) * along); };
    const double near =
        line.nearestStation(greatestAlong(line, [&](const Vec3& p) { return off(p).norm(); }).second);
    const Piece& piece = line.pieceAt(near);
    if (piece.kind != Piece::Kind::bend) return near;
    const auto rises = [&](double station) {
        return line.tangent(station).dot(off(line.point(station))) > 0;
    };
    double before = std::max(piece.station_mm, near - piece.length_mm / 32);
    double after = std::min(piece.station_mm + piece.length_mm, near + piece.length_mm / 32);
    if (!rises(before) || rises(after)) return near;
    for (int i = 0; i < 60; ++i) {
        const double middle_mm = (before + after) / 2;
        (rises(middle_mm) ? before : after) = middle_mm;
    }
    return (before + after) / 2;
}

/// Along the bar, from where it strays farthest from its chord to the nearest bar that lands on it.
Measured supportFromBow(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const Centreline& line = memberOf(run, what).line;
    if (line.empty() || line.bendCount() == 0) return Measured::leftOut();
    if (!((line.end() - line.start()).norm() > 1e-6))
        return Measured::unknown("its two ends are in one place");
    const double bow_station = bowStation(line);
    double least = line.length_mm();  // nothing lands on it
    Shown shown;
    if (show) shown = shownRun(line, 0, line.length_mm());
    for (const Joint& joint : run.scene().cage().joints) {
        if (joint.host != what.first || !run.picks(with.members, joint.branch, what)) continue;
        const double away = std::abs(joint.host_station_mm - bow_station);
        if (away >= least) continue;
        least = away;
        if (!show) continue;
        shown = shownRun(line, bow_station, joint.host_station_mm);
        shown.members = {joint.branch};
    }
    Measured out = Measured::number(least);
    return show ? std::move(out).with(std::move(shown)) : std::move(out);
}

Measured length(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const Centreline& line = memberOf(run, what).line;
    Measured out = Measured::number(line.length_mm());
    return show && !line.empty() ? std::move(out).with(shownRun(line, 0, line.length_mm())) : std::move(out);
}

Measured mass(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    if (!factsOf(run, what).material) return noStock(run, what.first);
    const ResolvedMember& m = memberOf(run, what);
    Measured out = Measured::number(m.mass_kg);
    return show && !m.line.empty() ? std::move(out).with(shownPoint(m.line.point(m.line.length_mm() / 2)))
                                   : std::move(out);
}

bool spanHasBend(const Centreline& line, double from, double to) {
    return std::any_of(line.pieces().begin(), line.pieces().end(), [&](const Piece& piece) {
        return piece.kind == Piece::Kind::bend && piece.station_mm + piece.length_mm > from + 1e-6 &&
               piece.station_mm < to - 1e-6;
    });
}

/// Stations where something holds it: its ends, and bars that land on it and are not passed over.
std::vector<double> heldAt(const TableRun& run, int member) {
    if (run.table().ignored < 0) return run.scene().facts(member).supports;
    std::vector<double> out = {0, run.scene().member(member).line.length_mm()};
    for (const Joint& joint : run.scene().cage().joints)
        if (joint.host == member && !run.ignores(joint.branch)) out.push_back(joint.host_station_mm);
    std::sort(out.begin(), out.end());
    return out;
}

Measured unsupportedLength(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const Centreline& line = memberOf(run, what).line;
    const std::vector<double> held = heldAt(run, what.first);
    double longest = -1, from = 0;
    for (std::size_t i = 1; i < held.size(); ++i) {
        const double span = held[i] - held[i - 1];
        if (with.spans != Spans::all &&
            spanHasBend(line, held[i - 1], held[i]) != (with.spans == Spans::bent))
            continue;
        if (span <= longest) continue;
        longest = span;
        from = held[i - 1];
    }
    if (longest < 0) return Measured::leftOut();
    Measured out = Measured::number(longest);
    return show ? std::move(out).with(shownRun(line, from, from + longest)) : std::move(out);
}

}  // namespace

std::vector<Quantity> bendQuantities() {
    constexpr auto m = SubjectKind::member;
    constexpr auto num = ValueKind::number;
    const auto L = Dimension::length;
    const auto A = Dimension::angle;
    const auto N = Dimension::none;
    return {
        {{"bend_count", N, "member", "Bends, all or only those above or below a place.", ""},
         m,
         num,
         0,
         Arg::above | Arg::below,
         bendCount,
         {}},
        {{"bend_sum", A, "member", "Sum of its bend angles.", ""}, m, num, 0, 0, bendSum, {}},
        {{"greatest_bend", A, "member", "Greatest of its bend angles; 0 without bends.", ""},
         m,
         num,
         0,
         Arg::view | Arg::away_from_nodes,
         greatestBend,
         {}},
        {{"bend_radius_over_od", N, "member",
          "Least centreline radius over outside diameter; straight bars are left out.", "stock"},
         m,
         num,
         0,
         0,
         bendRadiusOverOd,
         {}},
        {{"bow", L, "member", "Farthest its centreline strays from the line between its ends.", ""},
         m,
         num,
         0,
         only(Arg::view),
         bow,
         {}},
        {{"out_of_plane", L, "member", "Farthest its centreline strays from the plane that suits it best.",
          ""},
         m,
         num,
         0,
         0,
         outOfPlane,
         {}},
        {{"support_from_bow", L, "member",
          "Along a bent bar, from where it strays farthest from the line between its ends to the nearest bar "
          "that lands on it; with none, all its length.",
          ""},
         m,
         num,
         0,
         only(Arg::members),
         supportFromBow,
         {}},
        {{"support_from_bend", L, "member",
          "Along it, from the bend that is farthest from one to the nearest bar that meets it; 0 where that "
          "is "
          "in the bend, all its length with none; of all bends, or of those that show in a view, or over or "
          "under a place.",
          "the places"},
         m,
         num,
         0,
         Arg::view | Arg::above | Arg::below | Arg::members,
         supportFromBend,
         {}},
        {{"length", L, "member", "Developed length of its centreline.", ""}, m, num, 0, 0, length, {}},
        {{"mass", Dimension::mass, "member", "Mass of the finished piece, its ends cut to what they land on.",
          "material in the stock list"},
         m,
         num,
         0,
         0,
         mass,
         {}},
        {{"unsupported_length", L, "member",
          "Longest run along it between two places where something holds it.", ""},
         m,
         num,
         0,
         only(Arg::spans),
         unsupportedLength,
         {}},
    };
}

}  // namespace hoopwright
