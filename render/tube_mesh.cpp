#include "render/tube_mesh.h"

#include <algorithm>
#include <cmath>

#include "render/turn.h"

namespace hoopwright {
namespace {

/// One ring: the station of every side. Rings near a cut follow its shape.
using Ring = std::vector<double>;

class TubeBuilder {
public:
    TubeBuilder(const TubeSweep& sweep, const TubeSection& section, const TubeCut& first, const TubeCut& last,
                const TubeDetail& detail)
        : sweep_(sweep), section_(section), first_(first), last_(last), detail_(detail) {}

    Mesh build() {
        const double free_mm = sweep_.length_mm();
        from_ = zone(first_, free_mm);
        to_ = free_mm - zone(last_, free_mm);
        outer_ =
            skin(rings(first_.outer_mm, last_.outer_mm, detail_.step_mm, true), section_.od_mm / 2, false);
        mesh_.outer_triangles = static_cast<std::uint32_t>(mesh_.triangles.size());
        if (detail_.bore) {
            bore_ = skin(rings(first_.bore_mm, last_.bore_mm, 1e9, false), section_.bore_mm() / 2, true);
            cutFace(0);
            cutFace(1);
        }
        return std::move(mesh_);
    }

private:
    /// Station of the first full ring: beyond the deepest point of the cut, but never past the middle.
    double zone(const TubeCut& cut, double length) const {
        const double wanted =
            std::max(cut.deepest_mm() + 0.15 * section_.od_mm, cut.welded ? 1.1 * section_.od_mm : 0.0);
        return std::clamp(wanted, 0.0, 0.49 * length);
    }

    std::vector<double> fullStations(double step_mm, bool near_too) const {
        std::vector<double> stations = {from_, to_};
        for (const double s : sweep_.line().sampleStations(detail_.chord_error_mm)) stations.push_back(s);
        if (near_too) stations.insert(stations.end(), detail_.near_mm.begin(), detail_.near_mm.end());
        std::sort(stations.begin(), stations.end());
        std::vector<double> full = {from_};
        constexpr double kLeast_mm = 2.0;
        for (const double s : stations) {
            if (s <= from_ + kLeast_mm || s >= to_ - kLeast_mm || s < full.back() + kLeast_mm) continue;
            subdivide(full, s, step_mm);
        }
        subdivide(full, to_, step_mm);
        return full;
    }

    static void subdivide(std::vector<double>& stations, double next, double step_mm) {
        const double last = stations.back();
        const int parts = std::max(1, static_cast<int>(std::ceil((next - last) / step_mm)));
        for (int i = 1; i <= parts; ++i) stations.push_back(last + (next - last) * i / parts);
    }

    /// From the first cut to the last, in order.
    std::vector<Ring> rings(const std::vector<double>& first, const std::vector<double>& last, double step_mm,
                            bool fine) const {
        const auto sides = static_cast<std::size_t>(detail_.sides);
        const double length = sweep_.length_mm();
        // Rings crowd towards the weld, where shadow and heat change fastest.
        const std::vector<double> shares =
            fine ? std::vector<double>{0, 0.12, 0.3, 0.6} : std::vector<double>{0, 0.4};
        std::vector<Ring> all;
        for (const double share : shares) {
            Ring ring(sides);
            for (std::size_t k = 0; k < sides; ++k) {
                const double cut = std::min(first[k], from_);
                ring[k] = cut + share * (from_ - cut);
            }
            all.push_back(std::move(ring));
        }
        for (const double s : fullStations(step_mm, fine)) all.emplace_back(sides, s);
        for (auto share = shares.rbegin(); share != shares.rend(); ++share) {
            Ring ring(sides);
            for (std::size_t k = 0; k < sides; ++k) {
                const double cut = std::max(length - last[k], to_);
                ring[k] = cut + *share * (to_ - cut);
            }
            all.push_back(std::move(ring));
        }
        return all;
    }

