// The centreline of a bent tube: straights and circular arcs, exact.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "core/geometry/vec.h"

namespace hoopwright {

/// A point of the path a tube follows before its corners are bent round. Lengths [mm].
struct PathPoint {
    Vec3 at = Vec3::Zero();
    double bend_radius_mm = 0;  ///< centreline radius of the bend here; not used at the two ends
};

/// One straight or one bend of a centreline.
struct Piece {
    enum class Kind { straight, bend };
    Kind kind = Kind::straight;
    double station_mm = 0;  ///< distance along the centreline from its first end to the start of this piece
    double length_mm = 0;
    Vec3 start = Vec3::Zero();
    Vec3 tangent = Vec3::UnitX();  ///< unit, at the start, in the direction of growing station
    // Bends only:
    Vec3 centre = Vec3::Zero();
    Vec3 axis = Vec3::UnitZ();  ///< unit; the tangent turns about it right-handed
    double radius_mm = 0;
    double angle_rad = 0;  ///< (0, pi) from makeCentreline(); a bend table may ask for more
    int vertex = -1;       ///< index of the path point this bend rounds off

    Vec3 end() const;
    Vec3 endTangent() const;
    Vec3 point(double along_mm) const;  ///< along_mm in [0, length_mm]; linear beyond the ends on a straight
    Vec3 tangentAt(double along_mm) const;
    Box bounds() const;  ///< of the centreline itself, exact
};

/// Pieces join end to start. Where a corner could not be rounded two straights meet at it and the tangent
/// jumps.
/// @pre of everything but empty(), pieces(), length_mm(), bendCount(), bounds() and the three copies: not
/// empty.
class Centreline {
public:
    Centreline() = default;
    explicit Centreline(std::vector<Piece> pieces);

    std::span<const Piece> pieces() const { return pieces_; }
    bool empty() const { return pieces_.empty(); }
    double length_mm() const { return length_; }
    /// Station is clamped to [0, length_mm()].
    Vec3 point(double station_mm) const;
    Vec3 tangent(double station_mm) const;
    const Piece& pieceAt(double station_mm) const;
    Vec3 start() const { return point(0); }
    Vec3 end() const { return point(length_); }
    int bendCount() const;
    const Box& bounds() const { return bounds_; }  ///< exact; empty if there is no piece
    std::span<const Box> pieceBounds() const { return piece_bounds_; }
    Centreline reversed() const;
    Centreline mirrored() const;  ///< in the car's centre plane
    Centreline moved(const Vec3& by) const;

    /// Station of the point nearest to p, exact on straights and arcs.
    double nearestStation(const Vec3& p) const;
    /// Stations at which the centreline crosses the plane n.(x - p) = 0, n unit, in order; a piece lying in
    /// it gives its ends. A touch counts once.
    std::vector<double> crossings(const Vec3& p, const Vec3& n) const;
    /// Points along it such that no chord strays more than `chord_error_mm` from the arc; ends and tangent
    /// points kept.
    std::vector<double> sampleStations(double chord_error_mm) const;

private:
    std::vector<Piece> pieces_;
    std::vector<Box> piece_bounds_;
    Box bounds_;
    double length_ = 0;
};

/// A stretch of a centreline, by stations [mm].
struct Stretch {
    double from_mm = 0;
    double to_mm = 0;
};

/// What keeps a path from being bent as drawn.
struct PathProblem {
    enum class Kind {
        too_few_points,     ///< fewer than two distinct points
        coincident_points,  ///< two neighbours in one place; the second is left out
        turns_back,     ///< a bend of 180 degrees (no corner to round) or so near it that the setback is not
                        ///< finite
        no_radius,      ///< a corner with no bend radius
        bends_overlap,  ///< two bends, or a bend and an end, need more straight than there is
    };
    Kind kind;
    int vertex = -1;     ///< path point it is about
    double have_mm = 0;  ///< bends_overlap: the distance there is
    double need_mm = 0;  ///< bends_overlap: the setbacks that must fit in it
};

/// The centreline as far as it can be made, and what is wrong. Where bends overlap, radii are drawn smaller
/// so that something can be shown; the problem says so. A corner with no radius, or that turns back, is left
/// sharp. Corners under 1e-9 rad are straight on. @pre finite points. With too_few_points the line is empty.
struct PathResult {
    Centreline line;
    std::vector<PathProblem> problems;
};
PathResult makeCentreline(std::span<const PathPoint> path);

/// One row of a bend table. Rotation: of the bend plane about the feed direction since the bend before,
/// right-handed, (-pi, pi]; 0 for the first. A sharp corner is a row with radius 0. Method: vector geometry
/// of tangent lines, setback T = R tan(A/2); no source, checked by a walk forward.
struct BendRow {
    double straight_before_mm = 0;
    double rotation_rad = 0;
    double angle_rad = 0;
    double radius_mm = 0;
    double arc_mm = 0;
    double mark_start_mm = 0;  ///< station where the bend starts
    double mark_end_mm = 0;
};
struct BendTable {
    std::vector<BendRow> rows;
    double last_straight_mm = 0;
    double developed_mm = 0;  ///< length of tube along the centreline
};
BendTable bendTable(const Centreline& line);
/// The tube a bend table makes, walked forward from `start` along `feed`, first bend in the plane of feed and
/// `up`.
Centreline walkBendTable(const BendTable& table, const Vec3& start, const Vec3& feed, const Vec3& up);

}  // namespace hoopwright
