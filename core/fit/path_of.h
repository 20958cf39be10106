// Back from straights and bends to the path they round off; and parts of a line.
#pragma once

#include <algorithm>
#include <cmath>
#include <vector>

#include "core/geometry/centreline.h"

namespace hoopwright {

/// Ends, and the corner of each bend; sharp corners too. @pre the line is not empty, no bend of half a turn
/// or more
inline std::vector<Vec3> pathOf(const Centreline& line) {
    std::vector<Vec3> path{line.start()};
    bool straight_before = false;
    for (const Piece& piece : line.pieces()) {
        if (piece.kind == Piece::Kind::bend)
            path.push_back(piece.start + piece.radius_mm * std::tan(piece.angle_rad / 2) * piece.tangent);
        else if (straight_before)
            path.push_back(piece.start);
        straight_before = piece.kind == Piece::Kind::straight;
    }
    path.push_back(line.end());
    return path;
}

/// From one station to another, both clamped; empty where nothing is left. Stations count anew.
inline Centreline partOf(const Centreline& line, double from_mm, double to_mm) {
    std::vector<Piece> pieces;
    for (const Piece& piece : line.pieces()) {
        const double from = std::max(0.0, from_mm - piece.station_mm);
        const double to = std::min(piece.length_mm, to_mm - piece.station_mm);
        if (to - from <= 1e-9) continue;
        Piece cut = piece;
        cut.start = piece.point(from);
        cut.tangent = piece.tangentAt(from);
        cut.length_mm = to - from;
        if (piece.kind == Piece::Kind::bend) cut.angle_rad = cut.length_mm / piece.radius_mm;
        pieces.push_back(cut);
    }
    return Centreline(std::move(pieces));
}

}  // namespace hoopwright
