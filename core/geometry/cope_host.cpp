#include "core/geometry/cope_host.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace hoopwright {
namespace {

/// Less than this between the axes and the branch runs along its host (about 3 degrees) [sine].
constexpr double kAlong = 0.05;
constexpr double kInfinite = std::numeric_limits<double>::infinity();

/// Stations of the host a branch of this size and angle can touch, with room to spare.
Stretch nearBranch(const CopeEnd& end, const CopeTube& tube, double sine) {
    const double reach = 2 * (tube.radius_mm + end.outer_radius_mm) / std::max(sine, 0.2) +
                         (end.foot - tube.line->point(tube.station_mm)).norm();
    return {tube.station_mm - reach, tube.station_mm + reach};
}

/// Bends of more than half a turn are taken in two.
void addBend(BentHost& host, const CopeEnd& end, const Piece& bend, double radius_mm,
             const BendStretch& part) {
    if (part.to_mm - part.from_mm > bend.radius_mm * std::numbers::pi * (1 + 1e-12)) {
        const double middle = 0.5 * (part.from_mm + part.to_mm);
        addBend(host, end, bend, radius_mm, {part.from_mm, middle, part.starts_tube, false});
        addBend(host, end, bend, radius_mm, {middle, part.to_mm, false, part.ends_tube});
        return;
    }
    host.bends.emplace_back(end, bend, radius_mm, part);
}

/// The straight that carries on a bend at the end of a tube; all of it is past the end.
StraightHost carriedOn(const CopeEnd& end, const Vec3& from, const Vec3& along, double radius_mm) {
    return StraightHost(end, from, along, radius_mm, 0, 0);
}

BentHost bentHost(const CopeEnd& end, const Centreline& line, double radius_mm, const Stretch& part) {
    BentHost host;
    host.usual_mm = radius_mm + end.outer_radius_mm;
    for (const Piece& piece : line.pieces()) {
        const double from = std::max(part.from_mm - piece.station_mm, 0.0);
        const double to = std::min(part.to_mm - piece.station_mm, piece.length_mm);
        if (from >= to) continue;
        if (piece.kind == Piece::Kind::bend) {
            const bool starts = &piece == &line.pieces().front(), ends = &piece == &line.pieces().back();
            addBend(host, end, piece, radius_mm,
                    {from, to, starts && from == 0, ends && to == piece.length_mm});
        } else if (end.inward.cross(piece.tangent).norm() >= kAlong) {
            host.straights.emplace_back(end, piece.start, piece.tangent, radius_mm, 0, piece.length_mm);
        }
    }
    const Piece& first = line.pieces().front();
    const Piece& last = line.pieces().back();
    if (part.from_mm < 0 && first.kind == Piece::Kind::bend &&
        end.inward.cross(first.tangent).norm() >= kAlong) {
        host.straights.push_back(carriedOn(end, first.start, first.tangent, radius_mm));
    }
    if (part.to_mm > line.length_mm() && last.kind == Piece::Kind::bend &&
        end.inward.cross(last.endTangent()).norm() >= kAlong) {
        host.straights.push_back(carriedOn(end, last.end(), last.endTangent(), radius_mm));
    }
    return host;
}

std::optional<PreparedHost> preparedTube(const CopeEnd& end, const CopeTube& tube) {
    const double sine = end.inward.cross(tube.line->tangent(tube.station_mm)).norm();
    if (sine < kAlong) return std::nullopt;
    const Stretch part = nearBranch(end, tube, sine);
    const Piece& piece = tube.line->pieceAt(std::clamp(tube.station_mm, 0.0, tube.line->length_mm()));
    const bool first = &piece == &tube.line->pieces().front();
    const bool last = &piece == &tube.line->pieces().back();
    const bool alone = (first || part.from_mm >= piece.station_mm) &&
                       (last || part.to_mm <= piece.station_mm + piece.length_mm);
    if (piece.kind == Piece::Kind::straight && alone) {
        return StraightHost(end, piece.start, piece.tangent, tube.radius_mm, first ? 0 : -kInfinite,
                            last ? piece.length_mm : kInfinite);
    }
    return bentHost(end, *tube.line, tube.radius_mm, part);
}

}  // namespace

