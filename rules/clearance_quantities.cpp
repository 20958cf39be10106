// From a person to the bars around them.
#include <algorithm>
#include <cmath>

#include "core/geometry/distance.h"
#include "rules/measuring.h"

namespace hoopwright {
namespace {

/// A body part as it is measured: the helmet is a body, the rest are points.
struct Body {
    std::optional<Ellipsoid> helmet;
    Vec3 point = Vec3::Zero();
    Vec3 middle() const { return helmet ? helmet->centre : point; }
    double size() const { return helmet ? helmet->half_mm.maxCoeff() : 0; }
};

std::vector<Body> bodiesOf(const Driver& driver, const std::vector<BodyPart>& parts) {
    std::vector<Body> out;
    for (BodyPart part : parts) {
        if (part == BodyPart::helmet) {
            out.push_back({driver.helmet.ellipsoid(), driver.helmet.centre});
            continue;
        }
        for (const Vec3& at : bodyPoints(driver, part)) out.push_back({std::nullopt, at});
    }
    return out;
}

Nearest nearestOf(const Centreline& line, const Body& body) {
    return body.helmet ? nearest(line, *body.helmet) : nearest(line, body.point);
}

struct Closest {
    double gap = 1e300;
    int member = -1;
    Nearest at;
};

/// A body and a bar, and the least their gap can be: that of the boxes.
struct Candidate {
    double least;
    int member;
    const Body* body;
};

std::vector<Candidate> candidates(const TableRun& run, const std::vector<int>& members,
                                  const std::vector<Body>& bodies, bool padded) {
    std::vector<Candidate> out;
    for (int i : members) {
        const ResolvedMember& m = run.scene().member(i);
        if (m.line.empty()) continue;
        const double thick = m.radius_mm() + (padded ? m.padding_mm : 0);
        const Box& box = run.scene().facts(i).box;
        for (const Body& body : bodies)
            out.push_back({box.exteriorDistance(body.middle()) - body.size() - thick, i, &body});
    }
    return out;
}

Closest closestOf(const TableRun& run, const std::vector<int>& members, const std::vector<Body>& bodies,
                  bool padded) {
    std::vector<Candidate> all = candidates(run, members, bodies, padded);
    std::sort(all.begin(), all.end(), [](const Candidate& a, const Candidate& b) {
        return a.least != b.least ? a.least < b.least : a.member < b.member;
    });
    Closest out;
    for (const Candidate& one : all) {
        if (one.least >= out.gap) break;  // so are all that follow
        const ResolvedMember& m = run.scene().member(one.member);
        const double thick = m.radius_mm() + (padded ? m.padding_mm : 0);
        const Nearest now = nearestOf(m.line, *one.body);
        if (now.distance_mm - thick < out.gap) out = {now.distance_mm - thick, one.member, now};
    }
    return out;
}

Measured clearance(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const std::vector<Body> bodies = bodiesOf(run.scene().driver(what), with.parts);
    const Closest at = closestOf(run, run.members(with.members, what), bodies, with.padded);
    if (at.member < 0) return Measured::unknown(run.noMember(with.members));
    Measured out = Measured::number(at.gap);
    if (!show) return out;
    const ResolvedMember& m = run.scene().member(at.member);
    const Vec3 way = at.at.on_b - at.at.on_a;
    const double thick = m.radius_mm() + (with.padded ? m.padding_mm : 0);
    const Vec3 surface = way.norm() > 1e-9 ? Vec3(at.at.on_a + thick * way.normalized()) : at.at.on_a;
    Shown shown = shownLine(surface, at.at.on_b);
    shown.members.push_back(at.member);
    return std::move(out).with(std::move(shown));
}

/// Of the bars no farther than `within` from the body, bare: the one with the thinnest padding.
Measured leastPadding(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const std::vector<Body> bodies = bodiesOf(run.scene().driver(what), with.parts);
    const std::vector<int> bars = run.members(with.members, what);
    if (bars.empty()) return Measured::unknown(run.noMember(with.members));
    double least = 1e300;
    Shown shown;
    for (const Candidate& one : candidates(run, bars, bodies, false)) {
        const ResolvedMember& m = run.scene().member(one.member);
        if (one.least > with.within_mm || m.padding_mm >= least) continue;
        const Nearest now = nearestOf(m.line, *one.body);
        if (now.distance_mm - m.radius_mm() > with.within_mm) continue;
        least = m.padding_mm;
        shown = shownLine(now.on_a, now.on_b);
        shown.members = {one.member};
    }
    if (least > 1e299) return Measured::leftOut();
    Measured out = Measured::number(least);
    return show ? std::move(out).with(std::move(shown)) : std::move(out);
}

/// From a body to a straightedge in its own fore-aft plane. Over the edge: how far it would have to go to be
/// clear below.
double underEdge(const Body& body, const Nearest& at, const Vec3& from, const Vec3& to) {
    const Vec3 along = to - from;
    if (std::abs(along.x()) < 1e-6) return at.distance_mm;  // an upright edge has no underside
    const Vec3 n =
        Vec3(-along.z(), 0, along.x()).normalized() * (along.x() > 0 ? 1 : -1);  // up, square to the edge
    const double over = n.dot(body.middle() - from);
    if (over <= 0) return at.distance_mm;
    return -over - (body.helmet ? n.dot(body.helmet->support(n) - body.helmet->centre) : 0);
}

/// Where a straightedge lies on a place when it is laid fore and aft at `y`: the top of a bar that reaches
/// that far across is taken there, not at the bar's highest point. All of it is then looked at from the side.
Vec3 laidAt(const TableRun& run, int place, const PlacePoint& point, double y) {
    Vec3 at = point.outside();
    at.y() = y;
    if (point.member < 0 || run.table().places[static_cast<std::size_t>(place)].is != NamedPlace::Is::top)
        return at;
    const ResolvedMember& m = run.scene().member(point.member);
    double highest = -1e300;
    for (double station : m.line.crossings({0, y, 0}, Vec3::UnitY())) {
        const Vec3 p = m.line.point(station);
        const double top = p.z() + uprightHalfHeight(m.radius_mm(), m.line.tangent(station));
        if (top <= highest) continue;
        highest = top;
        at = {p.x(), y, top};
    }
    return at;
}

Measured lineClearance(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    for (int place : {with.from, with.to})
        if (run.place(place).empty()) return Measured::unknown(run.placeMissing(place));
    double least = 1e300;
    Shown shown;
    for (const Body& body : bodiesOf(run.scene().driver(what), with.parts)) {
        const double y = body.middle().y();
        const Ellipsoid point{body.point, Eigen::Matrix3d::Identity(), Vec3::Constant(1e-6)};
        for (const PlacePoint& a : run.place(with.from)) {
            for (const PlacePoint& b : run.place(with.to)) {
                const Vec3 from = laidAt(run, with.from, a, y), to = laidAt(run, with.to, b, y);
                const Nearest at = nearestToSegment(body.helmet.value_or(point), from, to);
                const double d = underEdge(body, at, from, to);
                if (d >= least) continue;
                least = d;
                shown = {{ShownLine{from, to, false}, ShownLine{at.on_a, at.on_b, true}}, {}, at.on_b};
                for (int member : {a.member, b.member})
                    if (member >= 0) shown.members.push_back(member);
            }
        }
    }
    Measured out = Measured::number(least);
    return show ? std::move(out).with(std::move(shown)) : std::move(out);
}

using Allowed = bool (*)(const Vec3&);
/// Which way the sheet may face; within 60 degrees of sideways, of up.
Allowed allowedOf(Towards towards) {
    switch (towards) {
        case Towards::sides:
            return [](const Vec3& n) { return std::abs(n.y()) >= 0.5; };
        case Towards::up:
            return [](const Vec3& n) { return n.z() >= 0.5; };
        case Towards::sides_and_up:
            return [](const Vec3& n) { return std::abs(n.y()) >= 0.5 || n.z() >= 0.5; };
        case Towards::all:
            break;
    }
    return [](const Vec3&) { return true; };
}

Measured insideEnvelope(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const Envelope& sheet = run.envelope(with.members, what);
    if (!sheet.solid()) {
        const bool none = run.members(with.members, what).empty();
        return Measured::unknown(none ? run.noMember(with.members) : "those bars enclose no space");
    }
    EnvelopeDepth least{1e300, Vec3::UnitZ(), Vec3::Zero()};
    for (const Body& body : bodiesOf(run.scene().driver(what), with.parts)) {
        const Allowed allowed = allowedOf(with.towards);
        const EnvelopeDepth now =
            body.helmet ? sheet.depth(*body.helmet, allowed) : sheet.depth(body.point, allowed);
        if (now.depth_mm < least.depth_mm) least = now;
    }
    if (least.depth_mm > 1e299) return Measured::unknown("the bars have no side facing that way");
    Measured out = Measured::number(least.depth_mm);
    if (!show) return out;
    const Vec3 on_sheet = least.on_body + least.depth_mm * least.normal;
    return std::move(out).with(
        {{ShownPlane{on_sheet, least.normal, 400}, ShownLine{least.on_body, on_sheet, true}},
         {},
         least.on_body});
}

}  // namespace

std::vector<Quantity> clearanceQuantities() {
    constexpr auto d = SubjectKind::driver;
    constexpr auto num = ValueKind::number;
    const auto L = Dimension::length;
    const ArgSet part = only(Arg::body_part);
    return {
        {{"clearance", L, "driver", "From a body part to the nearest bar's outside, bare or padded.",
          "a driver"},
         d,
         num,
         part,
         Arg::members | Arg::padded,
         clearance,
         {}},
        {{"least_padding", L, "driver",
          "Thinnest padding on the bars whose bare outside is within a distance of a body part.", "a driver"},
         d,
         num,
         part | Arg::within,
         only(Arg::members),
         leastPadding,
         {}},
        {{"line_clearance", L, "driver",
          "In side view, from a body part to a straightedge laid over two places at its own distance from "
          "the centre; negative above it.",
          "a driver, both places"},
         d,
         num,
         part | Arg::from_place | Arg::to_place,
         0,
         lineClearance,
         {}},
        {{"inside_envelope", L, "driver",
          "How far inside a sheet stretched over the bars' outsides; negative when it pokes out.",
          "a driver, bars that enclose a space"},
         d,
         num,
         part,
         Arg::members | Arg::towards,
         insideEnvelope,
         {}},
    };
}

}  // namespace hoopwright
