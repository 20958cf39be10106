#include "core/geometry/distance.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "core/geometry/piece_span.h"
#include "core/geometry/segments.h"

namespace hoopwright {
namespace {

/// Nearest point of a span to p, as a distance along its piece.
double nearestOnSpan(const PieceSpan& span, const Vec3& p) {
    const Piece& piece = *span.piece;
    if (piece.kind == Piece::Kind::straight) {
        return std::clamp(piece.tangent.dot(p - piece.start), span.from_mm, span.to_mm);
    }
    const Vec3 to_p = p - piece.centre;
    const Vec3 spoke = piece.start - piece.centre;
    const double sine = piece.radius_mm * piece.tangent.dot(to_p), cosine = spoke.dot(to_p);
    double along = std::atan2(sine, cosine) * piece.radius_mm;
    if (along < span.from_mm) along += 2 * std::numbers::pi * piece.radius_mm;
    if (along <= span.to_mm) return along;
    return (p - span.first).squaredNorm() <= (p - span.last).squaredNorm() ? span.from_mm : span.to_mm;
}

double boxDistance(const Box& a, const Box& b) {
    return std::sqrt(a.squaredExteriorDistance(b));
}

/// Branch and bound over pairs of spans. Keeps the best pair of points seen; leaves a pair of spans alone
/// once no points of them can be nearer by more than the error allowed.
class PairSearch {
public:
    explicit PairSearch(double limit_mm) : limit_(limit_mm) {
        best_.distance_mm = limit_mm + kDistanceError_mm;  // so that a pair at the limit is found
    }

    bool mayImprove(double least_mm) const { return least_mm < best_.distance_mm - kDistanceError_mm / 2; }

    void search(const PieceSpan& a, const PieceSpan& b) {
        const SegmentPair chords = nearestSegments(a.first, a.last, b.first, b.last);
        const double stray = a.sagitta_mm + b.sagitta_mm;
        if (!mayImprove(chords.distance - stray)) return;
        tryAt(a, b, chords);
        if (stray == 0 || !mayImprove(chords.distance - stray)) return;
        if (chords.distance > 0 && !mayImprove(gapAcross(a, b, chords))) return;
        if (a.sagitta_mm >= b.sagitta_mm) {
            const Vec3 middle = a.piece->point(a.middle_mm());
            const PieceSpan halves[2] = {a.firstHalf(middle), a.lastHalf(middle)};
            const int nearer = chords.a <= 0.5 ? 0 : 1;
            search(halves[nearer], b);
            search(halves[1 - nearer], b);
        } else {
            const Vec3 middle = b.piece->point(b.middle_mm());
            const PieceSpan halves[2] = {b.firstHalf(middle), b.lastHalf(middle)};
            const int nearer = chords.b <= 0.5 ? 0 : 1;
            search(a, halves[nearer]);
            search(a, halves[1 - nearer]);
        }
    }

    std::optional<Nearest> found() const {
        if (!found_) return std::nullopt;
        return best_;
    }

private:
    /// Width of the slab that keeps the two spans apart, square to the line between the chords' nearest
    /// points.
    static double gapAcross(const PieceSpan& a, const PieceSpan& b, const SegmentPair& chords) {
        const Vec3 on_a = a.first + chords.a * (a.last - a.first);
        const Vec3 on_b = b.first + chords.b * (b.last - b.first);
        const Vec3 n = (on_b - on_a) / chords.distance;
        return -b.support(-n) - a.support(n);
    }

    void tryAt(const PieceSpan& a, const PieceSpan& b, const SegmentPair& chords) {
        Nearest pair =
            pairAt(a, b, std::lerp(a.from_mm, a.to_mm, chords.a), std::lerp(b.from_mm, b.to_mm, chords.b));
        if (!(pair.distance_mm < best_.distance_mm)) return;
        if (a.sagitta_mm + b.sagitta_mm > 0) pair = broughtTogether(a, b, pair);
        if (pair.distance_mm > limit_) return;
        found_ = true;
        best_ = pair;
    }