const Meeting& outerOf(const Meeting& a, const Meeting& b) {
    if (a.met() != b.met()) return a.met() ? a : b;
    if (a.met()) return a.s_mm >= b.s_mm ? a : b;
    return a.gap_mm <= b.gap_mm ? a : b;
}

void MeetingRow::set(size_t i, const Meeting& m) {
    s_mm[i] = m.s_mm;
    cosine[i] = m.cosine;
    if (gap_mm.empty() && !m.met()) gap_mm.assign(size(), 0);
    if (!gap_mm.empty()) gap_mm[i] = m.gap_mm;
}

MeetingRow MeetingRow::outerOf(const MeetingRow& a, const MeetingRow& b) {
    MeetingRow outer(a.size());
    for (size_t i = 0; i < outer.size(); ++i) outer.set(i, hoopwright::outerOf(a.at(i), b.at(i)));
    return outer;
}

PlaneHost::PlaneHost(const CopeEnd& end, const CopePlane& plane)
    : height_(Swing::of(end, plane.point, plane.normal)), climb_(end.inward.dot(plane.normal)) {
    for (const CopeRim& rim : plane.rims)
        rims_.push_back({Swing::of(end, rim.point, rim.out), end.inward.dot(rim.out)});
}

Meeting PlaneHost::meet(double radius_mm, const Turn& turn) const {
    Meeting m{-height_.at(radius_mm, turn) / climb_};
    for (const Rim& rim : rims_) {
        const double past = rim.off.at(radius_mm, turn) + m.s_mm * rim.rate;
        if (past > kTouching_mm) m.gap_mm = std::max(m.gap_mm, past);
    }
    if (m.met()) m.cosine = -height_.radial(turn);
    return m;
}

Meeting BentHost::meet(double radius_mm, const Turn& turn, double guess_mm) const {
    Meeting best{0, kInfinite};
    for (const StraightHost& straight : straights) best = outerOf(best, straight.meet(radius_mm, turn));
    for (const BendHost& bend : bends) {
        const double met_mm = best.met() ? best.s_mm : -kInfinite;
        best = outerOf(best, bend.meet(radius_mm, turn, {guess_mm, met_mm}));
    }
    return best;
}

/// The guess for a station is the parabola through the last three.
MeetingRow BentHost::row(double radius_mm, const StationTable& table) const {
    MeetingRow row(table.size());
    double last = usual_mm, slope = 0, bend = 0;
    for (size_t i = 0; i < table.size(); ++i) {
        const Meeting m = meet(radius_mm, table.at(i), last + slope + bend);
        row.set(i, m);
        const double rise = m.s_mm - last;
        bend = i < 2 ? 0 : rise - slope;
        slope = i < 1 ? 0 : rise;
        last = m.s_mm;
    }
    return row;
}

std::optional<PreparedHost> prepared(const CopeEnd& end, const CopeHost& host) {
    if (const auto* tube = std::get_if<CopeTube>(&host)) return preparedTube(end, *tube);
    const CopePlane& plane = std::get<CopePlane>(host);
    if (end.inward.dot(plane.normal) < kAlong) return std::nullopt;
    return PlaneHost(end, plane);
}

Meeting meet(const PreparedHost& host, double radius_mm, const Turn& turn) {
    return std::visit([&](const auto& each) { return each.meet(radius_mm, turn); }, host);
}

MeetingRow meetAll(const PreparedHost& host, double radius_mm, const StationTable& table) {
    if (const auto* straight = std::get_if<StraightHost>(&host)) return straight->row(radius_mm, table);
    if (const auto* bent = std::get_if<BentHost>(&host)) return bent->row(radius_mm, table);
    MeetingRow row(table.size());
    for (size_t i = 0; i < table.size(); ++i) row.set(i, meet(host, radius_mm, table.at(i)));
    return row;
}

}  // namespace hoopwright
