// Tubes as chains of straight rods, for asking quickly where two of them are inside each other. Used by
// resolve().
#pragma once

#include <vector>

#include "core/geometry/centreline.h"

namespace hoopwright::resolving {

/// From one number to a greater one; nothing if it is the other way round.
struct Span {
    double from = 1, to = 0;
    bool empty() const { return !(from < to); }
    double length() const { return to - from; }
};

/// A straight of a tube, or a short chord of a bend.
struct Rod {
    Vec3 at = Vec3::Zero();
    Vec3 along = Vec3::UnitX();  ///< unit
    double length_mm = 0;
    double station_mm = 0;  ///< of `at` on the tube's centreline
    bool ball_at_start = false,
         ball_at_end = false;  ///< joined to a neighbour there, so the corner is filled
};

/// A whole tube, solid. Ends are flat and square at the ends of the centreline. Its rods stray at most
/// kChord_mm from the bends they stand for.
struct TubeBody {
    struct Chunk {
        Box box;                   ///< of the centreline of one straight or bend
        int first = 0, count = 0;  ///< rods
    };
    double radius_mm = 0;
    Box box;  ///< of the tube
    std::vector<Rod> rods;
    std::vector<Chunk> chunks;
};
inline constexpr double kChord_mm = 0.2;
TubeBody bodyOf(const Centreline& line, double radius_mm);

/// The part of the line p + t u, t within `along`, that is inside a rod of that radius. A rod is convex: it
/// is one span.
Span insideRod(const Vec3& p, const Vec3& u, Span along, const Rod& rod, double radius_mm);

/// Stations of `b` at which its axis is nearer than both radii to the axis of `a`, merged, in order, up to 2
/// kChord_mm too generous; ends count as round.
std::vector<Span> touchingStretches(const TubeBody& b, const TubeBody& a);

/// What of `b` is inside `a` and not inside any of `cutters`, found along lines of the surface of `b` and its
/// axis.
struct Overlap {
    Span stations;              ///< of b
    bool axis_goes_in = false;  ///< so does the axis of b, not only its walls
    bool empty() const { return stations.empty(); }
};
Overlap overlapOutside(const TubeBody& b, Span stretch, const TubeBody& a,
                       const std::vector<const TubeBody*>& cutters);
/// Whether a cutter comes near enough to that stretch to matter.
bool anyNear(const TubeBody& b, Span stretch, const std::vector<const TubeBody*>& cutters);

}  // namespace hoopwright::resolving
