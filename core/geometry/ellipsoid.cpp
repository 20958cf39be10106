#include <algorithm>
#include <cmath>
#include <limits>

#include "core/geometry/distance.h"
#include "core/geometry/piece_span.h"

namespace hoopwright {
namespace {

/// The surface point nearest to y (all of it > 0) in the ellipsoid's own axes, and on which side of it y is.
struct SurfacePoint {
    Vec3 at;
    bool outside;
};

/// The normal at the point sought meets y: at = h^2 y / (h^2 + t), where t is the root of sum (h y / (h^2 +
/// t))^2 = 1 right of the last pole. Written in s = t + least h^2, which loses no digits deep inside. The sum
/// is convex and falls, so Newton from the left comes up to the root and never passes it. (Eberly, Distance
/// from a point to an ellipse, an ellipsoid, or a hyperellipsoid; from memory.)
SurfacePoint nearestOnSurface(const Vec3& half, const Vec3& y) {
    const double least = half.minCoeff();
    const Vec3 over = (half.array() - least) * (half.array() + least);  // h^2 less the least h^2
    const Vec3 top = half.cwiseProduct(y);
    double s = (top - over).maxCoeff();
    for (int step = 0; step < 200; ++step) {
        const Vec3 below = (over.array() + s).matrix();
        const Vec3 part = top.cwiseQuotient(below);
        const double slope = -2 * part.cwiseProduct(part).cwiseQuotient(below).sum();
        const double next = s - (part.squaredNorm() - 1) / slope;
        if (!(next > s)) break;
        s = next;
    }
    return {half.cwiseProduct(top).cwiseQuotient((over.array() + s).matrix()), s > least * least};
}

/// Signed distance of a place to the surface, the surface point, and the direction in which the distance
/// grows.
struct Field {
    Nearest near;
    Vec3 slope = Vec3::UnitX();
    double value() const { return near.distance_mm; }
};

Field fieldAt(const Ellipsoid& e, const Vec3& p) {
    Field field;
    field.near = e.toPoint(p);
    const Vec3 local = e.axes.transpose() * (field.near.on_b - e.centre);
    field.slope = (e.axes * local.cwiseQuotient(e.half_mm.cwiseProduct(e.half_mm))).normalized();
    return field;
}

/// Least signed distance along one piece. The signed distance of a convex body is convex in space, so its
/// tangent plane at any place lies below it everywhere: that bounds it over an arc from below.
class EllipsoidSearch {
public:
    explicit EllipsoidSearch(const Ellipsoid& e) : e_(e) {
        best_.distance_mm = std::numeric_limits<double>::infinity();
    }

    void search(const Piece& piece) {
        const PieceSpan span(piece, 0, piece.length_mm);
        const Field first = tryAt(piece, 0), last = tryAt(piece, piece.length_mm);
        halve(span, first, last);
    }
    Nearest found() const { return best_; }

private:
    Field tryAt(const Piece& piece, double along_mm) {
        const Field field = fieldAt(e_, piece.point(along_mm));
        if (field.value() < best_.distance_mm) {
            best_ = field.near;
            best_.station_a_mm = piece.station_mm + along_mm;
        }
        return field;
    }

    static double leastFrom(const PieceSpan& span, const Vec3& at, const Field& field) {
        return field.value() - field.slope.dot(at) - span.support(-field.slope);
    }

    void halve(const PieceSpan& span, const Field& first, const Field& last) {
        const double least = std::max(leastFrom(span, span.first, first), leastFrom(span, span.last, last));
        if (least >= best_.distance_mm - kDistanceError_mm / 2) return;
        const Piece& piece = *span.piece;
        const double middle_mm = span.middle_mm();
        if (middle_mm <= span.from_mm || middle_mm >= span.to_mm) return;
        const Field middle = tryAt(piece, middle_mm);
        const Vec3 at = piece.point(middle_mm);
        const bool earlier = middle.slope.dot(piece.tangentAt(middle_mm)) > 0;
        if (earlier) halve(span.firstHalf(at), first, middle);
        halve(span.lastHalf(at), middle, last);
        if (!earlier) halve(span.firstHalf(at), first, middle);
    }

    const Ellipsoid& e_;
    Nearest best_;
};

}  // namespace

Vec3 Ellipsoid::support(const Vec3& d) const {
    const Vec3 stretched = half_mm.cwiseProduct(axes.transpose() * d);
    return centre + axes * half_mm.cwiseProduct(stretched / stretched.norm());
}

Nearest Ellipsoid::toPoint(const Vec3& p) const {
    const Vec3 local = axes.transpose() * (p - centre);
    // On a plane of symmetry the nearest point is two: stepping off by a hair picks one of them.
    const Vec3 y = local.cwiseAbs().cwiseMax(1e-13 * half_mm);
    const SurfacePoint surface = nearestOnSurface(half_mm, y);
    Vec3 at = surface.at;
    for (int i = 0; i < 3; ++i) at[i] = std::copysign(at[i], local[i]);
    Nearest near;
    near.on_a = p;
    near.on_b = centre + axes * at;
    near.distance_mm = (surface.outside ? 1 : -1) * (p - near.on_b).norm();
    return near;
}

Nearest nearest(const Centreline& a, const Ellipsoid& e) {
    EllipsoidSearch search(e);
    for (const Piece& piece : a.pieces()) search.search(piece);
    return search.found();
}

Nearest nearestToSegment(const Ellipsoid& e, const Vec3& p0, const Vec3& p1) {
    Piece segment;
    segment.start = p0;
    segment.length_mm = (p1 - p0).norm();
    if (segment.length_mm > 0) segment.tangent = (p1 - p0) / segment.length_mm;
    EllipsoidSearch search(e);
    search.search(segment);
    Nearest found = search.found();
    std::swap(found.on_a, found.on_b);
    std::swap(found.station_a_mm, found.station_b_mm);
    return found;
}

}  // namespace hoopwright
