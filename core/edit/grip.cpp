#include "core/edit/grip.h"

#include <algorithm>
#include <cmath>

#include "core/edit/bar_track.h"
#include "core/edit/cage_edits.h"
#include "core/edit/say_landing.h"
#include "core/geometry/distance.h"

namespace hoopwright {
namespace {

/// Sine under which two directions do not span a plane that a hand could trust.
constexpr double kSpans = 0.05;
/// Of a bar's length: where a second grip of the whole of it is clear of the first.
constexpr double kOnLeg = 0.2;

bool isFree(const Place3& place) {
    return std::holds_alternative<FixedPoint>(place) || std::holds_alternative<AtCarPoint>(place);
}

Vec3 unitOr(const Vec3& v, const Vec3& other) {
    return v.norm() > kSpans ? Vec3(v.normalized()) : other;
}

/// The plane of a point and its neighbours; of a free end, that of the bend next to it; level if there is
/// none.
Vec3 planeAbout(const std::vector<Vec3>& path, std::size_t i) {
    if (path.size() < 3) return Vec3::UnitZ();
    const std::size_t mid = std::clamp<std::size_t>(i, 1, path.size() - 2);
    const Vec3 in = (path[mid] - path[mid - 1]).normalized(), out = (path[mid + 1] - path[mid]).normalized();
    return unitOr(in.cross(out), Vec3::UnitZ());
}

class BarGrips {
public:
    BarGrips(const Job& job, const CageGeometry& now, const ResolvedMember& bar, const Member& member)
        : now_(now), bar_(bar), member_(member) {
        for (std::size_t i = 0; i < member.path.size(); ++i)
            path_.push_back(pathPointAt(job, now, bar.id, i));
    }

    std::vector<Grip> all() {
        for (std::size_t i = 0; i < path_.size(); ++i) point(i);
        nodes();
        whole();
        lean();
        return std::move(grips_);
    }

private:
    Grip& add(Grip::Kind kind, const Vec3& at) {
        grips_.push_back({});
        grips_.back().kind = kind;
        grips_.back().part = bar_.id;
        grips_.back().at = at;
        return grips_.back();
    }

    void point(std::size_t i) {
        const Place3& place = member_.path[i].place;
        if (const auto* landing = std::get_if<Landing>(&place)) {
            const std::string host = landingHost(now_, *landing, bar_.side);
            if (host.empty()) return;
            Grip& grip = add(Grip::Kind::landing, path_[i]);
            grip.point = i;
            grip.host = host;
        } else if (isFree(place)) {
            Grip& grip = add(Grip::Kind::corner, path_[i]);
            grip.point = i;
            grip.normal = planeAbout(path_, i);
        }
    }

    void nodes() {
        const int self = now_.member(bar_.id);
        for (std::size_t n = 0; n < now_.nodes.size(); ++n) {
            double station = 0;
            int count = 0;
            for (const int j : now_.nodes[n].joints) {
                const Joint& joint = now_.joints[static_cast<std::size_t>(j)];
                if (joint.host != self) continue;
                station += joint.host_station_mm;
                ++count;
            }
            if (count < 2) continue;  // one bar alone is taken by its own end
            Grip& grip = add(Grip::Kind::node, bar_.line.point(station / count));
            grip.point = n;
            grip.host = bar_.id;
        }
    }

