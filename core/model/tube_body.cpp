#include "core/model/tube_body.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace hoopwright::resolving {

namespace {

constexpr double kEverywhere = 1e30;
constexpr double kSeam_mm = 1e-3;
constexpr double kShortest_mm = 1.0;  ///< of an overlap along one line: less is within any cope's fit

Span meet(Span a, Span b) {
    return {std::max(a.from, b.from), std::min(a.to, b.to)};
}

Span hull(Span a, Span b) {
    if (a.empty()) return b;
    if (b.empty()) return a;
    return {std::min(a.from, b.from), std::max(a.to, b.to)};
}

/// Where a t^2 + 2 b t + c <= 0.
Span belowZero(double a, double b, double c) {
    if (a < 1e-14) return c <= 0 ? Span{-kEverywhere, kEverywhere} : Span{};
    const double under_root = b * b - a * c;
    if (!(under_root > 0)) return {};
    const double root = std::sqrt(under_root);
    return {(-b - root) / a, (-b + root) / a};
}

Span insideBall(const Vec3& p, const Vec3& u, const Vec3& centre, double radius) {
    const Vec3 w = p - centre;
    return belowZero(1, w.dot(u), w.squaredNorm() - radius * radius);
}

Box grown(const Box& box, double by) {
    const Vec3 margin = Vec3::Constant(by);
    return Box(box.min() - margin, box.max() + margin);
}

Box boxOf(const Rod& rod) {
    Box box(rod.at);
    return box.extend(rod.at + rod.length_mm * rod.along);
}

void addBend(TubeBody& body, const Piece& piece) {
    const double widest = 2 * std::acos(std::max(0.0, 1 - kChord_mm / piece.radius_mm));
    const int steps = std::max(1, static_cast<int>(std::ceil(piece.angle_rad / widest)));
    Vec3 from = piece.start;
    for (int i = 1; i <= steps; ++i) {
        const Vec3 to = piece.point(piece.length_mm * i / steps);
        Rod rod;
        rod.at = from;
        rod.length_mm = (to - from).norm();
        rod.along = (to - from) / std::max(rod.length_mm, 1e-12);
        rod.station_mm = piece.station_mm + piece.length_mm * (i - 1) / steps;
        body.rods.push_back(rod);
        from = to;
    }
}

/// Rods of a body whose boxes come near a box.
std::vector<const Rod*> rodsNear(const TubeBody& body, const Box& box) {
    std::vector<const Rod*> near;
    const Box wide = grown(box, body.radius_mm);
    for (const TubeBody::Chunk& chunk : body.chunks) {
        if (!wide.intersects(chunk.box)) continue;
        for (int i = chunk.first; i < chunk.first + chunk.count; ++i) {
            const Rod& rod = body.rods[static_cast<std::size_t>(i)];
            if (wide.intersects(boxOf(rod))) near.push_back(&rod);
        }
    }
    return near;
}

/// Box of a stretch of a tube, its walls included.
Box stretchBox(const TubeBody& body, Span stretch) {
    Box box;
    for (const Rod& rod : body.rods) {
        const Span part =
            meet({stretch.from - rod.station_mm, stretch.to - rod.station_mm}, {0, rod.length_mm});
        if (part.empty()) continue;
        box.extend(rod.at + part.from * rod.along);
        box.extend(rod.at + part.to * rod.along);
    }
    return box.isEmpty() ? box : grown(box, body.radius_mm);
}

/// A rod of another tube near a stretch, with that tube's radius.
struct NearRod {
    const Rod* rod = nullptr;
    double radius_mm = 0;
};

/// What is left of a span once the cutters have taken theirs; the longest part of it.
Span longestLeft(const Vec3& p, const Vec3& u, Span whole, const std::vector<NearRod>& cutters) {
    std::array<Span, 16> cuts;
    std::size_t count = 0;
    for (const NearRod& cutter : cutters) {
        const Span cut = insideRod(p, u, whole, *cutter.rod, cutter.radius_mm);
        if (!cut.empty() && count < cuts.size()) cuts[count++] = cut;
    }
    std::sort(cuts.begin(), cuts.begin() + static_cast<std::ptrdiff_t>(count),
              [](const Span& a, const Span& b) { return a.from < b.from; });
    Span best;
    double from = whole.from;
    for (std::size_t i = 0; i <= count; ++i) {
        const Span left{from, i < count ? cuts[i].from : whole.to};
        if (!left.empty() && (best.empty() || left.length() > best.length())) best = left;
        if (i < count) from = std::max(from, cuts[i].to);
    }
    return best;
}

/// Collects overlaps line by line.
struct Finder {
    std::vector<NearRod> inside, cutters;
    Overlap found;

    bool line(const Vec3& p, const Vec3& u, Span along, double station) {
        bool any = false;
        for (const NearRod& near : inside) {
            const Span whole = insideRod(p, u, along, *near.rod, near.radius_mm);
            if (whole.empty()) continue;
            const Span left = longestLeft(p, u, whole, cutters);
            if (left.empty() || left.length() < kShortest_mm) continue;
            found.stations = hull(found.stations, {left.from + station, left.to + station});
            any = true;
        }
        return any;
    }
};

}  // namespace

