#include "core/mesh/tube_gap.h"

#include <algorithm>
#include <cmath>

#include "core/geometry/piece_span.h"
#include "core/mesh/gap_to_each.h"

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

/// The distance at places of a line. Each look starts with the mesh and the triangle the last one found, and
/// leaves out a mesh that is known to be farther: no distance grows or shrinks faster than the way gone.
class Looks {
public:
    /// @param ahead_mm  how much farther than the nearest a mesh is looked for: it need not be asked again
    ///                  until the way has eaten that up
    explicit Looks(std::span<const PlacedMesh> meshes, double ahead_mm = 0)
        : meshes_(meshes), known_(meshes.size()), ahead_(ahead_mm) {}

    /// Nearer than `within_mm`, or nothing. Of meshes just as near, the first.
    std::optional<TubeOnMesh> at(const Piece& piece, double along_mm, double within_mm) {
        TubeOnMesh out;
        out.distance_mm = within_mm;
        out.station_mm = piece.station_mm + along_mm;
        out.on_line = piece.point(along_mm);
        const std::size_t before = nearest_;
        if (before < meshes_.size()) ask(before, out);
        for (std::size_t i = 0; i < meshes_.size(); ++i)
            if (i != before) ask(i, out);
        if (out.mesh < 0) return std::nullopt;
        nearest_ = static_cast<std::size_t>(out.mesh);
        return out;
    }

    /// No place of a mesh is nearer to p than this.
    double least(std::size_t mesh, const Vec3& p) const {
        const Known& known = known_[mesh];
        return known.least_mm - (p - known.from).norm();
    }
    /// The nearest place seen of each mesh, if any was.
    const TubeOnMesh& best(std::size_t mesh) const { return known_[mesh].best; }

    /// The nearest possible at a place `step_mm` on from one of this distance.
    static double reachable(double distance_mm, double step_mm) {
        return (distance_mm + step_mm) * (1 + 1e-9) + 1e-9;
    }

private:
    struct Known {
        Vec3 from = Vec3::Zero();                   ///< the last place it was asked from
        double least_mm = -MeshTree::kAnyDistance;  ///< no nearer to that
        std::uint32_t last = MeshTree::kNoTriangle;
        TubeOnMesh best;
        Known() { best.distance_mm = MeshTree::kAnyDistance; }
    };

    void ask(std::size_t mesh, TubeOnMesh& out) {
        if (least(mesh, out.on_line) >= reachable(out.distance_mm, 0)) return;
        Known& known = known_[mesh];
        const double within = out.distance_mm + (out.mesh < 0 ? 0 : ahead_);
        const auto found = meshes_[mesh].nearest(out.on_line, within, known.last);
        known.from = out.on_line;
        known.least_mm = found ? found->distance : within;
        if (!found) return;
        known.last = found->triangle;
        const int index = static_cast<int>(mesh);
        const TubeOnMesh place = {found->distance, out.station_mm, out.on_line,
                                  found->at,       index,          found->triangle};
        if (place.distance_mm < known.best.distance_mm) known.best = place;
        const bool first_of_equals = place.distance_mm == out.distance_mm && index < out.mesh;
        if (place.distance_mm < out.distance_mm || first_of_equals) out = place;
    }

    std::span<const PlacedMesh> meshes_;
    std::vector<Known> known_;  ///< of each mesh
    double ahead_;
    std::size_t nearest_ = std::numeric_limits<std::size_t>::max();
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

    double limit_mm() const { return best_.distance_mm; }
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

/// Stations along a tube, and what they say of the stretches between them.
class GapWalk {
public:
    GapWalk(std::span<const PlacedMesh> meshes, double radius_mm)
        : meshes_(meshes), radius_(radius_mm), looks_(meshes, kAhead_mm) {}

    /// @return false where no mesh has anything
    bool along(std::vector<PieceSpan> spans, double step_mm) {
        spans_ = std::move(spans);
        TubeOnMesh before;
        before.distance_mm = MeshTree::kAnyDistance;
        for (const PieceSpan& span : spans_) {
            const double whole = span.to_mm - span.from_mm;
            const int parts = std::max(1, static_cast<int>(std::ceil(whole / step_mm)));
            for (int i = intervals_.empty() ? 0 : 1; i <= parts; ++i) {
                const double along = span.from_mm + whole * i / parts, step = whole / parts;
                const auto place = looks_.at(*span.piece, along, Looks::reachable(before.distance_mm, step));
                if (!place) return false;
                if (i > 0) {
                    intervals_.push_back({span.piece, along - step, along, before, *place});
                    sum_ += step * (before.distance_mm + place->distance_mm) / 2;
                }
                before = *place;
                keep(*place);
            }
            length_ += whole;
            ends_.push_back(intervals_.size());
        }
        return true;
    }
    const TubeOnMesh& nearestStation() const { return nearest_; }

    /// The nearest place of one mesh, if it is nearer than `other`.
    std::optional<TubeOnMesh> leastOf(std::size_t mesh, const TubeOnMesh& other = nowhere()) const {
        LeastSearch search(meshes_.subspan(mesh, 1), other.distance_mm);
        TubeOnMesh seen = looks_.best(mesh);
        if (seen.mesh >= 0) {
            seen.mesh = 0;  // of the one that is searched
            search.take(seen);
        }
        std::vector<Open> open;
        for (std::size_t i = 0; i < spans_.size(); ++i)
            if (const auto part = mayHold(mesh, i, search.limit_mm())) open.push_back(*part);
        std::ranges::sort(open, {}, &Open::least_mm);
        for (const Open& next : open)
            if (next.least_mm < search.limit_mm()) search.search(next.span);
        auto found = search.found();
        if (found) found->mesh = static_cast<int>(mesh);
        return found;
    }