    struct Skin {
        std::uint32_t first = 0;
        int rows = 0;
    };

    Skin skin(const std::vector<Ring>& rings, double radius, bool inward) {
        const int columns = detail_.sides + 1;
        const Skin skin{static_cast<std::uint32_t>(mesh_.corners.size()), static_cast<int>(rings.size())};
        mesh_.corners.reserve(mesh_.corners.size() + rings.size() * static_cast<std::size_t>(columns));
        for (const Ring& ring : rings) addRing(ring, radius, inward, rings);
        const std::size_t before = mesh_.triangles.size();
        joinGrid(mesh_, skin.first, skin.rows, columns);  // along x around points to the axis
        if (inward) return skin;
        for (std::size_t i = before; i < mesh_.triangles.size(); i += 3)
            std::swap(mesh_.triangles[i + 1], mesh_.triangles[i + 2]);
        return skin;
    }

    void addRing(const Ring& ring, double radius, bool inward, const std::vector<Ring>& rings) {
        const bool level = std::all_of(ring.begin(), ring.end(), [&](double s) { return s == ring.front(); });
        SweepFrame frame = sweep_.frame(ring.front());
        for (int k = 0; k <= detail_.sides; ++k) {
            const auto side = static_cast<std::size_t>(k % detail_.sides);
            if (!level) frame = sweep_.frame(ring[side]);
            const double angle = kTurn * k / detail_.sides;
            const Vec3 out = std::cos(angle) * frame.u + std::sin(angle) * frame.v;
            MeshCorner corner;
            corner.at = (frame.at + radius * out).cast<float>();
            corner.normal = (inward ? Vec3(-out) : out).cast<float>();
            corner.around = static_cast<float>(angle);
            corner.along = static_cast<float>(std::clamp(ring[side] / sweep_.length_mm(), 0.0, 1.0));
            corner.weld_mm = static_cast<float>(weldDistance(ring[side], rings, side));
            // Little light finds its way down the bore.
            if (inward)
                corner.light = static_cast<float>(0.5 * std::exp(-endDistance(ring[side]) / section_.od_mm));
            mesh_.add(corner);
        }
    }

    double weldDistance(double station, const std::vector<Ring>& rings, std::size_t side) const {
        double least = 1000;
        if (first_.welded) least = std::min(least, station - rings.front()[side]);
        if (last_.welded) least = std::min(least, rings.back()[side] - station);
        return least;
    }

    double endDistance(double station) const {
        return std::max(0.0, std::min(station, sweep_.length_mm() - station));
    }

    /// The face between the outer and the bore edge.
    void cutFace(int end) {
        const auto columns = static_cast<std::uint32_t>(detail_.sides + 1);
        const auto row = [&](const Skin& s) {
            return s.first + (end == 0 ? 0 : static_cast<std::uint32_t>(s.rows - 1) * columns);
        };
        const auto base = static_cast<std::uint32_t>(mesh_.corners.size());
        for (std::uint32_t k = 0; k < columns; ++k)
            for (const std::uint32_t from : {row(outer_) + k, row(bore_) + k}) {
                MeshCorner corner = mesh_.corners[from];
                corner.light = 0.9f;
                mesh_.add(corner);
            }
        const Vec3f away =
            ((end == 0 ? -1.0 : 1.0) * sweep_.frame(end == 0 ? 0 : sweep_.length_mm()).along).cast<float>();
        for (std::uint32_t k = 0; k < columns; ++k) faceNormal(base, k, columns, away);
        for (std::uint32_t k = 0; k + 1 < columns; ++k) {
            const std::uint32_t a = base + 2 * k;
            if (end == 0)
                mesh_.quad(a, a + 1, a + 3, a + 2);
            else
                mesh_.quad(a, a + 2, a + 3, a + 1);
        }
    }