    void whole() {
        const Landing* first = nullptr;
        Vec3 lands = Vec3::Zero();
        for (std::size_t i = 0; i < member_.path.size(); ++i) {
            if (std::holds_alternative<OnPlate>(member_.path[i].place) && !member_.bent) return;
            const auto* landing = std::get_if<Landing>(&member_.path[i].place);
            if (!landing || first) continue;
            first = landing;
            lands = path_[i];
        }
        const Vec3 at = bar_.line.point(bar_.line.length_mm() / 2);
        const Vec3 along = (path_.back() - path_.front()).normalized();
        Vec3 side = Vec3::UnitZ();
        if (first) {
            const int host = now_.member(landingHost(now_, *first, bar_.side));
            if (host < 0) return;
            const Centreline& line = now_.members[static_cast<std::size_t>(host)].line;
            // Where it lands: the middle of a cross bar may be nearer to the top of its hoop.
            side = line.tangent(line.nearestStation(lands));
        }
        add(Grip::Kind::bar, at).normal =
            unitOr(along.cross(side), unitOr(along.cross(Vec3::UnitX()), Vec3::UnitY()));
        if (!member_.bent || first) return;
        // It is not bent to where it is pulled: fore and aft it is taken on a leg, up and down at its middle.
        Grip& level = add(Grip::Kind::bar, bar_.line.point(kOnLeg * bar_.line.length_mm()));
        level.normal = Vec3::UnitZ();
        level.point = 1;
    }

    void lean() {
        if (member_.path.size() < 4) return;
        for (std::size_t i = 1; i + 1 < member_.path.size(); ++i)
            if (!isFree(member_.path[i].place)) return;
        for (const MemberPoint* end : {&member_.path.front(), &member_.path.back()})
            if (std::holds_alternative<Landing>(end->place)) return;
        const Vec3 axis = path_.back() - path_.front();
        if (axis.norm() < 1) return;
        Grip& grip = add(Grip::Kind::lean, bar_.line.point(bar_.line.length_mm() / 2));
        grip.normal = axis.normalized();
        grip.pivot = path_.front();
    }

    const CageGeometry& now_;
    const ResolvedMember& bar_;
    const Member& member_;
    std::vector<Vec3> path_;
    std::vector<Grip> grips_;
};

}  // namespace

std::vector<Grip> gripsOf(const Job& job, const CageGeometry& now, std::string_view part) {
    if (const int at = now.member(part); at >= 0) {
        const ResolvedMember& bar = now.members[static_cast<std::size_t>(at)];
        const Member* member = job.cage.member(layoutId(part));
        if (!member || bar.line.empty()) return {};
        return BarGrips(job, now, bar, *member).all();
    }
    for (const ResolvedPlate& plate : now.plates) {
        if (plate.id != part) continue;
        Grip grip;
        grip.kind = Grip::Kind::plate;
        grip.part = plate.id;
        grip.at = plate.at;
        grip.normal = plate.axes.col(2);
        return {grip};
    }
    return {};
}

Vec3 placeUnder(const CageGeometry& now, const Grip& grip, const Vec3& from, const Vec3& way) {
    if (grip.kind == Grip::Kind::landing || grip.kind == Grip::Kind::node) {
        const int host = now.member(grip.host);
        if (host < 0) return grip.at;
        const double reach = 2 * ((grip.at - from).norm() + 1000);
        return nearestToSegment(now.members[static_cast<std::size_t>(host)].line, from, from + reach * way)
            .on_a;
    }
    if (grip.kind == Grip::Kind::lean) {
        // On the circle it turns on: the plane of that circle, then out to its radius.
        const Vec3 middle = grip.pivot + (grip.at - grip.pivot).dot(grip.normal) * grip.normal;
        const double slope = way.dot(grip.normal);
        Vec3 place = std::abs(slope) > kSpans ? Vec3(from + (middle - from).dot(grip.normal) / slope * way)
                                              : Vec3(from + (grip.at - from).dot(way) * way);
        place -= (place - middle).dot(grip.normal) * grip.normal;
        const double radius = (grip.at - middle).norm();
        return middle + radius * unitOr(place - middle, unitOr(grip.at - middle, Vec3::UnitZ()));
    }
    if (grip.kind == Grip::Kind::bar) {
        const int self = now.member(grip.part);
        if (self < 0) return grip.at;
        const ResolvedMember& bar = now.members[static_cast<std::size_t>(self)];
        if (!bar.bought) return nearestOnTrack(grip.at, acrossBar(now, grip), from, way);
    }
    const double slope = way.dot(grip.normal);
    if (std::abs(slope) < kSpans) return grip.at;
    return from + (grip.at - from).dot(grip.normal) / slope * way;
}

}  // namespace hoopwright
