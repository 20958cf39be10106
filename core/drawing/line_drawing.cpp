#include "core/drawing/line_drawing.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "core/drawing/occluders.h"
#include "core/drawing/sheet_look.h"
#include "core/model/end_hosts.h"
#include "core/shop/joint_cope.h"

namespace hoopwright {
namespace {

constexpr double kPi = 3.14159265358979323846;
constexpr double kOff_mm = 0.08;  // how far outside its own metal a point is looked at from
constexpr double kStep_mm = 6, kEdgeStep_mm = 2.5;
constexpr double kNormalStep_rad = 6 * kPi / 180, kJump_rad = kPi / 3;
constexpr double kEndOn = 1e-6;    // sine of the angle under which a tube counts as seen end-on
constexpr double kLeast_mm = 1.5;  // less is a touch, no line
constexpr double kSplit_mm = 0.05, kStraight_mm = 0.02;
constexpr int kCopeStations = 96, kCircleSides = 64, kMostHalvings = 14;

/// A point of a line and the way out of all metal there.
struct LinePoint {
    Vec3 at, out;
    Vec3 looked() const { return at + kOff_mm * out; }
};
using LinePoints = std::vector<LinePoint>;

/// One end of a tube as cut: how far from the end of its centreline, by the side of the tube.
struct EndCut {
    CopeEnd frame;
    CopeProfile profile;
    double foot_mm = 0;
    /// Along the tube, at a way out of it square to its axis.
    double at(const Vec3& out) const {
        const double phi = std::atan2(out.dot(frame.inward.cross(frame.clock)), out.dot(frame.clock));
        const auto n = static_cast<double>(profile.stations);
        double place = phi / (2 * kPi) * n;
        if (place < 0) place += n;
        const auto i = static_cast<std::size_t>(place) % static_cast<std::size_t>(profile.stations);
        const std::size_t j = (i + 1) % static_cast<std::size_t>(profile.stations);
        const double part = place - std::floor(place);
        return foot_mm + profile.outer.s_mm[i] * (1 - part) + profile.outer.s_mm[j] * part;
    }
    Vec3 out(int station) const {
        const double phi = 2 * kPi * station / profile.stations;
        return frame.clock * std::cos(phi) + frame.inward.cross(frame.clock) * std::sin(phi);
    }
    Vec3 point(int station) const {
        return frame.foot + frame.outer_radius_mm * out(station) +
               profile.outer.s_mm[static_cast<std::size_t>(station)] * frame.inward;
    }
};

std::optional<EndCut> cutOf(const CageGeometry& cage, int member, int end) {
    const ResolvedMember& m = cage.members[static_cast<std::size_t>(member)];
    if (m.ends[static_cast<std::size_t>(end)].on == ResolvedEnd::On::nothing) return std::nullopt;
    Expected<CopeProfile> profile = jointCope(cage, member, end, kCopeStations);
    if (!profile) return std::nullopt;
    EndCut cut{copeEnd(cage, member, end), *std::move(profile), 0};
    cut.foot_mm = (cut.frame.foot - (end == 0 ? m.line.start() : m.line.end())).dot(cut.frame.inward);
    const double deepest = *std::ranges::max_element(cut.profile.outer.s_mm) + cut.foot_mm;
    if (deepest > 0.5 * m.line.length_mm()) return std::nullopt;  // no cut to draw
    return cut;
}

class Draughtsman {
public:
    Draughtsman(const CageGeometry& cage, const LineView& view)
        : cage_(cage), towards_(view.towards()), metal_(cage, view) {}

    std::vector<CageLine> draw() {
        for (std::size_t m = 0; m < cage_.members.size(); ++m) {
            now_ = {CageLine::Of::tube, static_cast<int>(m), CageLine::Kind::outline, false, {}};
            if (cage_.members[m].radius_mm() > 0) tube(static_cast<int>(m));
        }
        for (std::size_t p = 0; p < cage_.plates.size(); ++p) {
            now_ = {CageLine::Of::plate, static_cast<int>(p), CageLine::Kind::edge, false, {}};
            sheet(lookOf(cage_.plates[p]));
        }
        for (std::size_t g = 0; g < cage_.gussets.size(); ++g) {
            now_ = {CageLine::Of::gusset, static_cast<int>(g), CageLine::Kind::edge, false, {}};
            sheet(lookOf(cage_, cage_.gussets[g]));
        }
        return std::move(lines_);
    }

private:
    // ---- tubes
    void tube(int member) {
        const ResolvedMember& m = cage_.members[static_cast<std::size_t>(member)];
        const std::array<std::optional<EndCut>, 2> cuts = {cutOf(cage_, member, 0), cutOf(cage_, member, 1)};
        for (const double side : {1.0, -1.0}) limb(m, side, cuts);
        endOn(m, cuts);
        now_.kind = CageLine::Kind::edge;
        for (const int end : {0, 1}) {
            if (const auto& cut = cuts[static_cast<std::size_t>(end)]) {
                seam(m, end, *cut);
            } else if (m.ends[static_cast<std::size_t>(end)].on == ResolvedEnd::On::nothing) {
                const double station = end == 0 ? 0 : m.line.length_mm();
                circle(m.line.point(station), m.line.tangent(station), m.radius_mm(),
                       m.ends[static_cast<std::size_t>(end)].outward);
            }
        }
    }

