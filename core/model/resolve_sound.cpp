// A tube that runs into itself.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/model/resolver.h"
#include "core/model/tube_body.h"

namespace hoopwright::resolving {

namespace {

using std::numbers::pi;

constexpr double kNoMatter_mm = 0.1;  ///< strikes this small are no matter

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
