#include "core/mesh/tube_gap.h"

#include <algorithm>
#include <cmath>

#include "core/geometry/piece_span.h"

namespace hoopwright {
namespace {

/// A chord that strays less than this from its bend stands for it.
constexpr double kStray_mm = kTubeOnMeshError_mm / 2;
/// A stretch no longer than this is looked at as a segment.
constexpr double kShort_mm = 32;

class LeastSearch {
public:
    LeastSearch(std::span<const PlacedMesh> meshes, double within_mm) : meshes_(meshes) {
        best_.distance_mm = within_mm;
    }

    void search(const PieceSpan& span) {
        const double half = (span.to_mm - span.from_mm) / 2;
        const Vec3 middle = span.piece->point(span.middle_mm());
        // If nothing is nearer to the middle than this, nothing on the stretch is nearer than the best.
        if (!look(span, span.middle_mm(), middle, best_.distance_mm + half)) return;
        if (2 * half <= kShort_mm) return searchChord(span);
        search(span.firstHalf(middle));
        search(span.lastHalf(middle));
    }

    void searchChord(const PieceSpan& span) {
        for (std::size_t i = 0; i < meshes_.size(); ++i) {
            const auto found = meshes_[i].nearest(span.first, span.last, best_.distance_mm + span.sagitta_mm);
            if (!found) continue;
            const double along = std::lerp(span.from_mm, span.to_mm, found->share);
            if (span.sagitta_mm == 0) {
                best_ = {found->nearest.distance,  span.piece->station_mm + along,
                         span.piece->point(along), found->nearest.at,
                         static_cast<int>(i),      found->nearest.triangle};
                continue;
            }
            look(span, along, span.piece->point(along), best_.distance_mm);
            const double least = found->nearest.distance - span.sagitta_mm;
            if (span.sagitta_mm <= kStray_mm || least >= best_.distance_mm - kStray_mm) continue;
            const Vec3 middle = span.piece->point(span.middle_mm());
            searchChord(span.firstHalf(middle));
            searchChord(span.lastHalf(middle));
            return;  // the halves have looked at every mesh
        }
    }

    /// Takes over a place already found.
    void take(const TubeOnMesh& place) {
        if (place.distance_mm < best_.distance_mm) best_ = place;
    }

    std::optional<TubeOnMesh> found() const { return best_.mesh < 0 ? std::nullopt : std::optional(best_); }
    double least() const { return best_.distance_mm; }

private:
    /// Is anything nearer to a place of the line than `within_mm`? Keeps it if it is the best.
    bool look(const PieceSpan& span, double along_mm, const Vec3& at, double within_mm) {
        TubeOnMesh place;
        place.distance_mm = within_mm;
        for (std::size_t i = 0; i < meshes_.size(); ++i) {
            const auto found = meshes_[i].nearest(at, place.distance_mm);
            if (found)
                place = {
                    found->distance, span.piece->station_mm + along_mm, at, found->at, static_cast<int>(i),
                    found->triangle};
        }
        if (place.mesh < 0) return false;
        take(place);
        return true;
    }

    std::span<const PlacedMesh> meshes_;
    TubeOnMesh best_;
};

/// The distance at stations of a line.
class Stations {
public:
    explicit Stations(std::span<const PlacedMesh> meshes) : meshes_(meshes) {}

    /// @param within_mm  no less than it can be
    std::optional<TubeOnMesh> at(const Piece& piece, double along_mm, double within_mm) const {
        TubeOnMesh out;
        out.distance_mm = within_mm;
        const Vec3 p = piece.point(along_mm);
        for (std::size_t i = 0; i < meshes_.size(); ++i) {
            const auto found = meshes_[i].nearest(p, out.distance_mm);
            if (found)
                out = {found->distance, piece.station_mm + along_mm, p,
                       found->at,       static_cast<int>(i),         found->triangle};
        }
        return out.mesh < 0 ? std::nullopt : std::optional(out);
    }

    /// The nearest possible at a station `step_mm` on from one of this distance.
    static double reachable(double distance_mm, double step_mm) {
        return (distance_mm + step_mm) * (1 + 1e-9) + 1e-9;
    }

private:
    std::span<const PlacedMesh> meshes_;
};

struct Interval {
    const Piece* piece = nullptr;
    double from_mm = 0, to_mm = 0;  ///< along the piece
    double from_distance = 0, to_distance = 0;
    double length() const { return to_mm - from_mm; }
    /// No place of it is nearer, or farther: the distance grows no faster than the way.
    double least() const { return (from_distance + to_distance - length()) / 2; }
    double most() const { return (from_distance + to_distance + length()) / 2; }
};

struct Farthest {
    double distance_mm = 0, station_mm = 0;
};

void searchFarthest(const Stations& stations, const Interval& part, Farthest& best) {
    if (part.most() <= best.distance_mm + kGreatestGapError_mm) return;
    const double middle = (part.from_mm + part.to_mm) / 2;
    const auto found =
        stations.at(*part.piece, middle, Stations::reachable(part.from_distance, part.length() / 2));
    if (!found) return;
    if (found->distance_mm > best.distance_mm) best = {found->distance_mm, found->station_mm};
    Interval first = part, last = part;
    first.to_mm = last.from_mm = middle;
    first.to_distance = last.from_distance = found->distance_mm;
    searchFarthest(stations, first, best);
    searchFarthest(stations, last, best);
}

}  // namespace

std::optional<TubeOnMesh> nearest(const Centreline& line, std::span<const PlacedMesh> meshes,
                                  double within_mm) {
    LeastSearch search(meshes, within_mm);
    for (const Piece& piece : line.pieces()) search.search(PieceSpan(piece, 0, piece.length_mm));
    return search.found();
}

std::optional<TubeGap> gapAlong(const Centreline& line, double radius_mm, std::span<const PlacedMesh> meshes,
                                double step_mm) {
    const Stations stations(meshes);
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
    double before = MeshTree::kAnyDistance;
    for (const Piece& piece : line.pieces()) {
        const int parts = std::max(1, static_cast<int>(std::ceil(piece.length_mm / step_mm)));
        for (int i = intervals.empty() ? 0 : 1; i <= parts; ++i) {
            const double along = piece.length_mm * i / parts, step = piece.length_mm / parts;
            const auto place = stations.at(piece, along, Stations::reachable(before, step));
            if (!place) return std::nullopt;
            if (i > 0) {
                intervals.push_back({&piece, along - step, along, before, place->distance_mm});
                sum += step * (before + place->distance_mm) / 2;
            }
            before = place->distance_mm;
            keep(*place);
        }
    }
    for (const Interval& part : intervals)
        if (part.least() < least.least()) least.searchChord(PieceSpan(*part.piece, part.from_mm, part.to_mm));
    for (const Interval& part : intervals) searchFarthest(stations, part, farthest);
    const TubeOnMesh place = *least.found();
    gap.least_mm = place.distance_mm - radius_mm;
    gap.least_station_mm = place.station_mm;
    gap.greatest_mm = farthest.distance_mm - radius_mm;
    gap.greatest_station_mm = farthest.station_mm;
    gap.mean_mm = (line.length_mm() > 0 ? sum / line.length_mm() : before) - radius_mm;
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
