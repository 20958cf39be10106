#include "core/edit/new_bar.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "core/edit/cage_edits.h"
#include "core/edit/hand_grain.h"
#include "core/edit/say_landing.h"
#include "core/edit/usual_sizes.h"

namespace hoopwright {
namespace {

constexpr double kReadsBack_mm = 0.01;
constexpr double kOnCentre_mm = 1.0;

const ResolvedMember* resolved(const CageGeometry& now, std::string_view id) {
    const int at = now.member(id);
    return at < 0 ? nullptr : &now.members[static_cast<std::size_t>(at)];
}

Side sideOfPoint(const Vec3& at) {
    if (std::abs(at.y()) < kOnCentre_mm) return Side::centre;
    return at.y() > 0 ? Side::left : Side::right;
}

double tenth(double value) {
    return std::round(value * 10) / 10;
}

/// Ways to say a place, the shop's favourite first.
std::vector<Landing> waysToSay(const Centreline& line, double station) {
    const Vec3 at = line.point(station);
    const Vec3 along = line.tangent(station).cwiseAbs();
    std::vector<Landing> ways;
    const auto add = [&](Landing::By by, double value, Side side) {
        Landing way;
        way.by = by;
        way.value = value;
        way.side = side;
        ways.push_back(way);
    };
    using By = Landing::By;
    const double length = line.length_mm();
    if (station < kReadsBack_mm) add(By::end, 0, Side::centre);
    if (along.z() > 0.4) {
        add(By::height, at.z(), Side::centre);
        add(By::height, at.z(), sideOfPoint(at));
    }
    if (along.y() > 0.6) add(By::across_y, at.y(), Side::centre);
    if (along.x() > 0.6) {
        add(By::station_x, at.x(), Side::centre);
        add(By::station_x, at.x(), sideOfPoint(at));
    }
    Landing distance;
    distance.by = By::distance;
    distance.from_last_end = station > length / 2;
    distance.value = distance.from_last_end ? length - station : station;
    ways.push_back(distance);
    return ways;
}

std::string nearestHost(const CageGeometry& now, std::string_view but_not, const Vec3& at) {
    std::string best;
    double least = std::numeric_limits<double>::infinity();
    const std::string self = layoutId(but_not);
    for (const ResolvedMember& member : now.members) {
        if (layoutId(member.id) == self || member.line.empty()) continue;
        const double away = (member.line.point(member.line.nearestStation(at)) - at).norm();
        if (away < least) {
            least = away;
            best = member.id;
        }
    }
    return best;
}

/// How a bar that is (or is not) one of a mirrored pair names a part of the given side.
std::string nameFrom(std::string_view id, bool from_mirrored) {
    return from_mirrored && sideOf(id) == Side::left ? layoutId(id) : std::string(id);
}

MemberPoint at(const Vec3& point, double grain_mm) {
    return {FixedPoint{toGrain(point, grain_mm)}, {}};
}

std::vector<MemberPoint> pathFor(const CageGeometry& now, const std::vector<HostPick>& picks,
                                 bool is_mirrored, double grain) {
    if (picks.size() >= 2) {
        return {{landingNear(now, picks[0].member, picks[0].at, is_mirrored, grain), {}},
                {landingNear(now, picks[1].member, picks[1].at, is_mirrored, grain), {}}};
    }
    if (picks.size() == 1) {
        const ResolvedMember* host = resolved(now, picks[0].member);
        const bool drawn = host && !host->line.empty();
        const Vec3 from = drawn ? host->line.point(host->line.nearestStation(picks[0].at)) : picks[0].at;
        const Vec3 across = mirrored(from);
        const std::string other = otherSide(picks[0].member);
        const ResolvedMember* far_host = resolved(now, other);
        if (drawn && far_host && std::abs(from.y()) > kOnCentre_mm) {
            const double station = far_host->line.nearestStation(across);
            if ((far_host->line.point(station) - across).norm() < 10) {
                return {{landingNear(now, picks[0].member, from, false, grain), {}},
                        {landingNear(now, other, across, false, grain), {}}};
            }
        }
        return {{landingNear(now, picks[0].member, from, is_mirrored, grain), {}},
                at(from + Vec3(-400, 0, 0), grain)};
    }
    Box box;
    for (const ResolvedMember& member : now.members) {
        if (!member.line.empty()) box.extend(member.line.bounds());
    }
    const Vec3 middle = box.isEmpty() ? Vec3(0, 0, 500) : Vec3(box.center());
    return {at(middle + Vec3(0, 300, 0), grain), at(middle - Vec3(0, 300, 0), grain)};
}

}  // namespace

std::optional<Vec3> landingPoint(const CageGeometry& now, std::string_view host, const Landing& landing) {
    const ResolvedMember* member = resolved(now, host);
    if (!member || member->line.empty()) return std::nullopt;
    const Expected<double> station = stationSaid(landing, member->line, LengthUnit::mm);
    if (!station) return std::nullopt;
    return member->line.point(*station) + landing.offset;
}

Landing landingNear(const CageGeometry& now, std::string_view host, const Vec3& at, bool from_mirrored,
                    double grain_mm) {
    Landing landing;
    landing.by = Landing::By::distance;
    const ResolvedMember* member = resolved(now, host);
    if (member && !member->line.empty()) {
        // A place a person picked by hand is rounded along the bar before it is put in words.
        const double station =
            std::clamp(toGrain(member->line.nearestStation(at), grain_mm), 0.0, member->line.length_mm());
        const Vec3 place = member->line.point(station);
        for (const Landing& way : waysToSay(member->line, station)) {
            const auto back = landingPoint(now, host, way);
            if (!back || (*back - place).norm() > kReadsBack_mm) continue;
            landing = way;
            break;
        }
        Landing round = landing;
        round.value = toGrain(landing.value, grain_mm);
        if (const auto back = landingPoint(now, host, round); back && (*back - place).norm() < 2 * grain_mm)
            landing = round;
    }
    landing.host = nameFrom(host, from_mirrored);
    return landing;
}

std::string usualStock(const Job& job, std::string_view role) {
    std::map<std::string, int> of_role, of_all;
    for (const Member& member : job.cage.members) {
        ++of_all[member.stock];
        if (member.role == role) ++of_role[member.stock];
    }
    const auto& counts = of_role.empty() ? of_all : of_role;
    const auto most = std::max_element(counts.begin(), counts.end(),
                                       [](const auto& a, const auto& b) { return a.second < b.second; });
    if (most != counts.end() && job.stock.find(most->first)) return most->first;
    return job.stock.tubes.empty() ? std::string() : job.stock.tubes.front().id;
}

Member newBar(const Job& job, const CageGeometry& now, const std::string& role,
              const std::vector<HostPick>& picks) {
    Member bar;
    bar.role = role;
    bar.id = freeId(job.cage, role);
    if (bar.id.size() > role.size() && bar.id.starts_with(role + "_")) {
        bar.name =
            roleOf(role).name + " " + bar.id.substr(role.size() + 1);  // "Door bar 2": not two of one name
    }
    bar.stock = usualStock(job, role);
    const auto side = [&](std::size_t i) { return sideOfPoint(picks[i].at); };
    if (picks.size() >= 2) {
        const bool one_side = side(0) == side(1) || side(0) == Side::centre || side(1) == Side::centre;
        const bool left = side(0) == Side::left || side(1) == Side::left;
        const bool right = side(0) == Side::right || side(1) == Side::right;
        bar.mirrored = one_side && left && !right;
    }
    bar.path = pathFor(now, picks, bar.mirrored, handGrain_mm(job.cage.unit));
    return bar;
}

Plate newPlate(const Job& job, const Vec3& at) {
    Plate plate;
    plate.id = freeId(job.cage, "foot_plate");
    plate.at = FixedPoint{{tenth(at.x()), tenth(at.y()), tenth(at.z())}};
    const UsualSizes& usual = usualSizes(job.cage.unit);
    plate.length_mm = usual.plate_length_mm;
    plate.width_mm = usual.plate_width_mm;
    plate.thickness_mm = usual.plate_thickness_mm;
    plate.material = job.stock.materials.empty() ? std::string() : job.stock.materials.front().id;
    return plate;
}

Gusset newGusset(const Job& job, const std::string& one, const std::string& other) {
    const UsualSizes& usual = usualSizes(job.cage.unit);
    Gusset gusset;
    gusset.id = freeId(job.cage, "gusset");
    gusset.member_a = one;
    gusset.member_b = other;
    gusset.leg_mm = usual.gusset_leg_mm;
    gusset.thickness_mm = usual.gusset_thickness_mm;
    return gusset;
}

PlaceKind kindOf(const Place3& place) {
    return static_cast<PlaceKind>(place.index());
}

Expected<Place3> saidAs(const Job& job, const CageGeometry& now, std::string_view resolved_member,
                        const Vec3& at, PlaceKind kind) {
    const Member* member = job.cage.member(layoutId(resolved_member));
    const bool from_mirrored = member && member->mirrored;
    switch (kind) {
        case PlaceKind::fixed:
            return Place3{FixedPoint{{tenth(at.x()), tenth(at.y()), tenth(at.z())}}};
        case PlaceKind::car_point: {
            const CarPoint* best = nullptr;
            for (const CarPoint& point : job.car.points) {
                if (!best || (point.at - at).norm() < (best->at - at).norm()) best = &point;
            }
            if (!best) return Reason{"The car has no measured points yet: add one in the Car step."};
            const Vec3 offset = at - best->at;
            return Place3{AtCarPoint{best->name, {tenth(offset.x()), tenth(offset.y()), tenth(offset.z())}}};
        }
        case PlaceKind::landing: {
            const std::string host = nearestHost(now, resolved_member, at);
            if (host.empty()) return Reason{"There is no other bar to land on."};
            return Place3{landingNear(now, host, at, from_mirrored)};
        }
        case PlaceKind::plate: {
            const ResolvedPlate* best = nullptr;
            for (const ResolvedPlate& plate : now.plates) {
                if (!best || (plate.at - at).norm() < (best->at - at).norm()) best = &plate;
            }
            if (!best) return Reason{"There is no plate to stand on: add one first."};
            return Place3{OnPlate{nameFrom(best->id, from_mirrored), Vec2::Zero()}};
        }
    }
    return Reason{"That is not a kind of point."};
}

}  // namespace hoopwright
