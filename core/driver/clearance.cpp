#include "core/driver/clearance.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace hoopwright {
namespace {

constexpr double kFar = 1e300;

double thickness(const ResolvedMember& bar, bool padded) {
    return bar.radius_mm() + (padded ? bar.padding_mm : 0);
}

std::vector<int> allMembers(const CageGeometry& cage) {
    std::vector<int> all(cage.members.size());
    std::iota(all.begin(), all.end(), 0);
    return all;
}

/// A solid and a bar, and the least their gap can be: that of the boxes.
struct Candidate {
    double least;
    int member;
    const BodySolid* body;
};

std::string sidedName(BodyPart part, int side) {
    return std::string(partWord(part)) + (side > 0 ? "_left" : side < 0 ? "_right" : "");
}

/// The parts a person feels a tube with; eye and heel are points of others.
constexpr BodyPart kParts[] = {BodyPart::helmet, BodyPart::shoulder, BodyPart::arm,   BodyPart::elbow,
                               BodyPart::hand,   BodyPart::wheel,    BodyPart::torso, BodyPart::hip,
                               BodyPart::thigh,  BodyPart::knee,     BodyPart::shin,  BodyPart::foot};

Box boxOf(const Solid& solid) {
    Box box;
    for (int axis = 0; axis < 3; ++axis)
        for (const double sign : {1.0, -1.0}) box.extend(support(solid, sign * Vec3::Unit(axis)));
    // Each support point is extreme along its own axis; together they span the box.
    return box;
}

/// From the gap, how far a convex solid goes before it touches: the gap can shrink no faster than it moves.
double untilTouch(const Centreline& line, double thick, const Solid& solid, const Vec3& way, double limit,
                  Nearest& last) {
    constexpr double kTouch_mm = 1e-6;
    double gone = 0;
    for (int step = 0; step < 2000 && gone < limit; ++step) {
        last = nearest(line, shifted(solid, gone * way));
        const double gap = last.distance_mm - thick;
        if (gap <= kTouch_mm) return step == 0 ? gap : gone;
        gone += gap;
    }
    return limit;
}

}  // namespace

Vec3 onSurface(const Nearest& at, double radius_mm) {
    const Vec3 out = at.on_b - at.on_a;
    const double sign = at.distance_mm < 0 ? -1 : 1;
    return out.norm() > 1e-9 ? Vec3(at.on_a + sign * radius_mm * out.normalized()) : at.on_a;
}

NearestBar nearestBar(std::span<const BodySolid> body, const CageGeometry& cage, std::span<const int> members,
                      bool padded) {
    std::vector<Candidate> all;
    all.reserve(members.size() * body.size());
    for (const int i : members) {
        const ResolvedMember& bar = cage.members[static_cast<std::size_t>(i)];
        for (const BodySolid& one : body) {
            const double box = bar.line.bounds().exteriorDistance(middleOf(one.solid));
            all.push_back({box - reachOf(one.solid) - thickness(bar, padded), i, &one});
        }
    }
    std::sort(all.begin(), all.end(), [](const Candidate& a, const Candidate& b) {
        return a.least != b.least ? a.least < b.least : a.member < b.member;
    });
    NearestBar out;
    out.gap_mm = kFar;
    for (const Candidate& one : all) {
        if (one.least >= out.gap_mm) break;  // so are all that follow
        const ResolvedMember& bar = cage.members[static_cast<std::size_t>(one.member)];
        const double thick = thickness(bar, padded);
        const Nearest now = nearest(bar.line, one.body->solid);
        if (now.distance_mm - thick < out.gap_mm)
            out = {one.member, now.distance_mm - thick, now.on_b, onSurface(now, thick)};
    }
    return out;
}

NearestBar nearestBar(std::span<const BodySolid> body, const CageGeometry& cage, bool padded) {
    const std::vector<int> all = allMembers(cage);
    return nearestBar(body, cage, all, padded);
}

Envelope envelopeOf(const CageGeometry& cage, std::span<const int> members) {
    std::vector<EnvelopeTube> tubes;
    for (const int i : members) {
        const ResolvedMember& bar = cage.members[static_cast<std::size_t>(i)];
        tubes.push_back({&bar.line, bar.radius_mm()});
    }
    return Envelope(tubes);
}

bool facesSidesOrUp(const Vec3& n) {
    return std::abs(n.y()) >= 0.5 || n.z() >= 0.5;
}

EnvelopeDepth depthInside(const Envelope& sheet, std::span<const BodySolid> body,
                          bool (*allowed)(const Vec3&)) {
    EnvelopeDepth least{kFar, Vec3::UnitZ(), Vec3::Zero()};
    for (const BodySolid& one : body) {
        const EnvelopeDepth now = sheet.depth([&](const Vec3& n) { return support(one.solid, n); }, allowed);
        if (now.depth_mm < least.depth_mm) least = now;
    }
    return least;
}