TubeBody bodyOf(const Centreline& line, double radius_mm) {
    TubeBody body;
    body.radius_mm = radius_mm;
    body.chunks.reserve(line.pieces().size());
    body.rods.reserve(line.pieces().size() * 6);
    for (const Piece& piece : line.pieces()) {
        TubeBody::Chunk chunk;
        chunk.first = static_cast<int>(body.rods.size());
        if (piece.kind == Piece::Kind::straight) {
            body.rods.push_back({piece.start, piece.tangent, piece.length_mm, piece.station_mm});
            chunk.box = boxOf(body.rods.back());
        } else {
            addBend(body, piece);
            chunk.box = piece.bounds();
        }
        chunk.count = static_cast<int>(body.rods.size()) - chunk.first;
        body.box.extend(chunk.box);
        body.chunks.push_back(chunk);
    }
    for (std::size_t i = 0; i < body.rods.size(); ++i) {
        body.rods[i].ball_at_start = i > 0;
        body.rods[i].ball_at_end = i + 1 < body.rods.size();
    }
    body.box = grown(body.box, radius_mm);
    return body;
}

Span insideRod(const Vec3& p, const Vec3& u, Span along, const Rod& rod, double radius_mm) {
    const Vec3 w = p - rod.at;
    const double rate = u.dot(rod.along), start = w.dot(rod.along);
    const Vec3 u_across = u - rate * rod.along, w_across = w - start * rod.along;
    Span span = belowZero(u_across.squaredNorm(), u_across.dot(w_across),
                          w_across.squaredNorm() - radius_mm * radius_mm);
    if (!span.empty()) {
        if (std::abs(rate) > 1e-12) {
            const double t0 = -start / rate, t1 = (rod.length_mm - start) / rate;
            span = meet(span, {std::min(t0, t1), std::max(t0, t1)});
        } else if (start < 0 || start > rod.length_mm) {
            span = {};
        }
    }
    if (rod.ball_at_start) span = hull(span, insideBall(p, u, rod.at, radius_mm));
    if (rod.ball_at_end) span = hull(span, insideBall(p, u, rod.at + rod.length_mm * rod.along, radius_mm));
    return span.empty() ? span : meet(span, along);
}

std::vector<Span> touchingStretches(const TubeBody& b, const TubeBody& a) {
    std::vector<Span> found;
    const double reach = a.radius_mm + b.radius_mm + 2 * kChord_mm;
    for (const TubeBody::Chunk& cb : b.chunks) {
        const Box wide = grown(cb.box, reach);
        if (!wide.intersects(a.box)) continue;
        for (const TubeBody::Chunk& ca : a.chunks) {
            if (!wide.intersects(ca.box)) continue;
            for (int i = cb.first; i < cb.first + cb.count; ++i) {
                const Rod& rod = b.rods[static_cast<std::size_t>(i)];
                for (int k = ca.first; k < ca.first + ca.count; ++k) {
                    Rod other = a.rods[static_cast<std::size_t>(k)];
                    other.ball_at_start = other.ball_at_end = true;
                    const Span span = insideRod(rod.at, rod.along, {0, rod.length_mm}, other, reach);
                    if (!span.empty())
                        found.push_back({span.from + rod.station_mm, span.to + rod.station_mm});
                }
            }
        }
    }
    std::sort(found.begin(), found.end(), [](const Span& x, const Span& y) { return x.from < y.from; });
    std::size_t kept = 0;
    for (std::size_t i = 0; i < found.size(); ++i) {
        if (kept > 0 && found[i].from <= found[kept - 1].to + kSeam_mm) {
            found[kept - 1].to = std::max(found[kept - 1].to, found[i].to);
        } else {
            found[kept++] = found[i];
        }
    }
    found.resize(kept);
    return found;
}

bool anyNear(const TubeBody& b, Span stretch, const std::vector<const TubeBody*>& cutters) {
    const Box box = stretchBox(b, stretch);
    return !box.isEmpty() && std::any_of(cutters.begin(), cutters.end(), [&](const TubeBody* cutter) {
        return box.intersects(cutter->box) && !rodsNear(*cutter, box).empty();
    });
}

Overlap overlapOutside(const TubeBody& b, Span stretch, const TubeBody& a,
                       const std::vector<const TubeBody*>& cutters) {
    constexpr int kLines = 16;
    const Box box = stretchBox(b, stretch);
    Finder finder;
    if (box.isEmpty()) return finder.found;
    for (const Rod* rod : rodsNear(a, box)) finder.inside.push_back({rod, a.radius_mm});
    for (const TubeBody* cutter : cutters) {
        for (const Rod* rod : rodsNear(*cutter, box)) finder.cutters.push_back({rod, cutter->radius_mm});
    }
    for (const Rod& rod : b.rods) {
        const Span along =
            meet({stretch.from - rod.station_mm, stretch.to - rod.station_mm}, {0, rod.length_mm});
        if (along.empty()) continue;
        const Vec3 side = rod.along.unitOrthogonal() * b.radius_mm, up = rod.along.cross(side);
        for (int k = 0; k < kLines; ++k) {
            const double phi = 2 * 3.14159265358979323846 * k / kLines;
            const Vec3 p = rod.at + std::cos(phi) * side + std::sin(phi) * up;
            finder.line(p, rod.along, along, rod.station_mm);
        }
        if (finder.line(rod.at, rod.along, along, rod.station_mm)) finder.found.axis_goes_in = true;
    }
    return finder.found;
}

}  // namespace hoopwright::resolving