    void faceNormal(std::uint32_t base, std::uint32_t k, std::uint32_t columns, const Vec3f& away) {
        const std::uint32_t next = k + 1 < columns ? k + 1 : 1, before = k > 0 ? k - 1 : columns - 2;
        const Vec3f round = mesh_.corners[base + 2 * next].at - mesh_.corners[base + 2 * before].at;
        const Vec3f across = mesh_.corners[base + 2 * k + 1].at - mesh_.corners[base + 2 * k].at;
        Vec3f n = round.cross(across);
        n = n.squaredNorm() > 1e-12f ? n.normalized() : away;
        if (n.dot(away) < 0) n = -n;
        mesh_.corners[base + 2 * k].normal = mesh_.corners[base + 2 * k + 1].normal = n;
    }

    const TubeSweep& sweep_;
    const TubeSection& section_;
    const TubeCut &first_, &last_;
    const TubeDetail& detail_;
    Mesh mesh_;
    double from_ = 0, to_ = 0;  // stations of the first and last full ring
    Skin outer_, bore_;
};

Vec3 squareTo(const Vec3& direction, const Vec3& axis) {
    const Vec3 square = direction - direction.dot(axis) * axis;
    return square.squaredNorm() > 1e-18 ? square.normalized() : axis.unitOrthogonal();
}

}  // namespace

TubeSweep::TubeSweep(const Centreline& line, const Vec3& clock) : line_(line) {
    Vec3 u = squareTo(clock, line.pieces().front().tangent);
    for (const Piece& piece : line.pieces()) {
        clocks_.push_back(u);
        if (piece.kind == Piece::Kind::bend) u = Eigen::AngleAxisd(piece.angle_rad, piece.axis) * u;
    }
}

SweepFrame TubeSweep::frame(double station_mm) const {
    const auto pieces = line_.pieces();
    std::size_t i = 0;
    while (i + 1 < pieces.size() && station_mm >= pieces[i + 1].station_mm) ++i;
    const Piece& piece = pieces[i];
    const double along = station_mm - piece.station_mm;
    SweepFrame frame{piece.point(along), piece.tangentAt(along), clocks_[i], Vec3::Zero()};
    if (piece.kind == Piece::Kind::bend) {
        const double inside = std::clamp(along, 0.0, piece.length_mm);
        frame.u = Eigen::AngleAxisd(inside / piece.radius_mm, piece.axis) * frame.u;
        frame.along = piece.tangentAt(inside);
        frame.at = piece.point(inside) + (along - inside) * frame.along;
    }
    frame.v = frame.along.cross(frame.u);
    return frame;
}

TubeCut TubeCut::square(int sides) {
    TubeCut cut;
    cut.outer_mm.assign(static_cast<std::size_t>(sides), 0.0);
    cut.bore_mm = cut.outer_mm;
    cut.missed.assign(static_cast<std::size_t>(sides), true);
    return cut;
}

TubeCut TubeCut::from(const CopeProfile& profile, int end, double foot_mm) {
    const auto sides = static_cast<std::size_t>(profile.stations);
    TubeCut cut = square(profile.stations);
    cut.welded = true;
    for (std::size_t k = 0; k < sides; ++k) {
        // A cope counts round the inward axis, which at the last end runs against the tube.
        const std::size_t i = end == 0 ? k : (sides - k) % sides;
        cut.outer_mm[k] = profile.outer.s_mm[i] + foot_mm;
        cut.bore_mm[k] = profile.bore.s_mm[i] + foot_mm;
        cut.missed[k] = profile.outer.missed[i];
    }
    return cut;
}

double TubeCut::deepest_mm() const {
    double deepest = 0;
    for (const double s : outer_mm) deepest = std::max(deepest, s);
    for (const double s : bore_mm) deepest = std::max(deepest, s);
    return deepest;
}

Mesh tubeMesh(const TubeSweep& sweep, const TubeSection& section, const TubeCut& first, const TubeCut& last,
              const TubeDetail& detail) {
    return TubeBuilder(sweep, section, first, last, detail).build();
}

}  // namespace hoopwright