    TubeGap gap(const TubeOnMesh& least) {
        Farthest farthest = farthest_;
        for (const Interval& interval : intervals_) searchFarthest(meshes_, looks_, interval, farthest);
        TubeGap gap = std::move(gap_);
        gap.least_mm = least.distance_mm - radius_;
        gap.least_station_mm = least.station_mm;
        gap.greatest_mm = farthest.distance_mm - radius_;
        gap.greatest_station_mm = farthest.station_mm;
        gap.mean_mm = (length_ > 0 ? sum_ / length_ : nearest_.distance_mm) - radius_;
        gap.on_mesh = least.on_mesh;
        gap.on_tube = least.on_line;
        if (least.distance_mm > 0)
            gap.on_tube +=
                std::min(radius_, least.distance_mm) / least.distance_mm * (least.on_mesh - least.on_line);
        gap.mesh = least.mesh;
        gap.triangle = least.triangle;
        return gap;
    }

private:
    /// A mesh that is not the nearest is looked for this much farther. Measured: 30 to 200 are
    /// as quick.
    static constexpr double kAhead_mm = 50;
    struct Open {
        PieceSpan span;
        double least_mm;
    };
    static TubeOnMesh nowhere() {
        TubeOnMesh out;
        out.distance_mm = MeshTree::kAnyDistance;
        return out;
    }

    void keep(const TubeOnMesh& place) {
        if (gap_.stations_mm.empty() || place.distance_mm > farthest_.distance_mm)
            farthest_ = {place.distance_mm, place.station_mm};
        if (gap_.stations_mm.empty() || place.distance_mm < nearest_.distance_mm) nearest_ = place;
        gap_.stations_mm.push_back(place.station_mm);
        gap_.gaps_mm.push_back(place.distance_mm - radius_);
        for (std::size_t i = 0; i < meshes_.size(); ++i) least_.push_back(looks_.least(i, place.on_line));
    }

    /// The part of a span where the mesh may be nearer than `than_mm`, and how near it may come there: the
    /// distance shrinks no faster than the way from either station.
    std::optional<Open> mayHold(std::size_t mesh, std::size_t span, double than_mm) const {
        const std::size_t count = meshes_.size(), start = span == 0 ? 0 : ends_[span - 1];
        double from = 0, to = 0, least = MeshTree::kAnyDistance;
        for (std::size_t i = start; i < ends_[span]; ++i) {
            const Interval& part = intervals_[i];
            const double here =
                (least_[i * count + mesh] + least_[(i + 1) * count + mesh] - part.length()) / 2 - 1e-9;
            if (!(here < than_mm)) continue;
            if (least == MeshTree::kAnyDistance) from = part.from_mm;
            to = part.to_mm;
            least = std::min(least, here);
        }
        if (least == MeshTree::kAnyDistance) return std::nullopt;
        return Open{PieceSpan(*spans_[span].piece, from, to), least};
    }

    std::span<const PlacedMesh> meshes_;
    double radius_;
    Looks looks_;
    std::vector<PieceSpan> spans_;
    std::vector<Interval> intervals_;
    std::vector<std::size_t> ends_;  ///< of each span, one past its last interval
    std::vector<double> least_;      ///< at each station, of each mesh
    TubeGap gap_;
    TubeOnMesh nearest_;  ///< of the stations
    Farthest farthest_;
    double sum_ = 0, length_ = 0;
};

}  // namespace

std::optional<TubeOnMesh> nearest(const Centreline& line, std::span<const PlacedMesh> meshes,
                                  double within_mm, Stretch part) {
    LeastSearch search(meshes, within_mm);
    search.search(spansOf(line, part));
    return search.found();
}

std::optional<TubeGap> gapAlong(const Centreline& line, double radius_mm, std::span<const PlacedMesh> meshes,
                                double step_mm, Stretch part) {
    GapWalk walk(meshes, radius_mm);
    if (!walk.along(spansOf(line, part), step_mm)) return std::nullopt;
    TubeOnMesh least = walk.nearestStation();
    for (std::size_t i = 0; i < meshes.size(); ++i)
        if (const auto found = walk.leastOf(i, least)) least = *found;
    return walk.gap(least);
}

std::optional<GapToEach> gapToEach(const Centreline& line, double radius_mm,
                                   std::span<const PlacedMesh> meshes, double step_mm, Stretch part) {
    GapWalk walk(meshes, radius_mm);
    if (!walk.along(spansOf(line, part), step_mm)) return std::nullopt;
    GapToEach out;
    TubeOnMesh least = walk.nearestStation();
    for (std::size_t i = 0; i < meshes.size(); ++i) {
        out.of_mesh.push_back(walk.leastOf(i));
        if (out.of_mesh[i] && out.of_mesh[i]->distance_mm < least.distance_mm) least = *out.of_mesh[i];
    }
    out.gap = walk.gap(least);
    return out;
}

}  // namespace hoopwright
