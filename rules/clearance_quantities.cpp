// From a person to the bars around them.
#include <algorithm>
#include <cmath>

#include "core/driver/clearance.h"
#include "core/geometry/distance.h"
#include "rules/measuring.h"

namespace hoopwright {
namespace {

/// The solids of the parts asked for.
std::vector<BodySolid> bodyOf(const Driver& driver, const std::vector<BodyPart>& parts) {
    std::vector<BodySolid> out;
    for (const BodyPart part : parts)
        for (BodySolid& one : solidsOf(driver, part)) out.push_back(std::move(one));
    return out;
}

/// Only the wheel may not be there.
Measured noSuchPart() {
    return Measured::unknown("no steering wheel is measured for this driver");
}

Measured clearance(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const std::vector<BodySolid> body = bodyOf(run.scene().driver(what), with.parts);
    if (body.empty()) return noSuchPart();
    const NearestBar at = nearestBar(body, run.scene().cage(), run.members(with.members, what), with.padded);
    if (at.member < 0) return Measured::unknown(run.noMember(with.members));
    Measured out = Measured::number(at.gap_mm);
    if (!show) return out;
    Shown shown = shownLine(at.on_bar, at.on_person);
    shown.members.push_back(at.member);
    return std::move(out).with(std::move(shown));
}

constexpr double kOnIt_mm = 1e-6;  // a bar at the distance is within it

/// Of the bars no farther than `within` from the body, bare: the one with the thinnest padding.
Measured leastPadding(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const std::vector<BodySolid> body = bodyOf(run.scene().driver(what), with.parts);
    const std::vector<int> bars = run.members(with.members, what);
    if (bars.empty()) return Measured::unknown(run.noMember(with.members));
    double least = 1e300;
    Shown shown;
    for (const int bar : bars) {
        const ResolvedMember& m = run.scene().member(bar);
        if (m.padding_mm >= least) continue;
        for (const BodySolid& one : body) {
            const double box = m.line.bounds().exteriorDistance(middleOf(one.solid)) - reachOf(one.solid);
            if (box - m.radius_mm() > with.within_mm + kOnIt_mm) continue;
            const Nearest now = nearest(m.line, one.solid);
            if (now.distance_mm - m.radius_mm() > with.within_mm + kOnIt_mm) continue;
            least = m.padding_mm;
            // From the bare outside towards the body.
            const Vec3 way = now.on_b - now.on_a;
            const Vec3 toward = way.norm() > 1e-9 ? Vec3(way.normalized()) : Vec3(Vec3::UnitZ());
            const Vec3 outside = now.on_a + m.radius_mm() * toward;
            shown = shownLine(outside, outside + m.padding_mm * toward);
            shown.members = {bar};
        }
    }
    if (least > 1e299) return Measured::leftOut();
    Measured out = Measured::number(least);
    return show ? std::move(out).with(std::move(shown)) : std::move(out);
}

/// Where a straightedge lies on a place when it is laid fore and aft at `y`: the top of a bar that reaches
/// that far across is taken there, not at the bar's highest point. All of it is then looked at from the side.
Vec3 laidAt(const TableRun& run, int place, const PlacePoint& point, double y) {
    Vec3 at = point.outside();
    at.y() = y;
    if (point.member < 0 || run.table().places[static_cast<std::size_t>(place)].is != NamedPlace::Is::top)
        return at;
    return topAt(run.scene().member(point.member), y).value_or(at);
}

/// Half the diagonal of the box round a solid: no point of it is farther from its middle.
double halfSize(const Solid& solid) {
    const Vec3 off = middleOf(solid);
    Vec3 far;
    for (int axis = 0; axis < 3; ++axis) {
        const Vec3 n = Vec3::Unit(axis);
        far[axis] = std::max((support(solid, n) - off).dot(n), (off - support(solid, -n)).dot(n));
    }
    return far.norm();
}

double distanceToEdge(const Vec3& at, const Vec3& from, const Vec3& to) {
    const Vec3 along = to - from;
    const double length2 = along.squaredNorm();
    const double t = length2 > 0 ? std::clamp((at - from).dot(along) / length2, 0.0, 1.0) : 0;
    return (at - from - t * along).norm();
}

/// Seen from the side, on the upper side of the line through both; an upright one has none.
bool isOver(const Vec3& at, const Vec3& from, const Vec3& to) {
    const Vec3 along = to - from;
    if (std::abs(along.x()) < 1e-6) return false;
    const Vec3 up = Vec3(-along.z(), 0, along.x()) * (along.x() > 0 ? 1 : -1);
    return up.dot(at - from) > 0;
}

Measured lineClearance(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    for (int place : {with.from, with.to})
        if (run.place(place).empty()) return Measured::unknown(run.placeMissing(place));
    const std::vector<BodySolid> body = bodyOf(run.scene().driver(what), with.parts);
    if (body.empty()) return noSuchPart();
    double least = 1e300;
    Shown shown;
    for (const BodySolid& one : body) {
        const Vec3 middle = middleOf(one.solid);
        const auto laid = [&](int place) {
            std::vector<std::pair<Vec3, int>> out;
            for (const PlacePoint& point : run.place(place))
                out.emplace_back(laidAt(run, place, point, middle.y()), point.member);
            return out;
        };
        const auto ends = laid(with.to);
        const double size = halfSize(one.solid);
        for (const auto& [from, from_member] : laid(with.from)) {
            for (const auto& [to, to_member] : ends) {
                // It cannot be nearer than this where it is under the edge; over it the gap is negative.
                if (!isOver(middle, from, to) && distanceToEdge(middle, from, to) - size >= least) continue;
                const UnderEdge now = underEdge(one.solid, from, to);
                if (now.gap_mm >= least) continue;
                least = now.gap_mm;
                shown = {{ShownLine{from, to, false}, ShownLine{now.on_edge, now.on_person, true}},
                         {},
                         now.on_person};
                for (int member : {from_member, to_member})
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
            return &facesSidesOrUp;
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
    const std::vector<BodySolid> body = bodyOf(run.scene().driver(what), with.parts);
    if (body.empty()) return noSuchPart();
    const EnvelopeDepth least = depthInside(sheet, body, allowedOf(with.towards));
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
