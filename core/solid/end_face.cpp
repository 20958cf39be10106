#include "core/solid/end_face.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "core/solid/fitted.h"

namespace hoopwright {
namespace {

using std::numbers::pi;

// Corners of a ring that are nearer than this are one [rad].
constexpr double kOne = 1e-6;

double behind(double theta, double seam) {
    double turned = std::fmod(theta - seam, 2 * pi);
    if (turned < 0) turned += 2 * pi;
    if (turned > 2 * pi - kOne) turned = 0;  // round-off before the seam
    return seam + turned;
}

EdgeCurve arcOn(const EndCut& cut, double from, double to, std::size_t wall) {
    const double radius = cut.wall_mm(wall);
    const CutBy by = cut.by((from + to) / 2, radius);
    const PlaneSurface* plane = by.host < 0 ? nullptr : cut.plane(by);
    if (!plane) return splineThrough([&](double theta) { return cut.point(theta, radius); }, from, to);
    const Vec3 &foot = cut.end().foot, along = cut.along();
    const Vec3 normal = plane->normal.dot(along) > 0 ? plane->normal : Vec3(-plane->normal);
    const double cosine = normal.dot(along);
    const Vec3 centre = foot + normal.dot(plane->at - foot) / cosine * along;
    const Vec3 leaning = along - cosine * normal;
    if (leaning.norm() < 1e-9) return CircleEdge{centre, along, cut.spoke(from), radius};
    return EllipseEdge{centre, normal, leaning.normalized(), radius / cosine, radius};
}

/// What a place across the wall is called: 0 outside, 1 in the bore.
double radiusAt(const EndCut& cut, double share) {
    return cut.outer_mm() + share * (cut.bore_mm() - cut.outer_mm());
}

/// One change on the outside and the one on the bore that it goes on to.
struct Across {
    CutChange outer, bore;
};

/// Changes of outside and bore, paired in turn; nothing if they don't pair.
std::optional<std::vector<Across>> paired(const EndCut& cut) {
    const auto &outer = cut.changesOf(0), &bore = cut.changesOf(1);
    if (outer.size() != bore.size() || outer.size() == 1) return std::nullopt;
    const auto missed = [](const CutChange& c) { return c.before.host < 0 || c.after.host < 0; };
    if (std::ranges::any_of(outer, missed) || std::ranges::any_of(bore, missed)) return std::nullopt;
    const std::size_t n = outer.size();
    std::optional<std::size_t> best;
    double least = 0;
    for (std::size_t shift = 0; shift < n; ++shift) {
        double sum = 0;
        bool same = true;
        for (std::size_t i = 0; i < n && same; ++i) {
            const CutChange &a = outer[i], &b = bore[(i + shift) % n];
            same = a.before == b.before && a.after == b.after;
            sum += std::abs(std::remainder(a.theta_rad - b.theta_rad, 2 * pi));
        }
        if (same && (!best || sum < least)) best = shift, least = sum;
    }
    if (n > 0 && !best) return std::nullopt;
    std::vector<Across> out;
    for (std::size_t i = 0; i < n; ++i) out.push_back({outer[i], bore[(i + *best) % n]});
    return out;
}

/// Where at a place across the wall one surface takes over from the other.
class ChangeAcross {
public:
    ChangeAcross(const EndCut& cut, const Across& across) : cut_(cut), across_(across) {
        const double turn = std::remainder(across.bore.theta_rad - across.outer.theta_rad, 2 * pi);
        bore_ = across.outer.theta_rad + turn;
    }
    Vec3 operator()(double share) {
        const double radius = radiusAt(cut_, share);
        const double guess = across_.outer.theta_rad + share * (bore_ - across_.outer.theta_rad);
        const auto is = [&](double theta, const CutBy& by) { return cut_.by(theta, radius) == by; };
        double reach = 1e-5;
        while (reach < 0.5 &&
               !(is(guess - reach, across_.outer.before) && is(guess + reach, across_.outer.after)))
            reach *= 2;
        if (reach >= 0.5) {
            lost_ = true;
            return cut_.point(guess, radius);
        }
        double from = guess - reach, to = guess + reach;
        for (double middle = guess; middle > from && middle < to; middle = (from + to) / 2)
            (is(middle, across_.outer.before) ? from : to) = middle;
        return cut_.point(to, radius);
    }
    bool lost() const { return lost_; }

private:
    const EndCut& cut_;
    Across across_;
    double bore_;
    bool lost_ = false;
};

/// The part of an end's face between two of its lines across the wall.
EdgeLoop patchLoop(const EdgeLoop& outer, const EdgeLoop& bore, int line_from, int line_to, bool first) {
    // Seen from outside the first end, theta runs clockwise.
    EdgeLoop loop = reversed(outer);
    loop.push_back({line_from, true});
    loop.insert(loop.end(), bore.begin(), bore.end());
    loop.push_back({line_to, false});
    return first ? loop : reversed(loop);
}

/// Onto a host's surface; its normal points out of the host and so into the tube.
SolidFace faceOn(const EndCut& cut, const CutBy& by) {
    SolidFace face;
    face.surface = cut.surface(by);
    face.along_normal = false;
    if (auto* plane = std::get_if<PlaneSurface>(&face.surface)) {
        plane->normal = -plane->normal;
        face.along_normal = true;
    }
    return face;
}

bool addExactFaces(SolidBody& solid, const EndCut& cut, const CutRing& outer, const CutRing& bore,
                   bool first) {
    const auto changes = paired(cut);
    if (!changes) return false;
    if (changes->empty()) {
        const CutBy by = cut.by(0, cut.outer_mm());
        if (by.host < 0 || !(by == cut.by(0, cut.bore_mm()))) return false;
        SolidFace face = faceOn(cut, by);
        face.loops = {first ? reversed(outer.all()) : outer.all(), first ? bore.all() : reversed(bore.all())};
        solid.faces.push_back(std::move(face));
        return true;
    }
    std::vector<SplineEdge> lines;
    for (const Across& across : *changes) {
        ChangeAcross change(cut, across);
        lines.push_back(splineThrough([&](double share) { return change(share); }, 0, 1));
        if (change.lost()) return false;
    }
    std::vector<int> edges;
    for (std::size_t i = 0; i < lines.size(); ++i)
        edges.push_back(solid.edge(outer.cornerAt(solid, (*changes)[i].outer.theta_rad),
                                   bore.cornerAt(solid, (*changes)[i].bore.theta_rad), std::move(lines[i])));
    for (std::size_t i = 0; i < edges.size(); ++i) {
        const std::size_t next = (i + 1) % edges.size();
        const Across &from = (*changes)[i], &to = (*changes)[next];
        SolidFace face = faceOn(cut, from.outer.after);
        face.loops = {patchLoop(outer.between(from.outer.theta_rad, to.outer.theta_rad),
                                bore.between(from.bore.theta_rad, to.bore.theta_rad), edges[i], edges[next],
                                first)};
        solid.faces.push_back(std::move(face));
    }
    return true;
}

/// Shares of the wall a fitted face goes through (Lobatto's, from memory), and from values there to the poles
/// of the cubic.
constexpr std::array<double, 4> kAcross = {0, 0.27639320225002106, 0.7236067977499789, 1};
Eigen::Matrix4d polesFromValues() {
    Eigen::Matrix4d bernstein;
    for (int i = 0; i < 4; ++i) {
        const double t = kAcross[static_cast<std::size_t>(i)], u = 1 - t;
        bernstein.row(i) << u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t;
    }
    return bernstein.inverse();
}

/// Knots of half an end's face, and which of them are corners.
struct HalfKnots {
    std::vector<double> knots;
    std::vector<bool> corner;
};

HalfKnots halfKnots(const EndCut& cut, double from, double to) {
    std::vector<double> breaks = {from, to};
    for (const double share : kAcross) {
        const double radius = radiusAt(cut, share);
        const auto add = [&](double theta) {
            const double at = behind(theta, from);
            if (at > from + kOne && at < to - kOne) breaks.push_back(at);
        };
        for (const CutChange& change : cut.changes(radius)) add(change.theta_rad);
        for (const double corner : cut.corners(radius)) add(corner);
    }
    const auto tidy = [](std::vector<double>& row) {
        std::ranges::sort(row);
        row.erase(std::ranges::unique(row, [](double a, double b) { return b - a < kOne; }).begin(),
                  row.end());
    };
    tidy(breaks);
    HalfKnots out;
    for (std::size_t i = 0; i + 1 < breaks.size(); ++i) {
        std::vector<double> knots;
        for (const double share : kAcross) {
            const double radius = radiusAt(cut, share);
            const auto curve = [&](double theta) { return cut.point(theta, radius); };
            for (const double knot : knotsFor(curve, breaks[i], breaks[i + 1])) knots.push_back(knot);
        }
        tidy(knots);
        knots.front() = breaks[i], knots.back() = breaks[i + 1];
        for (std::size_t k = i == 0 ? 0 : 1; k < knots.size(); ++k) {
            out.knots.push_back(knots[k]);
            out.corner.push_back(k + 1 == knots.size() && i + 2 < breaks.size());
        }
    }
    return out;
}

SplineSurface fittedHalf(const EndCut& cut, double from, double to) {
    const HalfKnots half = halfKnots(cut, from, to);
    std::array<std::vector<Vec3>, 4> through;
    for (std::size_t k = 0; k < 4; ++k) {
        const double radius = radiusAt(cut, kAcross[k]);
        const auto curve = [&](double theta) { return cut.point(theta, radius); };
        for (std::size_t start = 0; start + 1 < half.knots.size();) {
            std::size_t stop = start + 1;
            while (stop + 1 < half.knots.size() && !half.corner[stop]) ++stop;
            const std::vector<double> knots(half.knots.begin() + static_cast<std::ptrdiff_t>(start),
                                            half.knots.begin() + static_cast<std::ptrdiff_t>(stop) + 1);
            std::vector<Vec3> points;
            for (const double t : knots) points.push_back(curve(t));
            const std::vector<Vec3> poles = polesOf(knots, points, ratesAt(curve, knots));
            through[k].insert(through[k].end(), poles.begin() + (start == 0 ? 0 : 1), poles.end());
            start = stop;
        }
    }
    SplineSurface out;
    out.first.knots = half.knots;
    for (const bool corner : half.corner) out.first.counts.push_back(corner ? 3 : 2);
    out.first.counts.front() = out.first.counts.back() = 4;
    const Eigen::Matrix4d poles = polesFromValues();
    for (std::size_t i = 0; i < through[0].size(); ++i) {
        std::array<Vec3, 4> row;
        for (int m = 0; m < 4; ++m) {
            row[static_cast<std::size_t>(m)].setZero();
            for (int k = 0; k < 4; ++k)
                row[static_cast<std::size_t>(m)] += poles(m, k) * through[static_cast<std::size_t>(k)][i];
        }
        out.poles.push_back(row);
    }
    return out;
}

SplineEdge acrossEdge(const std::array<Vec3, 4>& poles) {
    return {{poles.begin(), poles.end()}, {{0, 1}, {4, 4}}};
}

void addFittedFaces(SolidBody& solid, const EndCut& cut, double seam, const CutRing& outer,
                    const CutRing& bore, bool first) {
    std::array<SplineSurface, 2> halves = {fittedHalf(cut, seam, seam + pi),
                                           fittedHalf(cut, seam + pi, seam + 2 * pi)};
    std::array<int, 2> lines;
    for (const std::size_t i : {0u, 1u}) {
        const double theta = seam + (i == 0 ? 0 : pi);
        lines[i] = solid.edge(outer.cornerAt(solid, theta), bore.cornerAt(solid, theta),
                              acrossEdge(halves[i].poles.front()));
    }
    for (const std::size_t i : {0u, 1u}) {
        const double from = seam + (i == 0 ? 0 : pi);
        SolidFace face;
        face.surface = std::move(halves[i]);
        face.along_normal = !first;  // theta x outside-to-bore points along the tube
        face.loops = {patchLoop(outer.between(from, from + pi), bore.between(from, from + pi), lines[i],
                                lines[1 - i], first)};
        solid.faces.push_back(std::move(face));
    }
}

}  // namespace

std::size_t CutRing::arcFrom(double theta_rad) const {
    std::size_t best = 0;
    double nearest = 10;
    for (std::size_t i = 0; i < arcs.size(); ++i) {
        const double off = std::abs(std::remainder(arcs[i].from_rad - theta_rad, 2 * pi));
        if (off < nearest) nearest = off, best = i;
    }
    return best;
}

int CutRing::cornerAt(const SolidBody& solid, double theta_rad) const {
    return solid.edges[static_cast<std::size_t>(arcs[arcFrom(theta_rad)].edge)].from;
}

EdgeLoop CutRing::between(double from_rad, double to_rad) const {
    EdgeLoop out;
    const std::size_t from = arcFrom(from_rad), to = arcFrom(to_rad);
    for (std::size_t i = from;;) {
        out.push_back({arcs[i].edge, true});
        i = (i + 1) % arcs.size();
        if (i == to) break;
    }
    return out;
}

EdgeLoop CutRing::all() const {
    EdgeLoop out;
    for (const Arc& arc : arcs) out.push_back({arc.edge, true});
    return out;
}

CutRing cutRing(SolidBody& solid, const EndCut& cut, double seam_rad, std::size_t wall) {
    std::vector<double> breaks = {seam_rad, seam_rad + pi};
    const auto add = [&](double theta) {
        const double at = behind(theta, seam_rad);
        const auto near = [&](double other) { return std::abs(other - at) < kOne; };
        if (std::ranges::none_of(breaks, near)) breaks.push_back(at);
    };
    for (const CutChange& change : cut.changesOf(wall)) add(change.theta_rad);
    for (const double corner : cut.cornersOf(wall)) add(corner);
    std::ranges::sort(breaks);
    std::vector<int> corners;
    for (const double theta : breaks) corners.push_back(solid.corner(cut.point(theta, cut.wall_mm(wall))));
    CutRing ring;
    for (std::size_t i = 0; i < breaks.size(); ++i) {
        const bool last = i + 1 == breaks.size();
        const double to = last ? seam_rad + 2 * pi : breaks[i + 1];
        ring.arcs.push_back(
            {breaks[i], to,
             solid.edge(corners[i], corners[last ? 0 : i + 1], arcOn(cut, breaks[i], to, wall))});
    }
    return ring;
}

bool addEndFace(SolidBody& solid, const EndCut& cut, double seam_rad, const CutRing& outer,
                const CutRing& bore, bool first) {
    if (addExactFaces(solid, cut, outer, bore, first)) return true;
    addFittedFaces(solid, cut, seam_rad, outer, bore, first);
    return false;
}

}  // namespace hoopwright
