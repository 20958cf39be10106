#include "core/mesh/tube_gap.h"

#include <algorithm>
#include <cmath>

#include "core/geometry/piece_span.h"

namespace hoopwright {
namespace {

/// A chord that strays less than this from its bend stands for it, and a bend is not searched for less than
/// the rest of the error.
constexpr double kStray_mm = kTubeOnMeshError_mm / 2, kGain_mm = 0.4 * kTubeOnMeshError_mm;
/// Less than half a turn [rad]: every place of such an arc stands over its chord.
constexpr double kHalfTurn = 3.14;

std::vector<PieceSpan> spansOf(const Centreline& line, Stretch part) {
    std::vector<PieceSpan> out;
    for (const Piece& piece : line.pieces()) {
        const double from = std::max(0.0, part.from_mm - piece.station_mm);
        const double to = std::min(piece.length_mm, part.to_mm - piece.station_mm);
        if (from <= to) out.emplace_back(piece, from, to);
    }
    return out;
}

/// The distance at places of a line. Each look starts with the triangle the last one found.
class Looks {
public:
    explicit Looks(std::span<const PlacedMesh> meshes)
        : meshes_(meshes), last_(meshes.size(), MeshTree::kNoTriangle) {}

    /// Nearer than `within_mm`, or nothing.
    std::optional<TubeOnMesh> at(const Piece& piece, double along_mm, double within_mm) {
        TubeOnMesh out;
        out.distance_mm = within_mm;
        const Vec3 p = piece.point(along_mm);
        for (std::size_t i = 0; i < meshes_.size(); ++i) {
            const auto found = meshes_[i].nearest(p, out.distance_mm, last_[i]);
            if (!found) continue;
            last_[i] = found->triangle;
            out = {found->distance, piece.station_mm + along_mm, p,
                   found->at,       static_cast<int>(i),         found->triangle};
        }
        return out.mesh < 0 ? std::nullopt : std::optional(out);
    }

    /// The nearest possible at a place `step_mm` on from one of this distance.
    static double reachable(double distance_mm, double step_mm) {
        return (distance_mm + step_mm) * (1 + 1e-9) + 1e-9;
    }

private:
    std::span<const PlacedMesh> meshes_;
    std::vector<std::uint32_t> last_;  ///< of each mesh
};

class LeastSearch {
public:
    LeastSearch(std::span<const PlacedMesh> meshes, double within_mm) : meshes_(meshes) {
        best_.distance_mm = within_mm;
    }

    /// Takes over a place already found.
    void take(const TubeOnMesh& place) {
        if (place.distance_mm < best_.distance_mm) best_ = place;
    }

    /// @pre nothing taken yet: looks at the middle of each first.
    void search(std::span<const PieceSpan> spans) {
        struct Open {
            const PieceSpan* span;
            double least_mm;
        };
        std::vector<Open> open;
        Looks looks(meshes_);
        for (const PieceSpan& span : spans) {
            const double half = (span.to_mm - span.from_mm) / 2;
            // If nothing is nearer to the middle than this, nothing on the span is nearer than the best.
            const auto place =
                looks.at(*span.piece, span.middle_mm(), Looks::reachable(best_.distance_mm, half));
            if (!place) continue;
            take(*place);
            open.push_back({&span, place->distance_mm - half});
        }
        std::ranges::sort(open, {}, &Open::least_mm);
        for (const Open& next : open)
            if (next.least_mm < best_.distance_mm) search(*next.span);
    }

    void search(const PieceSpan& span) {
        // A chord moved half way out to its arc: no place of the arc is farther from it than half the
        // sagitta.
        const Vec3 middle = span.piece->point(span.middle_mm());
        const bool is_arc =
            span.sagitta_mm > 0 && span.to_mm - span.from_mm < kHalfTurn * span.piece->radius_mm;
        const double stray = is_arc ? span.sagitta_mm / 2 : span.sagitta_mm;
        const double within = best_.distance_mm + stray - (is_arc ? kGain_mm : 0);
        const Vec3 out = is_arc ? Vec3((middle - (span.first + span.last) / 2) / 2) : Vec3::Zero();
        std::optional<double> share;  // of the chord, where the span may hold a better place
        for (std::size_t i = 0; i < meshes_.size(); ++i) {
            const std::uint32_t first =
                best_.mesh == static_cast<int>(i) ? best_.triangle : MeshTree::kNoTriangle;
            const auto found = meshes_[i].nearest(span.first + out, span.last + out, within, first);
            if (!found) continue;
            const double along = std::lerp(span.from_mm, span.to_mm, found->share);
            const Vec3 at = span.piece->point(along);
            take({(at - found->nearest.at).norm(), span.piece->station_mm + along, at, found->nearest.at,
                  static_cast<int>(i), found->nearest.triangle});
            if (found->nearest.distance - stray < best_.distance_mm - kStray_mm) share = found->share;
        }
        if (!share || stray <= kStray_mm) return;
        const PieceSpan first = span.firstHalf(middle), last = span.lastHalf(middle);
        search(*share < 0.5 ? first : last);
        search(*share < 0.5 ? last : first);
    }

