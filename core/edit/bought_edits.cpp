#include "core/edit/bought_edits.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/edit/cage_edits.h"
#include "core/edit/say_landing.h"
#include "core/fit/bring_together.h"
#include "core/geometry/distance.h"
#include "core/mesh/rigid_fit.h"
#include "core/model/end_hosts.h"
#include "core/model/sheet_shape.h"

namespace hoopwright {
namespace {

constexpr double kGrain_mm = 1e-3;  ///< finer than any tape, coarse enough to read
constexpr double kFlat = 0.05;      ///< sine under which a leg does not meet a plate

Vec3 rounded(Vec3 p) {
    for (double& x : p) x = std::round(x / kGrain_mm) * kGrain_mm;
    return p;
}

/// A tube in space: a corner for each bend, and which way its legs point from the outermost ones.
struct Laid {
    std::vector<Vec3> corners;
    std::array<Vec3, 2> outward;
    std::array<double, 2> leg_mm = {0, 0};  ///< from the outermost corners to the ends
};

Laid laidOf(const Centreline& line) {
    Laid out;
    for (const Piece& piece : line.pieces())
        if (piece.kind == Piece::Kind::bend)
            out.corners.push_back(piece.start +
                                  piece.radius_mm * std::tan(piece.angle_rad / 2) * piece.tangent);
    out.outward = {-line.tangent(0), line.tangent(line.length_mm())};
    if (out.corners.empty()) return out;
    out.leg_mm = {(line.start() - out.corners.front()).norm(), (line.end() - out.corners.back()).norm()};
    return out;
}

Laid moved(Laid laid, const Eigen::Isometry3d& by) {
    for (Vec3& corner : laid.corners) corner = by * corner;
    for (Vec3& outward : laid.outward) outward = by.linear() * outward;
    return laid;
}

/// Where a bought tube is put, and in which words.
class Laying {
public:
    Laying(const Job& job, const CageGeometry& now, std::string_view resolved) : job_(job), now_(now) {
        const int at = now.member(resolved);
        if (at >= 0) bar_ = &now.members[static_cast<std::size_t>(at)];
        if (bar_) member_ = job.cage.member(layoutId(bar_->id));
    }

    std::string why() const {
        if (!bar_ || !member_) return "It has no shape: put its path right first.";
        return bar_->line.bendCount() == 0 ? "It has no bend: it is not bought bent." : "";
    }
    const ResolvedMember& bar() const { return *bar_; }
    const Member& member() const { return *member_; }

    Expected<Member> put(const Laid& laid, const BentShape& shape) const {
        Member out = *member_;
        out.bent = shape;
        out.bend_radius_mm.reset();
        out.path.clear();
        for (const int end : {0, 1}) {
            if (end == 1)
                for (const Vec3& corner : laid.corners)
                    out.path.push_back({FixedPoint{rounded(corner)}, std::nullopt});
            const Vec3& from = end == 0 ? laid.corners.front() : laid.corners.back();
            Expected<Place3> place = endPlace(end, from, laid, shape);
            if (!place) return Reason{place.reason()};
            out.path.push_back({*std::move(place), std::nullopt});
        }
        return out;
    }

private:
    Expected<Place3> endPlace(int end, const Vec3& from, const Laid& laid, const BentShape& shape) const {
        const auto e = static_cast<std::size_t>(end);
        const Place3& was = end == 0 ? member_->path.front().place : member_->path.back().place;
        const Vec3& way = laid.outward[e];
        if (const auto* plate = std::get_if<OnPlate>(&was); plate && bar_->ends[e].plate >= 0)
            return onPlate(*plate, bar_->ends[e], from, way);
        if (const auto* landing = std::get_if<Landing>(&was)) return onHost(*landing, from, way);
        // No longer than it was bought.
        const TapedBend& bend = end == 0 ? shape.bends.front() : shape.bends.back();
        const double most = (end == 0 ? shape.straights_mm.front() : shape.straights_mm.back()) +
                            shape.bend_radius_mm * std::tan(bend.angle_rad / 2);
        return Place3(FixedPoint{rounded(from + std::min(laid.leg_mm[e], most) * way)});
    }

    Expected<Place3> onPlate(const OnPlate& was, const ResolvedEnd& end, const Vec3& from,
                             const Vec3& way) const {
        const ResolvedPlate& plate = now_.plates[static_cast<std::size_t>(end.plate)];
        const CopePlane face = planesOf(plate, {facesOf(end).front()}).front();
        const double slope = way.dot(face.normal), off = (face.point - from).dot(face.normal);
        if (std::abs(slope) < kFlat || off / slope <= 0)
            return Reason{"Its leg would not meet " + plate.name + " any more."};
        Vec2 offset = offsetOnSheet(plate, from + off / slope * way);
        for (double& x : offset) x = std::round(x / kGrain_mm) * kGrain_mm;
        return Place3(OnPlate{was.plate, offset});
    }

