#include "core/edit/snap.h"

#include <algorithm>
#include <cmath>

#include "core/edit/bar_track.h"
#include "core/edit/cage_edits.h"
#include "core/edit/say_landing.h"
#include "core/geometry/distance.h"

namespace hoopwright {
namespace {

/// A bar whose line meets its host no worse than this is called parallel.
constexpr double kMeets_mm = 1.0;
/// Within this the earlier of two reasons is told.
constexpr double kSame_mm = 0.05;
constexpr double kLong_mm = 4000;
/// A bar that is level and square at once is called level.
constexpr int kLevelFirst[] = {2, 0, 1};

int mainAxis(const Vec3& way) {
    int axis = 0;
    way.cwiseAbs().maxCoeff(&axis);
    return axis;
}

/// What it is called when two ends of a bar that runs along `runs` have coordinate `same` in common.
const char* evenness(int runs, int same) {
    if (same == 2) return "level";
    if (runs == 2) return same == 0 ? "plumb, seen from the side" : "plumb, seen from ahead";
    return runs == 0 ? "straight along the car" : "square across the car";
}

class Snapper {
public:
    Snapper(const Job& job, const CageGeometry& now, const Grip& grip, const Vec3& place, double reach_mm)
        : job_(job), now_(now), grip_(grip), place_(place), reach_(reach_mm) {}

    std::optional<Snap> best() {
        switch (grip_.kind) {
            case Grip::Kind::landing:
                landing();
                break;
            case Grip::Kind::node:
                alongHost(-1);
                break;
            case Grip::Kind::corner:
                corner();
                break;
            case Grip::Kind::bar:
                bar();
                break;
            case Grip::Kind::lean:
                upright();
                break;
            case Grip::Kind::plate:
                plate();
                break;
        }
        return std::move(best_);
    }

private:
    const ResolvedMember* resolved(std::string_view id) const {
        const int at = now_.member(id);
        return at < 0 ? nullptr : &now_.members[static_cast<std::size_t>(at)];
    }

    /// `whole`: it says the whole place, not one coordinate of it, and wins from farther off.
    void offer(const Vec3& at, const std::string& why, bool whole = false) {
        const double away = (at - place_).norm();
        if (!(away <= reach_)) return;
        if (best_is_whole_ && !whole) return;
        if (best_ && whole && !best_is_whole_) best_.reset();
        best_is_whole_ = whole;
        if (best_ && away > (best_->at - place_).norm() - kSame_mm) return;
        best_ = Snap{at, why};
    }

    /// Where the coordinate of a place on the host is this.
    void offerCrossing(const Centreline& host, int axis, double value, const std::string& why) {
        const Vec3 n = Vec3::Unit(axis);
        for (const double station : host.crossings(value * n, n)) offer(host.point(station), why);
    }

    /// Where others land on it and where it is even in itself. @param but  layout member that does not count
    void alongHost(int but) {
        const int self = now_.member(grip_.host);
        if (self < 0) return;
        const Centreline& host = now_.members[static_cast<std::size_t>(self)].line;
        for (const Joint& joint : now_.joints) {
            const ResolvedMember& branch = now_.members[static_cast<std::size_t>(joint.branch)];
            if (joint.host != self || branch.layout == but || isOfNode(joint)) continue;
            offer(host.point(joint.host_station_mm), "where " + branch.name + " lands");
        }
        for (const Piece& piece : host.pieces()) {
            if (piece.kind == Piece::Kind::straight)
                offer(piece.point(piece.length_mm / 2), "middle of the straight");
            else
                for (const double end : {0.0, piece.length_mm}) offer(piece.point(end), "end of the bend");
        }
        offerCrossing(host, 1, 0, "middle of the car");
    }

    bool isOfNode(const Joint& joint) const {
        return grip_.kind == Grip::Kind::node && joint.node == static_cast<int>(grip_.point);
    }

    void landing() {
        const ResolvedMember* own = resolved(grip_.part);
        const ResolvedMember* on = resolved(grip_.host);
        const Member* member = job_.cage.member(layoutId(grip_.part));
        if (!own || !on || !member) return;
        const bool first = grip_.point == 0;
        const std::size_t next = first ? 1 : grip_.point - 1;
        const Vec3 other = pathPointAt(job_, now_, own->id, next);
        const Centreline& host = on->line;
        alongHost(own->layout);
        const int runs = mainAxis(other - place_);
        for (const int same : kLevelFirst)
            if (same != runs) offerCrossing(host, same, other[same], evenness(runs, same));
        const double foot = host.nearestStation(other);
        if (foot > kMeets_mm && foot < host.length_mm() - kMeets_mm)
            offer(host.point(foot), "square to " + on->name);
        for (const ResolvedMember& like : now_.members) {
            if (like.layout == own->layout || like.role != own->role || like.line.empty()) continue;
            const Vec3 way = (like.line.end() - like.line.start()).normalized();
            const Nearest meets = nearestToSegment(host, other - kLong_mm * way, other + kLong_mm * way);
            if (meets.distance_mm < kMeets_mm) offer(meets.on_a, "parallel to " + like.name);
        }
    }

