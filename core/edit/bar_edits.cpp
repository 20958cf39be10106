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

/// Lands what landed on a bar anew: its length, and with it every distance, is another one. `hostOf` gives
/// the layout id of the bar a place is on now.
template <class HostOf>
void landAnew(Job& job, const std::vector<OnBar>& landed, bool host_mirrored, const HostOf& hostOf) {
    const CageGeometry now = resolve(job);
    for (const OnBar& one : landed) {
        Member& branch = *findMember(job.cage, one.member);
        auto& landing = std::get<Landing>(branch.path[one.point].place);
        std::string host = hostOf(one.at);
        if (host_mirrored) host += sideOf(landing.host) == Side::right ? ".right" : ".left";
        Landing said = landingNear(now, host, one.at, branch.mirrored);
        said.offset = landing.offset;
        said.also = landing.also;
        landing = said;
    }
}

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
    landAnew(job, landed, bar->id != kept,
             [&](const Vec3& place) { return bar->line.nearestStation(place) <= station ? kept : second; });
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

Expected<std::string> joinBars(Job& job, const CageGeometry& now, std::string_view first,
                               std::string_view second) {
    Member* kept = findMember(job.cage, first);
    Member* other = findMember(job.cage, second);
    const ResolvedMember* a = kept ? firstOf(now, *kept) : nullptr;
    const ResolvedMember* b = other ? firstOf(now, *other) : nullptr;
    if (!a) return notThere(first);
    if (!b) return notThere(second);
    if (a == b) return Reason{"A bar cannot be joined to itself."};
    for (const Member* one : {kept, other})
        if (one->bent)
            return Reason{shownName(*one) + " is bought bent: its length and bends are as it came."};
    if (kept->mirrored != other->mirrored)
        return Reason{a->name + " and " + b->name + ": a pair cannot be joined to a single bar."};
    if (kept->stock != other->stock)
        return Reason{a->name + " and " + b->name + " are of two tubes; one bar is one tube."};
    // Which two ends meet: halves of a cut bar both end on the axis of what they were cut to.
    std::array<std::size_t, 2> ends{};
    double least = a->section.od_mm + b->section.od_mm;
    bool meet = false;
    for (const std::size_t i : {std::size_t{0}, std::size_t{1}})
        for (const std::size_t j : {std::size_t{0}, std::size_t{1}}) {
            const double apart = (a->ends[i].at - b->ends[j].at).norm();
            if (apart >= least) continue;
            least = apart;
            ends = {i, j};
            meet = true;
        }
    if (!meet) return Reason{"No end of " + a->name + " meets an end of " + b->name + "."};
    constexpr double kInLine_rad = 0.5 * M_PI / 180;
    const Vec3 out = a->ends[ends[0]].outward, in = -b->ends[ends[1]].outward;
    const bool in_line = std::atan2(out.cross(in).norm(), out.dot(in)) < kInLine_rad;
    const Vec3 corner = (a->ends[ends[0]].at + b->ends[ends[1]].at) / 2;
    std::vector<OnBar> landed = landingsOn(job, now, kept->id);
    for (const OnBar& one : landingsOn(job, now, other->id)) landed.push_back(one);
    std::erase_if(landed,
                  [&](const OnBar& one) { return one.member == kept->id || one.member == other->id; });

    std::vector<MemberPoint> path = kept->path, rest = other->path;
    if (ends[0] == 0) std::ranges::reverse(path);
    if (ends[1] == 1) std::ranges::reverse(rest);
    path.pop_back();
    if (!in_line) path.push_back({FixedPoint{corner}, std::nullopt});
    path.insert(path.end(), rest.begin() + 1, rest.end());
    if (ends[0] == 0) std::ranges::reverse(path);
    for (const MemberPoint& point : path)
        if (const auto* landing = std::get_if<Landing>(&point.place);
            landing && (layoutId(landing->host) == first || layoutId(landing->host) == second))
            return Reason{"One of the two lands on the other; only bars that meet end on end are joined."};
    const std::string id = kept->id, gone = other->id;
    const bool is_pair = kept->mirrored;
    kept->path = std::move(path);
    // A name that says it is half of something says so no longer.
    if (const std::size_t comma = kept->name.rfind(", ");
        comma != std::string::npos && kept->name.ends_with(" half"))
        kept->name.resize(comma);
    std::erase_if(job.cage.members, [&](const Member& member) { return member.id == gone; });
    renamePart(job, gone, id);
    landAnew(job, landed, is_pair, [&](const Vec3&) { return id; });
    return id;
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