    static Nearest pairAt(const PieceSpan& a, const PieceSpan& b, double along_a, double along_b) {
        const Vec3 on_a = a.piece->point(along_a), on_b = b.piece->point(along_b);
        return {(on_a - on_b).norm(), on_a, on_b, a.piece->station_mm + along_a,
                b.piece->station_mm + along_b};
    }

    /// From nearest point to nearest point: each step is exact and can only come nearer.
    static Nearest broughtTogether(const PieceSpan& a, const PieceSpan& b, Nearest pair) {
        for (int step = 0; step < 60; ++step) {
            const double along_b = nearestOnSpan(b, pair.on_a);
            const double along_a = nearestOnSpan(a, b.piece->point(along_b));
            const Nearest next = pairAt(a, b, along_a, along_b);
            const bool settled = next.distance_mm >= pair.distance_mm * (1 - 1e-14);
            if (next.distance_mm < pair.distance_mm) pair = next;
            if (settled) break;
        }
        return pair;
    }

    double limit_;
    Nearest best_;
    bool found_ = false;
};

/// The part of a piece within a stretch of stations; nothing if it has none.
std::optional<PieceSpan> within(const Piece& piece, const Stretch& part) {
    const double from = std::max(part.from_mm - piece.station_mm, 0.0);
    const double to = std::min(part.to_mm - piece.station_mm, piece.length_mm);
    if (from > to) return std::nullopt;
    return PieceSpan(piece, from, to);
}

std::optional<Nearest> searchPieces(const Centreline& a, const Stretch& part, std::span<const Piece> b,
                                    std::span<const Box> b_boxes, double limit_mm) {
    PairSearch search(limit_mm);
    const auto a_pieces = a.pieces();
    for (size_t i = 0; i < a_pieces.size(); ++i) {
        const auto a_span = within(a_pieces[i], part);
        if (!a_span) continue;
        for (size_t k = 0; k < b.size(); ++k) {
            if (!search.mayImprove(boxDistance(a.pieceBounds()[i], b_boxes[k]))) continue;
            search.search(*a_span, PieceSpan(b[k], 0, b[k].length_mm));
        }
    }
    return search.found();
}

Stretch whole(const Centreline& line) {
    return {0, line.length_mm()};
}

constexpr double kNoLimit = std::numeric_limits<double>::max();

}  // namespace

Nearest nearest(const Centreline& a, const Centreline& b) {
    return nearest(a, whole(a), b);
}

Nearest nearest(const Centreline& a, Stretch part_of_a, const Centreline& b) {
    const double from = std::clamp(part_of_a.from_mm, 0.0, a.length_mm());
    const Stretch part{from, std::clamp(part_of_a.to_mm, from, a.length_mm())};
    return *searchPieces(a, part, b.pieces(), b.pieceBounds(), kNoLimit);
}

Nearest nearest(const Centreline& a, const Vec3& point) {
    Nearest found;
    found.station_a_mm = a.nearestStation(point);
    found.on_a = a.point(found.station_a_mm);
    found.on_b = point;
    found.distance_mm = (point - found.on_a).norm();
    return found;
}

std::optional<Nearest> nearestWithin(const Centreline& a, const Centreline& b, double limit_mm) {
    if (boxDistance(a.bounds(), b.bounds()) > limit_mm) return std::nullopt;
    return searchPieces(a, whole(a), b.pieces(), b.pieceBounds(), limit_mm);
}

Nearest nearestToSegment(const Centreline& a, const Vec3& p0, const Vec3& p1) {
    Piece segment;
    segment.start = p0;
    segment.length_mm = (p1 - p0).norm();
    segment.tangent = segment.length_mm > 0 ? ((p1 - p0) / segment.length_mm).eval() : Vec3::UnitX().eval();
    const Box box = segment.bounds();
    return *searchPieces(a, whole(a), {&segment, 1}, {&box, 1}, kNoLimit);
}

}  // namespace hoopwright