    /// In the plane of the grip, the least way to where a coordinate is this.
    void offerEven(int axis, double value, const std::string& why) {
        const Vec3 n = grip_.normal;
        const Vec3 along = Vec3::Unit(axis) - n[axis] * n;
        constexpr double kInPlane = 0.1;
        if (along.squaredNorm() < kInPlane) return;
        offer(place_ + (value - place_[axis]) / along.squaredNorm() * along, why);
    }

    void corner() {
        const Member* member = job_.cage.member(layoutId(grip_.part));
        if (!member) return;
        const std::size_t count = member->path.size(), i = grip_.point;
        const auto at = [&](std::size_t k) { return pathPointAt(job_, now_, grip_.part, k); };
        if (!member->mirrored && 2 * i + 1 != count) {
            const Vec3 like = mirrored(at(count - 1 - i));
            if (std::abs((like - grip_.at).dot(grip_.normal)) < kMeets_mm)
                offer(like, "alike on both sides", true);
        }
        for (const std::size_t k : {i - 1, i + 1}) {
            if (k >= count) continue;
            const Vec3 next = at(k);
            const int runs = mainAxis(next - place_);
            for (const int same : kLevelFirst)
                if (same != runs) offerEven(same, next[same], evenness(runs, same));
        }
        offerEven(1, 0, "middle of the car");
    }

    void bar() {
        const ResolvedMember* own = resolved(grip_.part);
        if (!own) return;
        const Vec3 across = acrossBar(now_, grip_);
        for (const ResolvedEnd& end : own->ends) {
            if (end.on != ResolvedEnd::On::member) continue;
            for (const Joint& joint : now_.joints) {
                const ResolvedMember& branch = now_.members[static_cast<std::size_t>(joint.branch)];
                if (joint.host != end.host || branch.layout == own->layout) continue;
                const Vec3 there =
                    now_.members[static_cast<std::size_t>(end.host)].line.point(joint.host_station_mm);
                offer(grip_.at + (there - end.at).dot(across) * across, "where " + branch.name + " lands");
            }
        }
    }

    void upright() {
        Vec3 up = Vec3::UnitZ() - grip_.normal.z() * grip_.normal;
        if (up.norm() < 0.1) return;
        const Vec3 out = grip_.at - grip_.pivot;
        const Vec3 along = out.dot(grip_.normal) * grip_.normal;
        offer(grip_.pivot + along + (out - along).norm() * up.normalized(), "upright");
    }

    void plate() {
        for (const ResolvedPlate& other : now_.plates) {
            if (layoutId(other.id) == layoutId(grip_.part)) continue;
            offerEven(0, other.at.x(), "in line with " + other.name);
            if ((other.at.y() > 0) == (grip_.at.y() > 0))
                offerEven(1, other.at.y(), "in line with " + other.name);
        }
        for (const FrameRail& rail : job_.car.rails)
            for (std::size_t i = 0; i + 1 < rail.line.size(); ++i) overRail(rail.line[i], rail.line[i + 1]);
    }

    void overRail(const Vec3& from, const Vec3& to) {
        const Vec3 n = grip_.normal;
        const Vec3 way = (to - from) - (to - from).dot(n) * n;
        if (way.norm() < 1) return;
        Vec3 off = from - place_;
        off -= off.dot(n) * n;
        const double share = -off.dot(way) / way.squaredNorm();
        if (share < 0 || share > 1) return;
        offer(place_ + off + share * way, "over the rail");
    }

    const Job& job_;
    const CageGeometry& now_;
    const Grip& grip_;
    const Vec3 place_;
    const double reach_;
    std::optional<Snap> best_;
    bool best_is_whole_ = false;
};

}  // namespace

std::optional<Snap> snapped(const Job& job, const CageGeometry& now, const Grip& grip, const Vec3& place,
                            double reach_mm) {
    return Snapper(job, now, grip, place, reach_mm).best();
}

}  // namespace hoopwright