    /// Square to the tube and to the view; nothing where the tube is seen end-on.
    std::optional<Vec3> limbNormal(const Vec3& tangent, double side) const {
        const Vec3 across = tangent.cross(towards_);
        const double size = across.norm();
        if (size < kEndOn) return std::nullopt;
        return Vec3(across * (side / size));
    }

    void limb(const ResolvedMember& m, double side, const std::array<std::optional<EndCut>, 2>& cuts) {
        LinePoints points;
        const auto flush = [&] {
            split(points);
            points.clear();
        };
        const auto put = [&](double station) {
            const std::optional<Vec3> n = limbNormal(m.line.tangent(station), side);
            if (!n) return flush();
            if (!points.empty() && points.back().out.dot(*n) < std::cos(kJump_rad)) flush();
            points.push_back({m.line.point(station) + m.radius_mm() * *n, *n});
        };
        const auto trim = [&](int end) {
            const double station = end == 0 ? 0 : m.line.length_mm();
            const std::optional<Vec3> n = limbNormal(m.line.tangent(station), side);
            const auto& cut = cuts[static_cast<std::size_t>(end)];
            return n && cut ? cut->at(*n) : 0.0;
        };
        const double from = trim(0), to = m.line.length_mm() - trim(1);
        for (const Piece& piece : m.line.pieces()) {
            const double a = std::max(from, piece.station_mm),
                         b = std::min(to, piece.station_mm + piece.length_mm);
            // A cut may leave metal beyond the end of the centreline: a straight is carried on.
            const bool first = &piece == &m.line.pieces().front(), last = &piece == &m.line.pieces().back();
            const double low = first ? from : a, high = last ? to : b;
            if (low >= high) continue;
            if (piece.kind == Piece::Kind::straight) {
                straight(piece, low, high, side, m.radius_mm(), points, flush);
            } else {
                put(low);
                bend(m, low, high, side, put, 0);
            }
        }
        flush();
    }

    template <typename Flush>
    void straight(const Piece& piece, double from, double to, double side, double radius, LinePoints& points,
                  Flush flush) {
        const std::optional<Vec3> n = limbNormal(piece.tangent, side);
        if (!n) return flush();
        if (!points.empty() && points.back().out.dot(*n) < std::cos(kJump_rad)) flush();
        const int steps = std::max(1, static_cast<int>(std::ceil((to - from) / kStep_mm)));
        for (int i = 0; i <= steps; ++i) {
            const double along = from + (to - from) * i / steps - piece.station_mm;
            points.push_back({piece.start + along * piece.tangent + radius * *n, *n});
        }
    }

    /// Finer where the outline swings round the tube.
    template <typename Put>
    void bend(const ResolvedMember& m, double from, double to, double side, Put put, int halved) {
        const std::optional<Vec3> a = limbNormal(m.line.tangent(from), side),
                                  b = limbNormal(m.line.tangent(to), side);
        const bool turns = !a || !b || a->dot(*b) < std::cos(kNormalStep_rad);
        if (halved < kMostHalvings && ((to - from > kStep_mm / 2) || (turns && to - from > 0.02))) {
            const double middle = (from + to) / 2;
            bend(m, from, middle, side, put, halved + 1);
            bend(m, middle, to, side, put, halved + 1);
            return;
        }
        put(to);
    }

    /// Where a tube runs straight at whoever looks, its outline is its round.
    void endOn(const ResolvedMember& m, const std::array<std::optional<EndCut>, 2>& cuts) {
        for (const Piece& piece : m.line.pieces()) {
            if (piece.kind == Piece::Kind::straight) {
                if (piece.tangent.cross(towards_).norm() >= kEndOn) continue;
                const bool ahead = piece.tangent.dot(towards_) > 0;
                const bool at_end = &piece == (ahead ? &m.line.pieces().back() : &m.line.pieces().front());
                if (at_end && cuts[ahead ? 1 : 0]) continue;  // its seam is drawn
                circle(ahead ? piece.end() : piece.start, piece.tangent, m.radius_mm(), Vec3::Zero());
                continue;
            }
            if (std::abs(piece.axis.dot(towards_)) > kEndOn) continue;
            const double turn =
                std::atan2(towards_.dot(piece.axis.cross(piece.tangent)), towards_.dot(piece.tangent));
            for (const double at : {turn - kPi, turn, turn + kPi})
                if (at > 1e-4 && at < piece.angle_rad - 1e-4)
                    circle(piece.point(at * piece.radius_mm), piece.tangentAt(at * piece.radius_mm),
                           m.radius_mm(), Vec3::Zero());
        }
    }

    void circle(const Vec3& centre, const Vec3& axis, double radius, const Vec3& beyond) {
        const Vec3 u = axis.unitOrthogonal(), v = axis.normalized().cross(u);
        LinePoints points;
        for (int i = 0; i <= kCircleSides; ++i) {
            const double a = 2 * kPi * i / kCircleSides;
            const Vec3 out = u * std::cos(a) + v * std::sin(a);
            points.push_back({centre + radius * out, out + beyond});
        }
        split(points);
    }

