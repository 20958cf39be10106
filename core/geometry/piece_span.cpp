#include "core/geometry/piece_span.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hoopwright {

PieceSpan::PieceSpan(const Piece& of, double from, double to)
    : piece(&of), from_mm(from), to_mm(to), first(of.point(from)), last(of.point(to)) {
    setSagitta();
}

void PieceSpan::setSagitta() {
    if (piece->kind == Piece::Kind::straight) return;
    const double quarter = std::sin((to_mm - from_mm) / piece->radius_mm / 4);
    sagitta_mm = 2 * piece->radius_mm * quarter * quarter;  // R (1 - cos(w/2)), without losing digits
}

PieceSpan PieceSpan::firstHalf(const Vec3& middle) const {
    PieceSpan half = *this;
    half.to_mm = middle_mm();
    half.last = middle;
    half.setSagitta();
    return half;
}

PieceSpan PieceSpan::lastHalf(const Vec3& middle) const {
    PieceSpan half = *this;
    half.from_mm = middle_mm();
    half.first = middle;
    half.setSagitta();
    return half;
}

double PieceSpan::support(const Vec3& n) const {
    const double ends = std::max(n.dot(first), n.dot(last));
    if (piece->kind == Piece::Kind::straight) return ends;
    if (to_mm - from_mm > std::numbers::pi * piece->radius_mm) return ends + sagitta_mm;
    const Vec3 first_spoke = first - piece->centre;
    const Vec3 last_spoke = last - piece->centre;
    const bool rises = piece->axis.cross(first_spoke).dot(n) > 0;
    const bool falls = piece->axis.cross(last_spoke).dot(n) < 0;
    if (!rises || !falls) return ends;
    const double in_plane = std::sqrt(std::max(0.0, n.squaredNorm() - std::pow(n.dot(piece->axis), 2)));
    return n.dot(piece->centre) + piece->radius_mm * in_plane;
}

}  // namespace hoopwright
