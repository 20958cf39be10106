// A stretch of one piece of a centreline, as the searches for least distances halve it.
#pragma once

#include "core/geometry/centreline.h"

namespace hoopwright {

/// From `from_mm` to `to_mm` along a piece; its chord; and how far it strays from the chord at most.
struct PieceSpan {
    const Piece* piece = nullptr;  ///< not owned
    double from_mm = 0;
    double to_mm = 0;
    Vec3 first = Vec3::Zero();
    Vec3 last = Vec3::Zero();
    double sagitta_mm =
        0;  ///< 0 on a straight; every point lies within it of the chord, at any turn up to a full one

    PieceSpan() = default;
    PieceSpan(const Piece& of, double from, double to);
    double middle_mm() const { return 0.5 * (from_mm + to_mm); }
    /// The two halves of a span that has a middle point already.
    PieceSpan firstHalf(const Vec3& middle) const;
    PieceSpan lastHalf(const Vec3& middle) const;
    /// Greatest n.x over the span; exact up to half a turn, the chord's plus the sagitta beyond.
    double support(const Vec3& n) const;

private:
    void setSagitta();
};

}  // namespace hoopwright