    Expected<Place3> onHost(const Landing& was, const Vec3& from, const Vec3& way) const {
        const int index = now_.member(landingHost(now_, was, bar_->side));
        if (index < 0) return Reason{"The bar " + was.host + " it lands on is not there."};
        const Centreline& host = now_.members[static_cast<std::size_t>(index)].line;
        const double reach = 2 * ((bar_->line.start() - bar_->line.end()).norm() + bar_->line.length_mm());
        const Nearest met = nearestToSegment(host, from, from + reach * way);
        const ResolvedMember& on = now_.members[static_cast<std::size_t>(index)];
        if (met.distance_mm > on.radius_mm() + bar_->radius_mm())
            return Reason{"Its leg would pass " + on.name + " " +
                          showLength(met.distance_mm - on.radius_mm() - bar_->radius_mm(), {job_.cage.unit}) +
                          " off."};
        Landing said = was;
        said.offset = Vec3::Zero();
        const Expected<Landing> along = saidAt(said, host, met.station_a_mm, kGrain_mm, job_.cage.unit);
        if (!along) return Reason{along.reason()};
        said = *along;
        const Expected<double> station = stationSaid(said, host, job_.cage.unit);
        if (!station) return Reason{station.reason()};
        // What is left between the host's axis and the leg's keeps the leg straight.
        const Vec3 at = host.point(*station);
        said.offset = rounded(from + (at - from).dot(way) * way - at);
        if (said.offset.norm() < 2 * kGrain_mm) said.offset.setZero();
        return Place3(said);
    }

    const Job& job_;
    const CageGeometry& now_;
    const ResolvedMember* bar_ = nullptr;
    const Member* member_ = nullptr;
};

/// At each bend its corner, and what lies a hand before it and behind it on its tangents.
std::vector<Vec3> aboutBends(const Centreline& line) {
    constexpr double kHand_mm = 100;
    std::vector<Vec3> out;
    for (const Piece& piece : line.pieces()) {
        if (piece.kind != Piece::Kind::bend) continue;
        const Vec3 corner = piece.start + piece.radius_mm * std::tan(piece.angle_rad / 2) * piece.tangent;
        out.insert(out.end(),
                   {corner, corner - kHand_mm * piece.tangent, corner + kHand_mm * piece.endTangent()});
    }
    return out;
}

/// Brings a line nearest to another. As many bends: least squares of bend by bend. Else of places counted
/// from their middles, then of each place and what is nearest to it.
Eigen::Isometry3d bringTo(const Centreline& from, const Centreline& to) {
    std::vector<PickedPair> pairs;
    const std::vector<Vec3> these = aboutBends(from), those = aboutBends(to);
    if (these.size() == those.size()) {
        for (std::size_t i = 0; i < these.size(); ++i) {
            PickedPair pair;
            pair.scan = these[i];
            pair.car = those[i];
            pairs.push_back(pair);
        }
        if (const auto fit = rigidFit(pairs, 1)) {
            Eigen::Isometry3d out = Eigen::Isometry3d::Identity();
            out.linear() = fit->placement.turn;
            out.translation() = fit->placement.shift;
            return out;
        }
    }
    return bringTogether(from, to);
}

}  // namespace

Expected<Member> movedAsBought(const Job& job, const CageGeometry& now, std::string_view resolved,
                               const Eigen::Isometry3d& by) {
    const Laying laying(job, now, resolved);
    if (std::string why = laying.why(); !why.empty()) return Reason{std::move(why)};
    if (!laying.member().bent || !laying.member().bent->good())
        return Reason{laying.bar().name + " is not bought bent."};
    return laying.put(moved(laidOf(laying.bar().line), by), *laying.member().bent);
}

Expected<Member> tapedAgain(const Job& job, const CageGeometry& now, std::string_view resolved,
                            const BentShape& shape) {
    const Laying laying(job, now, resolved);
    if (std::string why = laying.why(); !why.empty()) return Reason{std::move(why)};
    if (!shape.good()) return Reason{"That is no tube bought bent: it has no bend, or a number is wrong."};
    const Centreline own = walkBendTable(bendTable(shape), Vec3::Zero(), Vec3::UnitX(), Vec3::UnitY());
    return laying.put(moved(laidOf(own), bringTo(own, laying.bar().line)), shape);
}

BentShape shapeOf(const ResolvedMember& bar) {
    const auto tenth = [](double x) { return std::round(x * 10) / 10; };
    const auto degrees = [&](double rad) {
        return tenth(rad * 180 / std::numbers::pi) * std::numbers::pi / 180;
    };
    BentShape out;
    const BendTable table = bendTable(bar.line);
    for (const BendRow& row : table.rows) {
        out.bend_radius_mm = row.radius_mm;
        out.straights_mm.push_back(tenth(row.straight_before_mm));
        out.bends.push_back({degrees(row.angle_rad), degrees(row.rotation_rad)});
    }
    out.straights_mm.push_back(tenth(table.last_straight_mm));
    return out;
}

}  // namespace hoopwright
