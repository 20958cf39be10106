// What a foot comes to lie on: its plate's flat face, flaps, or both across a fold; whether it overhangs
// them.
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "core/geometry/cope_host.h"
#include "core/model/end_hosts.h"
#include "core/model/resolver.h"
#include "core/model/sheet_shape.h"

namespace hoopwright::resolving {

namespace {

constexpr double kFootNoMatter_mm = 0.1;  ///< overhangs and strikes this small are no matter
/// Flatter than this a tube has no foot to speak of (about 3 degrees) [sine].
constexpr double kFootAlong = 0.05;
constexpr int kRimPoints = 72;

Vec2 acrossTo(const Vec2& p, const Vec2& a, const Vec2& b) {
    const Vec2 edge = b - a;
    const double length2 = edge.squaredNorm();
    const double t = length2 > 0 ? std::clamp((p - a).dot(edge) / length2, 0.0, 1.0) : 0;
    return p - a - t * edge;
}

double distanceTo(const std::vector<Vec2>& outline, const Vec2& p) {
    double least2 = acrossTo(p, outline.back(), outline.front()).squaredNorm();
    for (std::size_t i = 0; i + 1 < outline.size(); ++i)
        least2 = std::min(least2, acrossTo(p, outline[i], outline[i + 1]).squaredNorm());
    return std::sqrt(least2);
}

/// A ray from the point crosses the outline an odd number of times.
bool isInside(const std::vector<Vec2>& outline, const Vec2& p) {
    bool inside = false;
    for (std::size_t i = 0, last = outline.size() - 1; i < outline.size(); last = i++) {
        const Vec2 &a = outline[last], &b = outline[i];
        if ((a.y() > p.y()) == (b.y() > p.y())) continue;
        if (p.x() < a.x() + (p.y() - a.y()) / (b.y() - a.y()) * (b.x() - a.x())) inside = !inside;
    }
    return inside;
}

double outside(const std::vector<Vec2>& outline, const Vec2& p) {
    return isInside(outline, p) ? 0 : distanceTo(outline, p);
}

/// A face of a plate that a foot may lie on: flat in space, with its outline in its own axes.
struct FootFace {
    int which = -1;  ///< index into ResolvedPlate::flaps; -1: the flat one
    Vec3 at = Vec3::Zero(), u = Vec3::UnitX(), v = Vec3::UnitY();
    std::vector<Vec2> outline;
    std::optional<PreparedHost> host;  ///< nothing if the tube runs along it or comes from behind
    double off(const Vec3& p) const { return outside(outline, {(p - at).dot(u), (p - at).dot(v)}); }
};

std::vector<FootFace> footFaces(const ResolvedPlate& plate, const CopeEnd& end) {
    std::vector<int> all = {-1};
    for (std::size_t i = 0; i < plate.flaps.size(); ++i) all.push_back(static_cast<int>(i));
    const std::vector<CopePlane> planes = planesOf(plate, all);
    std::vector<FootFace> faces;
    for (std::size_t i = 0; i < all.size(); ++i) {
        FootFace face{
            all[i], plate.at, plate.axes.col(0), plate.axes.col(1), plate.outline, prepared(end, planes[i])};
        if (all[i] >= 0) {
            const PlacedFlap& flap = plate.flaps[static_cast<std::size_t>(all[i])];
            const double length = flap.front_length_mm;
            face.at = flap.front_from;
            face.u = (flap.front_to - flap.front_from).normalized();
            face.v = flap.along;
            face.outline = {{0, 0}, {flap.width_mm, 0}, {flap.width_mm, length}, {0, length}};
        }
        faces.push_back(std::move(face));
    }
    return faces;
}

/// Nearly every foot: it is nowhere near the edge of its plate.
bool wellInside(const ResolvedPlate& plate, const CopeEnd& end) {
    const double climb = end.inward.dot(plate.axes.col(2));
    if (climb < kFootAlong) return false;
    const Vec3 on = end.foot + (plate.at - end.foot).dot(plate.axes.col(2)) / climb * end.inward;
    const Vec2 foot = plate.axes.leftCols<2>().transpose() * (on - plate.at);
    return isInside(plate.outline, foot) && distanceTo(plate.outline, foot) >= end.outer_radius_mm / climb;
}

/// How deep a tube goes into a flap folded up that it does not lie on: seen along the tube the flap is a
/// parallelogram.
double strikesFlap(const PlacedFlap& flap, const CopeEnd& end) {
    const Vec3 side = end.inward.cross(end.clock), far = flap.front_length_mm * flap.along;
    std::vector<Vec2> seen;
    for (const Vec3& p :
         {flap.front_from, flap.front_to, Vec3(flap.front_to + far), Vec3(flap.front_from + far)})
        seen.emplace_back((p - end.foot).dot(end.clock), (p - end.foot).dot(side));
    return end.outer_radius_mm - outside(seen, Vec2::Zero());
}

}  // namespace

void Resolver::checkFeet() {
    for (const ResolvedPlate& plate : cage_.plates)
        for (const auto& [member, end] : plate.feet) checkFoot(plate, member, end);
}

void Resolver::checkFoot(const ResolvedPlate& plate, int member, int e) {
    ResolvedMember& tube = cage_.members[static_cast<std::size_t>(member)];
    ResolvedEnd& end = tube.ends[static_cast<std::size_t>(e)];
    CopeEnd cut;
    cut.foot = end.at;
    cut.inward = -end.outward;
    // The first station is where the foot reaches farthest.
    const Vec3 normal = plate.axes.col(2), leaning = normal - normal.dot(cut.inward) * cut.inward;
    cut.clock = leaning.norm() > 1e-9 ? Vec3(leaning.normalized()) : plate.axes.col(0);
    cut.outer_radius_mm = tube.radius_mm();
    if (plate.flaps.empty() && wellInside(plate, cut)) return;
    const std::vector<FootFace> faces = footFaces(plate, cut);
    if (std::ranges::none_of(faces, [](const FootFace& face) { return face.host.has_value(); })) return;
    double over = 0;
    std::vector<bool> lies_on(faces.size(), false);
    for (int i = 0; i < kRimPoints; ++i) {
        const Turn turn(2 * std::numbers::pi * i / kRimPoints);
        std::optional<Meeting> best;
        std::size_t on = 0;
        for (std::size_t k = 0; k < faces.size(); ++k) {
            if (!faces[k].host) continue;
            const Meeting met = meet(*faces[k].host, cut.outer_radius_mm, turn);
            if (best && &outerOf(*best, met) == &*best) continue;
            best = met;
            on = k;
        }
        if (!best->met()) {
            over = std::max(over, best->gap_mm);
            continue;
        }
        lies_on[on] = true;
        const Vec3 spoke = turn.cos * cut.clock + turn.sin * cut.inward.cross(cut.clock);
        over =
            std::max(over, faces[on].off(cut.foot + cut.outer_radius_mm * spoke + best->s_mm * cut.inward));
    }
    for (std::size_t k = 1; k < faces.size(); ++k)
        if (lies_on[k]) end.flaps.push_back(faces[k].which);
    end.off_flat = !lies_on[0] && !end.flaps.empty();
    if (over > kFootNoMatter_mm)
        report(Kind::foot_overhangs, barOf(member),
               "overhangs its plate, " + plate.name + ", by " + length(over) + ".",
               "make the plate larger, move the foot inwards, or turn the plate to face the tube", end.at);
    for (std::size_t k = 1; k < faces.size(); ++k) {
        const PlacedFlap& flap = plate.flaps[static_cast<std::size_t>(faces[k].which)];
        if (!flap.up() || lies_on[k]) continue;
        const double deep = strikesFlap(flap, cut);
        if (deep <= kFootNoMatter_mm) continue;
        report(Kind::strikes_flap, barOf(member),
               "runs into the flap " + edgeWord(flap.edge) + " of its plate, " + plate.name + ", " +
                   length(deep) + " deep.",
               "move the foot away from that flap, or let the tube lean so that it lands on it", end.at);
    }
}

}  // namespace hoopwright::resolving