    /// The way out of whatever an end lands on.
    Vec3 outOfHosts(const ResolvedEnd& end, const Vec3& p) const {
        Vec3 best = Vec3::Zero();
        double nearest = 1e300;
        const auto host = [&](int h) {
            const ResolvedMember& m = cage_.members[static_cast<std::size_t>(h)];
            const Vec3 out = p - m.line.point(m.line.nearestStation(p));
            const double gap = std::abs(out.norm() - m.radius_mm());
            if (gap < nearest && out.squaredNorm() > 1e-12) nearest = gap, best = out.normalized();
        };
        if (end.on == ResolvedEnd::On::member && end.host >= 0) host(end.host);
        for (const int h : end.also) host(h);
        if (end.on == ResolvedEnd::On::plate && end.plate >= 0) {
            const ResolvedPlate& plate = cage_.plates[static_cast<std::size_t>(end.plate)];
            for (const CopePlane& face : planesOf(plate, facesOf(end))) {
                const double gap = std::abs(face.normal.dot(p - face.point));
                if (gap < nearest) nearest = gap, best = face.normal;
            }
        }
        return best;
    }

    void seam(const ResolvedMember& m, int end, const EndCut& cut) {
        const ResolvedEnd& e = m.ends[static_cast<std::size_t>(end)];
        LinePoints points;
        for (int i = 0; i <= cut.profile.stations; ++i) {
            const int station = i % cut.profile.stations;
            if (cut.profile.outer.missed[static_cast<std::size_t>(station)]) {
                split(points);
                points.clear();
                continue;
            }
            const Vec3 p = cut.point(station);
            // Clear of both metals: between the two ways out, farther where they are nearly against each
            // other.
            const Vec3 a = cut.out(station), b = outOfHosts(e, p), both = a + b;
            points.push_back({p, both / std::max(0.2, both.squaredNorm() / 2)});
        }
        split(points);
    }

    // ---- sheet
    /// Edges between two faces are drawn where one of them is seen.
    void sheet(const SheetLook& look) {
        for (const SheetLine& line : look.lines) {
            LinePoints points;
            for (std::size_t k = 0; k + 1 < line.points.size(); ++k) {
                const Vec3 from = line.points[k], run = line.points[k + 1] - from;
                const int steps = std::max(1, static_cast<int>(std::ceil(run.norm() / kEdgeStep_mm)));
                for (int i = k > 0 ? 1 : 0; i <= steps; ++i) {
                    const double t = static_cast<double>(i) / steps;
                    points.push_back({from + t * run, (1 - t) * line.out[k] + t * line.out[k + 1]});
                }
            }
            split(points);
        }
    }

    // ---- seen and hidden
    void split(const LinePoints& points) {
        if (points.size() < 2) return;
        std::vector<Vec3> stretch = {points[0].at};
        bool hidden = metal_.hides(points[0].looked());
        for (std::size_t i = 1; i < points.size(); ++i) {
            const bool then = metal_.hides(points[i].looked());
            if (then != hidden) {
                const Vec3 at = turningPoint(points[i - 1], points[i], hidden);
                stretch.push_back(at);
                keep(stretch, hidden);
                stretch = {at};
                hidden = then;
            }
            stretch.push_back(points[i].at);
        }
        keep(stretch, hidden);
    }

    Vec3 turningPoint(LinePoint from, LinePoint to, bool hidden) const {
        while ((to.at - from.at).norm() > kSplit_mm) {
            const LinePoint middle{(from.at + to.at) / 2, (from.out + to.out) / 2};
            (metal_.hides(middle.looked()) == hidden ? from : to) = middle;
        }
        return (from.at + to.at) / 2;
    }

    /// Without the points a straight line does not need.
    void keep(const std::vector<Vec3>& points, bool hidden) {
        double length_mm = 0;
        for (std::size_t i = 1; i < points.size(); ++i) length_mm += (points[i] - points[i - 1]).norm();
        if (length_mm < kLeast_mm) return;
        CageLine line = now_;
        line.hidden = hidden;
        line.points.push_back(points.front());
        for (std::size_t i = 1; i + 1 < points.size(); ++i) {
            const Vec3 way = points[i + 1] - line.points.back(), on = points[i] - line.points.back();
            const double length = way.norm();
            if (length < 1e-9) continue;
            skipped_ = std::max(skipped_, (on - way * (on.dot(way) / (length * length))).norm());
            if (skipped_ <= kStraight_mm) continue;
            line.points.push_back(points[i]);
            skipped_ = 0;
        }
        skipped_ = 0;
        line.points.push_back(points.back());
        lines_.push_back(std::move(line));
    }

    const CageGeometry& cage_;
    Vec3 towards_;
    Occluders metal_;
    CageLine now_;
    std::vector<CageLine> lines_;
    double skipped_ = 0;
};

}  // namespace

std::vector<CageLine> lineDrawing(const CageGeometry& cage, const LineView& view) {
    return Draughtsman(cage, view).draw();
}

}  // namespace hoopwright