Clearances clearances(const Driver& driver, const CageGeometry& cage) {
    Clearances out;
    if (cage.members.empty()) return out;
    const std::vector<int> all = allMembers(cage);
    const Envelope sheet = envelopeOf(cage, all);
    out.enclosed = sheet.solid();
    for (const BodyPart part : kParts) {
        const std::vector<BodySolid> body = solidsOf(driver, part);
        for (const int side : {1, 0, -1}) {
            std::vector<BodySolid> mine;
            for (const BodySolid& one : body)
                if (one.side == side) mine.push_back(one);
            if (mine.empty()) continue;
            Clearance each;
            each.part = part;
            each.side = side;
            each.name = sidedName(part, side);
            each.bare = nearestBar(mine, cage, all, false);
            each.padded = nearestBar(mine, cage, all, true);
            each.inside_mm = std::numeric_limits<double>::quiet_NaN();
            if (out.enclosed) {
                const EnvelopeDepth depth = depthInside(sheet, mine, &facesSidesOrUp);
                each.inside_mm = depth.depth_mm;
                each.on_body = depth.on_body;
                each.on_sheet = depth.on_body + depth.depth_mm * depth.normal;
            }
            out.parts.push_back(std::move(each));
        }
    }
    return out;
}

Travel travel(const Solid& solid, const CageGeometry& cage, std::span<const int> members, const Vec3& way) {
    Travel out;
    out.way = way;
    out.bare_mm = out.padded_mm = kTravelLimit_mm;
    const Box swept = boxOf(solid).merged(boxOf(shifted(solid, kTravelLimit_mm * way)));
    for (const int i : members) {
        const ResolvedMember& bar = cage.members[static_cast<std::size_t>(i)];
        const Vec3 thick = Vec3::Constant(thickness(bar, true));
        if (!swept.intersects(Box(bar.line.bounds().min() - thick, bar.line.bounds().max() + thick)))
            continue;
        const double limit = kTravelLimit_mm;
        Nearest at;
        const double bare =
            untilTouch(bar.line, bar.radius_mm(), solid, way, std::min(limit, out.bare_mm), at);
        if (bare < std::min(limit, out.bare_mm)) {
            out.member = i;
            out.bare_mm = bare;
            out.on_person = at.on_b - std::max(0.0, bare) * way;
            out.on_bar = onSurface(at, bar.radius_mm());
        }
        const double padded =
            untilTouch(bar.line, thickness(bar, true), solid, way, std::min(limit, out.padded_mm), at);
        if (padded < std::min(limit, out.padded_mm)) {
            out.padded_member = i;
            out.padded_mm = padded;
        }
    }
    return out;
}

HelmetRoom helmetRoom(const Driver& driver, const CageGeometry& cage) {
    const Solid helmet = driver.helmet.ellipsoid();
    const std::vector<int> all = allMembers(cage);
    const auto room = [&](const Vec3& way) { return travel(helmet, cage, all, way); };
    return {room(Vec3::UnitZ()), room(-Vec3::UnitX()), room(Vec3::UnitX()), room(Vec3::UnitY()),
            room(-Vec3::UnitY())};
}

double uprightHalfHeight(double radius_mm, const Vec3& t) {
    return radius_mm * std::sqrt(std::max(0.0, 1 - t.x() * t.x())) / std::abs(t.y());
}

std::optional<Vec3> topAt(const ResolvedMember& bar, double y) {
    std::optional<Vec3> out;
    for (const double station : bar.line.crossings({0, y, 0}, Vec3::UnitY())) {
        const Vec3 p = bar.line.point(station);
        const double top = p.z() + uprightHalfHeight(bar.radius_mm(), bar.line.tangent(station));
        if (!out || top > out->z()) out = Vec3(p.x(), y, top);
    }
    return out;
}

UnderEdge underEdge(const Solid& solid, const Vec3& from, const Vec3& to) {
    const PathPoint ends[] = {{from, 0}, {to, 0}};
    const Centreline edge = makeCentreline(ends).line;
    UnderEdge out;
    if (edge.empty()) {
        out.gap_mm = (middleOf(solid) - from).norm();
        return out;
    }
    const Nearest at = nearest(edge, solid);
    out = {at.distance_mm, at.on_a, at.on_b};
    const Vec3 along = to - from;
    if (std::abs(along.x()) < 1e-6) return out;  // an upright edge has no underside
    // Up, square to the edge.
    const Vec3 n = Vec3(-along.z(), 0, along.x()).normalized() * (along.x() > 0 ? 1 : -1);
    const Vec3 middle = middleOf(solid);
    if (n.dot(middle - from) <= 0) return out;
    out.on_person = support(solid, n);
    out.gap_mm = -n.dot(out.on_person - from);
    return out;
}

std::vector<TopLine> topLines(const Driver& driver, const CageGeometry& cage) {
    const auto of = [&](std::string_view role) {
        std::vector<int> out;
        for (std::size_t i = 0; i < cage.members.size(); ++i)
            if (cage.members[i].role == role) out.push_back(static_cast<int>(i));
        return out;
    };
    const std::vector<int> hoops = of("main_hoop");
    std::vector<int> fronts = of("front_hoop");
    if (fronts.empty()) fronts = of("windshield_bar");
    const double y = driver.helmet.centre.y();
    std::vector<TopLine> out;
    const auto add = [&](int a, int b) {
        const auto from = topAt(cage.members[static_cast<std::size_t>(a)], y),
                   to = topAt(cage.members[static_cast<std::size_t>(b)], y);
        if (from && to) out.push_back({a, b, *from, *to, underEdge(driver.helmet.ellipsoid(), *from, *to)});
    };
    for (std::size_t i = 0; i < hoops.size(); ++i) {
        for (const int front : fronts) add(hoops[i], front);
        for (std::size_t k = i + 1; k < hoops.size(); ++k) add(hoops[i], hoops[k]);
    }
    return out;
}

}  // namespace hoopwright