    std::optional<TubeOnMesh> found() const { return best_.mesh < 0 ? std::nullopt : std::optional(best_); }

private:
    std::span<const PlacedMesh> meshes_;
    TubeOnMesh best_;
};

struct Interval {
    const Piece* piece = nullptr;
    double from_mm = 0, to_mm = 0;  ///< along the piece
    TubeOnMesh first, last;
    double length() const { return to_mm - from_mm; }
};

/// No place of the interval is farther. The distance grows no faster than the way; and the nearest triangle
/// of either end is no farther from any place of the chord than from the farther end of it, as a distance to
/// something convex bows one way only.
double most(const Interval& part, std::span<const PlacedMesh> meshes) {
    const double stray = PieceSpan(*part.piece, part.from_mm, part.to_mm).sagitta_mm;
    const auto over = [&](const TubeOnMesh& own, const TubeOnMesh& other) {
        const double there =
            std::min((other.on_line - own.on_mesh).norm(),
                     meshes[static_cast<std::size_t>(own.mesh)].noFartherThan(other.on_line, own.triangle));
        return std::max(own.distance_mm, there) + stray;
    };
    return std::min({(part.first.distance_mm + part.last.distance_mm + part.length()) / 2,
                     over(part.first, part.last), over(part.last, part.first)});
}

struct Farthest {
    double distance_mm = 0, station_mm = 0;
};

void searchFarthest(std::span<const PlacedMesh> meshes, Looks& looks, const Interval& part, Farthest& best) {
    if (most(part, meshes) <= best.distance_mm + kGreatestGapError_mm) return;
    const double middle = (part.from_mm + part.to_mm) / 2;
    const auto found =
        looks.at(*part.piece, middle, Looks::reachable(part.first.distance_mm, part.length() / 2));
    if (!found) return;
    if (found->distance_mm > best.distance_mm) best = {found->distance_mm, found->station_mm};
    searchFarthest(meshes, looks, {part.piece, part.from_mm, middle, part.first, *found}, best);
    searchFarthest(meshes, looks, {part.piece, middle, part.to_mm, *found, part.last}, best);
}

}  // namespace

std::optional<TubeOnMesh> nearest(const Centreline& line, std::span<const PlacedMesh> meshes,
                                  double within_mm, Stretch part) {
    LeastSearch search(meshes, within_mm);
    search.search(spansOf(line, part));
    return search.found();
}

std::optional<TubeGap> gapAlong(const Centreline& line, double radius_mm, std::span<const PlacedMesh> meshes,
                                double step_mm, Stretch part) {
    const std::vector<PieceSpan> spans = spansOf(line, part);
    Looks looks(meshes);
    std::vector<Interval> intervals;
    TubeGap gap;
    LeastSearch least(meshes, MeshTree::kAnyDistance);
    Farthest farthest;
    double sum = 0;
    const auto keep = [&](const TubeOnMesh& place) {
        least.take(place);
        if (gap.stations_mm.empty() || place.distance_mm > farthest.distance_mm)
            farthest = {place.distance_mm, place.station_mm};
        gap.stations_mm.push_back(place.station_mm);
        gap.gaps_mm.push_back(place.distance_mm - radius_mm);
    };
    TubeOnMesh before;
    before.distance_mm = MeshTree::kAnyDistance;
    double length = 0;
    for (const PieceSpan& span : spans) {
        const double whole = span.to_mm - span.from_mm;
        const int parts = std::max(1, static_cast<int>(std::ceil(whole / step_mm)));
        for (int i = intervals.empty() ? 0 : 1; i <= parts; ++i) {
            const double along = span.from_mm + whole * i / parts, step = whole / parts;
            const auto place = looks.at(*span.piece, along, Looks::reachable(before.distance_mm, step));
            if (!place) return std::nullopt;
            if (i > 0) {
                intervals.push_back({span.piece, along - step, along, before, *place});
                sum += step * (before.distance_mm + place->distance_mm) / 2;
            }
            before = *place;
            keep(*place);
        }
        length += whole;
    }
    for (const PieceSpan& span : spans) least.search(span);
    for (const Interval& interval : intervals) searchFarthest(meshes, looks, interval, farthest);
    const TubeOnMesh place = *least.found();
    gap.least_mm = place.distance_mm - radius_mm;
    gap.least_station_mm = place.station_mm;
    gap.greatest_mm = farthest.distance_mm - radius_mm;
    gap.greatest_station_mm = farthest.station_mm;
    gap.mean_mm = (length > 0 ? sum / length : before.distance_mm) - radius_mm;
    gap.on_mesh = place.on_mesh;
    gap.on_tube = place.on_line;
    if (place.distance_mm > 0)
        gap.on_tube +=
            std::min(radius_mm, place.distance_mm) / place.distance_mm * (place.on_mesh - place.on_line);
    gap.mesh = place.mesh;
    gap.triangle = place.triangle;
    return gap;
}

}  // namespace hoopwright
