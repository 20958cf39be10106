// From path points to straights and arcs.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/geometry/centreline.h"

namespace hoopwright {
namespace {

/// Neighbours nearer than this are one point [mm].
constexpr double kSamePoint_mm = 1e-6;
/// Corners smaller than this run straight on; corners this near to half a turn have no setback worth the name
/// [rad].
constexpr double kStraightOn_rad = 1e-9;
/// Straights shorter than this are left out [mm].
constexpr double kNoStraight_mm = 1e-9;

/// A path point with what its corner needs.
struct Corner {
    Vec3 at;
    int vertex;        ///< its place in the path
    double radius_mm;  ///< 0: not rounded
    double angle_rad = 0;
    double setback_mm = 0;
    double shrink = 1;  ///< of the setback, so that neighbours fit
};

std::vector<Corner> distinctPoints(std::span<const PathPoint> path, std::vector<PathProblem>& problems) {
    std::vector<Corner> corners;
    for (size_t i = 0; i < path.size(); ++i) {
        const int vertex = static_cast<int>(i);
        if (!corners.empty() && (path[i].at - corners.back().at).norm() < kSamePoint_mm) {
            problems.push_back({PathProblem::Kind::coincident_points, vertex});
            continue;
        }
        corners.push_back({path[i].at, vertex, path[i].bend_radius_mm});
    }
    return corners;
}

/// Angle and setback of one corner; a corner that cannot be rounded keeps setback 0.
void measureCorner(Corner& corner, const Vec3& in, const Vec3& out, std::vector<PathProblem>& problems) {
    const double angle = std::atan2(in.cross(out).norm(), in.dot(out));
    if (angle < kStraightOn_rad) {
        corner.radius_mm = 0;
        return;
    }
    if (std::numbers::pi - angle < kStraightOn_rad) {
        corner.radius_mm = 0;
        problems.push_back({PathProblem::Kind::turns_back, corner.vertex});
        return;
    }
    if (!(corner.radius_mm > 0) || !std::isfinite(corner.radius_mm)) {
        corner.radius_mm = 0;
        problems.push_back({PathProblem::Kind::no_radius, corner.vertex});
        return;
    }
    corner.angle_rad = angle;
    corner.setback_mm = corner.radius_mm * std::tan(angle / 2);
}

/// Draws setbacks smaller where two neighbours need more than lies between them.
void fitSetbacks(std::vector<Corner>& corners, std::vector<PathProblem>& problems) {
    for (size_t i = 0; i + 1 < corners.size(); ++i) {
        Corner& a = corners[i];
        Corner& b = corners[i + 1];
        const double have = (b.at - a.at).norm();
        const double need = a.setback_mm + b.setback_mm;
        if (need <= have + kNoStraight_mm) continue;
        problems.push_back(
            {PathProblem::Kind::bends_overlap, a.setback_mm > 0 ? a.vertex : b.vertex, have, need});
        a.shrink = std::min(a.shrink, have / need);
        b.shrink = std::min(b.shrink, have / need);
    }
    for (Corner& corner : corners) {
        corner.setback_mm *= corner.shrink;
        corner.radius_mm *= corner.shrink;
    }
}

Piece straightPiece(const Vec3& from, const Vec3& along, double length_mm) {
    Piece piece;
    piece.start = from;
    piece.tangent = along;
    piece.length_mm = length_mm;
    return piece;
}

Piece bendPiece(const Corner& corner, const Vec3& in, const Vec3& out) {
    Piece piece;
    piece.kind = Piece::Kind::bend;
    piece.start = corner.at - corner.setback_mm * in;
    piece.tangent = in;
    piece.axis = in.cross(out).normalized();
    piece.radius_mm = corner.radius_mm;
    piece.centre = piece.start + corner.radius_mm * piece.axis.cross(in);
    piece.angle_rad = corner.angle_rad;
    piece.length_mm = corner.radius_mm * corner.angle_rad;
    piece.vertex = corner.vertex;
    return piece;
}

}  // namespace

PathResult makeCentreline(std::span<const PathPoint> path) {
    PathResult result;
    std::vector<Corner> corners = distinctPoints(path, result.problems);
    if (corners.size() < 2) {
        result.problems.push_back({PathProblem::Kind::too_few_points});
        return result;
    }
    std::vector<Vec3> along;  // unit, from each point to the next
    for (size_t i = 0; i + 1 < corners.size(); ++i)
        along.push_back((corners[i + 1].at - corners[i].at).normalized());
    for (size_t i = 1; i + 1 < corners.size(); ++i)
        measureCorner(corners[i], along[i - 1], along[i], result.problems);
    fitSetbacks(corners, result.problems);

    std::vector<Piece> pieces;
    for (size_t i = 0; i + 1 < corners.size(); ++i) {
        if (corners[i].setback_mm > 0) pieces.push_back(bendPiece(corners[i], along[i - 1], along[i]));
        const double length =
            (corners[i + 1].at - corners[i].at).norm() - corners[i].setback_mm - corners[i + 1].setback_mm;
        if (length <= kNoStraight_mm) continue;
        pieces.push_back(straightPiece(corners[i].at + corners[i].setback_mm * along[i], along[i], length));
    }
    result.line = Centreline(std::move(pieces));
    return result;
}

}  // namespace hoopwright
