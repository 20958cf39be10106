#include "core/solid/tube_solid.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "core/shop/joint_cope.h"
#include "core/solid/end_face.h"

namespace hoopwright {
namespace {

using std::numbers::pi;

/// A round section of the tube between two of its pieces.
struct Section {
    Vec3 at, along, clock;
    Vec3 spoke(double theta_rad) const {
        return std::cos(theta_rad) * clock + std::sin(theta_rad) * along.cross(clock);
    }
};

/// Before the first piece, between pieces, behind the last.
std::vector<Section> sectionsOf(const Centreline& line) {
    std::vector<Section> out;
    Vec3 clock = tubeClock(line, 0);
    for (const Piece& piece : line.pieces()) {
        out.push_back({piece.start, piece.tangent, clock});
        if (piece.kind == Piece::Kind::bend) clock = Eigen::AngleAxisd(piece.angle_rad, piece.axis) * clock;
    }
    out.push_back({line.pieces().back().end(), line.pieces().back().endTangent(), clock});
    return out;
}

class TubeBuilder {
public:
    TubeBuilder(const CageGeometry& cage, int member, std::array<EndCut, 2> cuts)
        : tube_(cage.members[static_cast<std::size_t>(member)]), cuts_(std::move(cuts)) {}

    TubeSolid build() {
        seam_ = quietTheta();
        const std::array<double, 2> radii = {cuts_[0].outer_mm(), cuts_[0].bore_mm()};
        const std::vector<Section> sections = sectionsOf(tube_.line);
        const std::size_t last = sections.size() - 1;
        for (const std::size_t wall : {0u, 1u}) {
            auto& rings = rings_[wall];
            for (std::size_t i = 0; i <= last; ++i) {
                const bool end = i == 0 || i == last;
                rings.push_back(end ? cutRing(out_.solid, cuts_[i == 0 ? 0 : 1], seam_, wall)
                                    : round(sections[i], radii[wall]));
            }
            for (std::size_t i = 0; i < last; ++i) {
                const Piece& piece = tube_.line.pieces()[i];
                addWall(piece, sections[i], wall, i, radii[wall]);
            }
        }
        for (const std::size_t e : {0u, 1u}) {
            const std::size_t ring = e == 0 ? 0 : last;
            out_.exact[e] = addEndFace(out_.solid, cuts_[e], seam_, rings_[0][ring], rings_[1][ring], e == 0);
        }
        return std::move(out_);
    }

private:
    /// Where to part the walls in two: away from every place where a cut changes or has a corner.
    double quietTheta() const {
        std::vector<double> busy;
        for (const EndCut& cut : cuts_) {
            for (const std::size_t wall : {0u, 1u}) {
                for (const CutChange& change : cut.changesOf(wall)) busy.push_back(change.theta_rad);
                for (const double corner : cut.cornersOf(wall)) busy.push_back(corner);
            }
        }
        double best = 0, widest = -1;
        constexpr int kTried = 90;
        for (int i = 0; i < kTried; ++i) {
            const double theta = pi * i / kTried;
            double nearest = pi / 2;
            for (const double other : busy) {
                const double off = std::abs(std::remainder(other - theta, pi));
                nearest = std::min(nearest, off);
            }
            if (nearest > widest + 1e-6) best = theta, widest = nearest;
        }
        return best;
    }

    CutRing round(const Section& section, double radius) {
        CutRing ring;
        const int a = out_.solid.corner(section.at + radius * section.spoke(seam_)),
                  b = out_.solid.corner(section.at + radius * section.spoke(seam_ + pi));
        const CircleEdge circle{section.at, section.along, section.spoke(seam_), radius};
        CircleEdge other = circle;
        other.towards = -circle.towards;
        ring.arcs.push_back({seam_, seam_ + pi, out_.solid.edge(a, b, circle)});
        ring.arcs.push_back({seam_ + pi, seam_ + 2 * pi, out_.solid.edge(b, a, other)});
        return ring;
    }

    /// The generator of a piece at an angle, from ring to ring.
    EdgeCurve generator(const Piece& piece, const Vec3& from) const {
        if (piece.kind == Piece::Kind::straight) return StraightEdge{};
        const Vec3 centre = piece.centre + (from - piece.centre).dot(piece.axis) * piece.axis;
        return CircleEdge{centre, piece.axis, (from - centre).normalized(), (from - centre).norm()};
    }

