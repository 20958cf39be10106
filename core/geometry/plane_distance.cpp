#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include "core/geometry/distance.h"

namespace hoopwright {
namespace {

/// Distances along a piece at which its height over a plane square to n can be least: its ends, and where a
/// bend turns round. The lowest rim of a tube about it is at one of them too, as long as the bend's radius is
/// more than the tube's: height C + M cos b less r sqrt(1 - m^2 sin^2 b) has no other turning point.
std::array<double, 3> lowPlaces(const Piece& piece, const Vec3& n) {
    std::array<double, 3> places = {0, piece.length_mm, 0};
    if (piece.kind == Piece::Kind::straight) return places;
    const Vec3 spoke = piece.start - piece.centre;
    const double lowest = std::atan2(piece.radius_mm * n.dot(piece.tangent), n.dot(spoke)) + std::numbers::pi;
    if (lowest < piece.angle_rad) places[2] = lowest * piece.radius_mm;
    return places;
}

}  // namespace

Nearest nearestToPlane(const Centreline& a, const Vec3& p, const Vec3& n) {
    Nearest low;
    low.distance_mm = std::numeric_limits<double>::infinity();
    for (const Piece& piece : a.pieces()) {
        for (double along : lowPlaces(piece, n)) {
            const Vec3 at = piece.point(along);
            const double height = n.dot(at - p);
            if (height >= low.distance_mm) continue;
            low = {height, at, at - height * n, piece.station_mm + along, 0};
        }
    }
    return low;
}

double tubeOverPlane_mm(const Centreline& a, double radius_mm, const Vec3& p, const Vec3& n) {
    double least = std::numeric_limits<double>::infinity();
    for (const Piece& piece : a.pieces()) {
        for (double along : lowPlaces(piece, n)) {
            const double lean = n.dot(piece.tangentAt(along));
            const double rim = radius_mm * std::sqrt(std::max(0.0, 1 - lean * lean));
            least = std::min(least, n.dot(piece.point(along) - p) - rim);
        }
    }
    return least;
}

}  // namespace hoopwright
