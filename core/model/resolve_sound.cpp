// Things a bar can get wrong by itself: a foot that overhangs its plate, a tube that runs into itself.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/model/resolver.h"
#include "core/model/tube_body.h"

namespace hoopwright::resolving {

namespace {

using std::numbers::pi;

constexpr double kNoMatter_mm = 0.1;  ///< overhangs and strikes this small are no matter
/// Flatter than this a tube has no foot to speak of (about 3 degrees) [sine].
constexpr double kFlat = 0.05;
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

/// How far the cut end of a tube sticks out over the plate's edge, or 0.
double overhang(const ResolvedPlate& plate, const ResolvedEnd& end, double radius_mm) {
    const Vec3 axis = plate.axes.transpose() * end.outward;
    const Vec3 foot3 = plate.axes.transpose() * (end.at - plate.at);
    if (std::abs(axis.z()) < kFlat) return 0;
    const Vec2 foot = foot3.head<2>() - foot3.z() / axis.z() * axis.head<2>();
    const double lean = axis.head<2>().norm();
    const Vec2 along = lean > 1e-12 ? Vec2(axis.head<2>() / lean) : Vec2::UnitX();
    const Vec2 across(-along.y(), along.x());
    const double half_length = radius_mm / std::abs(axis.z());
    if (isInside(plate.outline, foot) && distanceTo(plate.outline, foot) >= half_length) return 0;
    double most = 0;
    for (int i = 0; i < kRimPoints; ++i) {
        const double turn = 2 * pi * i / kRimPoints;
        const Vec2 rim = foot + half_length * std::cos(turn) * along + radius_mm * std::sin(turn) * across;
        if (!isInside(plate.outline, rim)) most = std::max(most, distanceTo(plate.outline, rim));
    }
    return most;
}

double totalTurn(const Centreline& line) {
    double sum = 0;
    for (const Piece& piece : line.pieces()) sum += piece.kind == Piece::Kind::bend ? piece.angle_rad : 0;
    return sum;
}

/// Farther apart than this along the tube, two places nearer than its diameter are a strike: a line nowhere
/// bent tighter than R keeps a chord of 2 R sin(s / 2R) over a length s (Schur's comparison of arcs).
double leastDetour(const Centreline& line, double radius_mm) {
    double tightest = 1e9;
    for (const Piece& piece : line.pieces())
        if (piece.kind == Piece::Kind::bend) tightest = std::min(tightest, piece.radius_mm);
    return tightest > radius_mm ? 2 * tightest * std::asin(radius_mm / tightest) : pi * radius_mm;
}

/// Where along the tube it runs into what comes later of it, or an empty span.
Span selfStrike(const TubeBody& body, double detour_mm) {
    for (const Rod& rod : body.rods) {
        for (const Rod& later : body.rods) {
            if (later.station_mm - rod.station_mm <= detour_mm) continue;
            const Span span =
                insideRod(rod.at, rod.along, {0, rod.length_mm}, later, 2 * body.radius_mm - kNoMatter_mm);
            if (span.empty() || later.station_mm - rod.station_mm - span.to <= detour_mm) continue;
            return {rod.station_mm + span.from, rod.station_mm + span.to};
        }
    }
    return {};
}

}  // namespace

void Resolver::checkFeet() {
    for (const ResolvedPlate& plate : cage_.plates) {
        for (const auto& [member, e] : plate.feet) {
            const ResolvedMember& tube = cage_.members[static_cast<std::size_t>(member)];
            const ResolvedEnd& end = tube.ends[static_cast<std::size_t>(e)];
            const double over = overhang(plate, end, tube.radius_mm());
            if (over <= kNoMatter_mm) continue;
            report(Kind::foot_overhangs, barOf(member),
                   "overhangs its plate, " + plate.name + ", by " + length(over) + ".",
                   "make the plate larger, move the foot inwards, or turn the plate to face the tube",
                   end.at);
        }
    }
}

void Resolver::checkSelfStrikes() {
    for (std::size_t m = 0; m < cage_.members.size(); ++m) {
        const ResolvedMember& tube = cage_.members[m];
        // A line that turns less than half round does not come back to itself.
        if (tube.radius_mm() <= 0 || totalTurn(tube.line) <= pi) continue;
        const TubeBody body = bodyOf(tube.line, tube.radius_mm());
        const Span strike = selfStrike(body, leastDetour(tube.line, tube.radius_mm()));
        if (strike.empty()) continue;
        const Vec3 at = tube.line.point(0.5 * (strike.from + strike.to));
        report(Kind::strikes_itself, barOf(static_cast<int>(m)),
               "runs into itself, at x " + length(at.x()) + ", y " + length(at.y()) + ", z " +
                   length(at.z()) + ".",
               "move the points of its path apart", at);
    }
}

}  // namespace hoopwright::resolving