    void addWall(const Piece& piece, const Section& section, std::size_t wall, std::size_t i, double radius) {
        const CutRing &near = rings_[wall][i], &far = rings_[wall][i + 1];
        SolidBody& solid = out_.solid;
        std::array<int, 2> lines;
        for (const std::size_t half : {0u, 1u}) {
            const double theta = seam_ + (half == 0 ? 0 : pi);
            const int from = near.cornerAt(solid, theta), to = far.cornerAt(solid, theta);
            lines[half] =
                solid.edge(from, to, generator(piece, solid.corners[static_cast<std::size_t>(from)]));
        }
        for (const std::size_t half : {0u, 1u}) {
            const double from = seam_ + (half == 0 ? 0 : pi), to = from + pi;
            EdgeLoop loop = near.between(from, to);
            loop.push_back({lines[1 - half], true});
            for (const EdgeUse& use : reversed(far.between(from, to))) loop.push_back(use);
            loop.push_back({lines[half], false});
            const Vec3 away = -section.spoke(seam_ + pi / 2 + (half == 0 ? 0 : pi));
            SolidFace face;
            face.along_normal = wall == 0;
            if (piece.kind == Piece::Kind::straight)
                face.surface = CylinderSurface{piece.start, piece.tangent, away, radius};
            else
                face.surface = TorusSurface{piece.centre, piece.axis,
                                            (piece.centre - piece.point(piece.length_mm / 2)).normalized(),
                                            piece.radius_mm, radius};
            face.loops = {wall == 0 ? loop : reversed(loop)};
            solid.faces.push_back(std::move(face));
        }
    }

    const ResolvedMember& tube_;
    std::array<EndCut, 2> cuts_;
    TubeSolid out_;
    double seam_ = 0;
    std::array<std::vector<CutRing>, 2> rings_;  // outside and bore, at every section
};

/// Why the straights at the ends can't take the cuts; or empty.
std::string noRoom(const ResolvedMember& tube, const std::array<EndCut, 2>& cuts) {
    const auto pieces = tube.line.pieces();
    for (std::size_t i = 0; i + 1 < pieces.size(); ++i) {
        if (pieces[i].endTangent().dot(pieces[i + 1].tangent) < 1 - 1e-9)
            return tube.name +
                   " has a corner that is not bent, so it is no tube: give the corner a radius there is a "
                   "die for.";
    }
    std::array<double, 2> deepest = {0, 0}, shallowest = {0, 0};
    constexpr int kStations = 360;
    for (const std::size_t e : {0u, 1u}) {
        deepest[e] = -1e9, shallowest[e] = 1e9;
        for (int i = 0; i < kStations; ++i) {
            for (const double radius : {cuts[e].outer_mm(), cuts[e].bore_mm()}) {
                const double into = cuts[e].into_mm(2 * pi * i / kStations, radius);
                deepest[e] = std::max(deepest[e], into), shallowest[e] = std::min(shallowest[e], into);
            }
        }
    }
    for (const std::size_t e : {0u, 1u}) {
        const Piece& piece = e == 0 ? pieces.front() : pieces.back();
        const bool bend = piece.kind == Piece::Kind::bend;
        const double other = pieces.size() == 1 ? deepest[1 - e] : 0;
        const bool cut = deepest[e] > 1e-9 || shallowest[e] < -1e-9;
        if (bend ? cut : deepest[e] + other >= piece.length_mm)
            return tube.name + ", " + (e == 0 ? "first" : "last") +
                   " end: the cut reaches past its last straight, so no true solid can be given of it: make "
                   "that straight longer.";
    }
    return {};
}

}  // namespace

Expected<TubeSolid> tubeSolid(const CageGeometry& cage, int member) {
    const ResolvedMember& tube = cage.members[static_cast<std::size_t>(member)];
    if (!tube.section.valid()) return Reason{tube.name + " has no tube yet: choose one of the stock list."};
    std::array<std::string, 2> left_square;
    for (const int e : {0, 1}) {
        const auto& left = tube.ends[static_cast<std::size_t>(e)];
        if (left.on == ResolvedEnd::On::nothing) continue;
        const Expected<CopeProfile> profile = jointCope(cage, member, e, 36);
        if (!profile) left_square[static_cast<std::size_t>(e)] = profile.reason();
    }
    std::array<EndCut, 2> cuts = {EndCut(cage, member, 0, !left_square[0].empty()),
                                  EndCut(cage, member, 1, !left_square[1].empty())};
    if (const std::string reason = noRoom(tube, cuts); !reason.empty()) return Reason{reason};
    TubeSolid made = TubeBuilder(cage, member, std::move(cuts)).build();
    made.left_square = left_square;
    if (!closed(made.solid))
        return Reason{tube.name + ": its cuts do not close to a solid; please report this cage."};
    return made;
}

double finishedVolume_mm3(const CageGeometry& cage, int member) {
    return cage.members[static_cast<std::size_t>(member)].section.area_mm2() *
           cutLength(cage, member).mean_mm;
}

}  // namespace hoopwright
