#include "core/edit/bar_edits.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "core/edit/cage_edits.h"
#include "core/edit/new_bar.h"
#include "core/geometry/distance.h"
#include "core/model/resolve.h"

namespace hoopwright {
namespace {

constexpr double kReach_mm = 3000, kPast_mm = 20;

const ResolvedMember* resolvedBar(const CageGeometry& now, std::string_view id) {
    const int at = now.member(id);
    if (at < 0 || now.members[static_cast<std::size_t>(at)].line.empty()) return nullptr;
    return &now.members[static_cast<std::size_t>(at)];
}

/// The bar itself, or the left one of a pair.
const ResolvedMember* firstOf(const CageGeometry& now, const Member& member) {
    return resolvedBar(now, resolvedIds(member.id, member.mirrored).front());
}

Reason notThere(std::string_view id) {
    return Reason{"There is no bar " + std::string(id) + " in the cage."};
}

struct OnBar {
    std::string member;
    std::size_t point;
    Vec3 at;
};

/// Landings on a bar, with the places on it.
std::vector<OnBar> landingsOn(const Job& job, const CageGeometry& now, const std::string& id) {
    std::vector<OnBar> out;
    for (const Member& member : job.cage.members)
        for (std::size_t i = 0; i < member.path.size(); ++i) {
            const auto* landing = std::get_if<Landing>(&member.path[i].place);
            if (!landing || layoutId(landing->host) != id) continue;
            const std::string resolved = resolvedIds(member.id, member.mirrored).front();
            out.push_back({member.id, i, pathPointAt(job, now, resolved, i) - landing->offset});
        }
    return out;
}

}  // namespace

Expected<std::string> splitBar(Job& job, const CageGeometry& now, std::string_view id,
                               std::string_view through) {
    Member* member = findMember(job.cage, id);
    const ResolvedMember* bar = member ? firstOf(now, *member) : nullptr;
    const ResolvedMember* whole = resolvedBar(now, through);
    if (!bar) return notThere(id);
    if (!whole) return notThere(through);
    if (bar->layout == whole->layout) return Reason{"A bar cannot be cut to itself."};
    if (member->bent)
        return Reason{bar->name + " is bought bent: bend it here first, or let it run through."};
    const Nearest meets = nearest(bar->line, whole->line);
    if (meets.distance_mm > bar->radius_mm() + whole->radius_mm())
        return Reason{bar->name + " does not cross " + whole->name + "."};
    const double station = meets.station_a_mm, length = bar->line.length_mm();
    if (station < bar->radius_mm() || station > length - bar->radius_mm())
        return Reason{bar->name + " only ends at " + whole->name + "; there is nothing to cut."};
    const std::vector<OnBar> landed = landingsOn(job, now, member->id);
    const Landing cut = landingNear(now, through, meets.on_b, member->mirrored);
    Member first = *member, last = *member;
    last.id = freeId(job.cage, member->id + "_second");
    first.name = shownName(*member) + ", first half";
    last.name = shownName(*member) + ", second half";
    first.path.clear();
    last.path.clear();
    for (std::size_t i = 0; i < member->path.size(); ++i) {
        const double at = bar->line.nearestStation(pathPointAt(job, now, bar->id, i));
        (at < station ? first : last).path.push_back(member->path[i]);
    }
    first.path.push_back({cut, std::nullopt});
    last.path.insert(last.path.begin(), {cut, std::nullopt});
    const std::string second = last.id, kept = first.id;
    const auto at = job.cage.members.begin() + (member - job.cage.members.data());
    *at = std::move(first);
    job.cage.members.insert(at + 1, std::move(last));
    // What landed on it is said anew: its length, and with it every distance, is another one.
    const CageGeometry halves = resolve(job);
    for (const OnBar& one : landed) {
        Member& branch = *findMember(job.cage, one.member);
        auto& landing = std::get<Landing>(branch.path[one.point].place);
        const std::string host = bar->line.nearestStation(one.at) <= station ? kept : second;
        const Side side = sideOf(landing.host);
        std::string resolved = host;
        if (bar->id != kept) resolved += side == Side::right ? ".right" : ".left";
        Landing said = landingNear(halves, resolved, one.at, branch.mirrored);
        said.offset = landing.offset;
        said.also = landing.also;
        landing = said;
    }
    return second;
}

Expected<std::vector<std::string>> crossBar(Job& job, const CageGeometry& now, std::string_view id) {
    const Member* member = job.cage.member(id);
    const ResolvedMember* bar = member ? firstOf(now, *member) : nullptr;
    if (!bar) return notThere(id);
    std::array<const ResolvedMember*, 2> hosts{};
    for (std::size_t end = 0; end < 2; ++end) {
        if (bar->ends[end].on != ResolvedEnd::On::member)
            return Reason{bar->name + " does not stand between two bars, so there is no other way across."};
        hosts[end] = &now.members[static_cast<std::size_t>(bar->ends[end].host)];
    }
    const Vec3 from = bar->line.start(), to = bar->line.end();
    const auto placeOn = [&](std::size_t end) -> std::optional<Vec3> {
        const Centreline& host = hosts[end]->line;
        const Vec3 &own = end == 0 ? from : to, &other = end == 0 ? to : from;
        if (from.y() * to.y() < 0) return host.point(host.nearestStation(mirrored(own)));
        const int axis = std::abs(from.z() - to.z()) > std::abs(from.x() - to.x()) / 4 ? 2 : 0;
        const std::vector<double> stations = host.crossings(other[axis] * Vec3::Unit(axis), Vec3::Unit(axis));
        if (stations.empty()) return std::nullopt;
        const double near = host.nearestStation(own);
        return host.point(
            *std::ranges::min_element(stations, {}, [&](double s) { return std::abs(s - near); }));
    };
    const auto first = placeOn(0), last = placeOn(1);
    if (!first || !last)
        return Reason{"The bars " + bar->name + " stands between do not reach as far the other way."};
    const Nearest crossing = nearestToSegment(bar->line, *first, *last);
    constexpr double kMissesBy_mm = 60;
    if (crossing.distance_mm > kMissesBy_mm || (*first - from).norm() < bar->section.od_mm ||
        (*first - to).norm() < bar->section.od_mm)
        return Reason{"The other way across would not cross " + bar->name + "."};
    Member half = *member;
    half.note.clear();
    const std::string name = shownName(*member);
    std::vector<std::string> made;
    for (const std::size_t end : {std::size_t{0}, std::size_t{1}}) {
        half.id = freeId(job.cage, std::string(id) + "_cross");
        half.name = name + ", other way, " + (end == 0 ? "first half" : "second half");
        half.path = {
            {landingNear(now, hosts[end]->id, end == 0 ? *first : *last, member->mirrored), std::nullopt},
            {landingNear(now, bar->id, crossing.on_a, member->mirrored), std::nullopt}};
        made.push_back(half.id);
        const auto at = std::ranges::find(job.cage.members, std::string(id), &Member::id);
        job.cage.members.insert(at + 1 + static_cast<std::ptrdiff_t>(end), half);
        member = job.cage.member(id);
    }
    return made;
}

Expected<std::string> extendBar(Job& job, const CageGeometry& now, std::string_view resolved, int end) {
    const ResolvedMember* bar = resolvedBar(now, resolved);
    Member* member = findMember(job.cage, layoutId(resolved));
    if (!bar || !member) return notThere(resolved);
    const ResolvedEnd& from = bar->ends[static_cast<std::size_t>(end)];
    const ResolvedMember* best = nullptr;
    Vec3 place = Vec3::Zero();
    double least = kReach_mm;
    for (const ResolvedMember& other : now.members) {
        if (other.layout == bar->layout || other.line.empty()) continue;
        const Nearest meets = nearestToSegment(other.line, from.at + kPast_mm * from.outward,
                                               from.at + kReach_mm * from.outward);
        const double along = (meets.on_b - from.at).dot(from.outward);
        if (meets.distance_mm > other.radius_mm() || along >= least) continue;
        least = along;
        best = &other;
        place = meets.on_a;
    }
    if (!best)
        return Reason{"There is no bar ahead of that end of " + bar->name + " within " +
                      std::to_string(static_cast<int>(kReach_mm / 1000)) + " m."};
    const bool turned = member->mirrored && bar->side == Side::right;
    const std::string host = turned ? otherSide(best->id) : best->id;
    MemberPoint& point = end == 0 ? member->path.front() : member->path.back();
    point.place = landingNear(now, host, turned ? mirrored(place) : place, member->mirrored);
    return best->id;
}

}  // namespace hoopwright
