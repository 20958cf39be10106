// Where the named places of a table are in this cage.
#include <algorithm>
#include <cmath>

#include "rules/table_run.h"

namespace hoopwright {
namespace {

/// The stations of the centreline farthest in direction d: of a hoop's two feet, say, both. Where a whole
/// straight lies that far out, its middle.
std::vector<double> farthestStations(const Centreline& line, const Vec3& d) {
    constexpr double kAsFar_mm = 1e-6;
    struct Run {
        double from, to, reach;
    };
    std::vector<Run> runs;
    const auto offer = [&](double from, double to) {
        const double a = line.point(from).dot(d), b = line.point(to).dot(d);
        if (std::abs(a - b) <= kAsFar_mm) return runs.push_back({from, to, std::max(a, b)});
        a > b ? runs.push_back({from, from, a}) : runs.push_back({to, to, b});
    };
    for (const Piece& piece : line.pieces()) {
        const double end = piece.station_mm + piece.length_mm;
        if (piece.kind == Piece::Kind::straight) {
            offer(piece.station_mm, end);
            continue;
        }
        offer(piece.station_mm, piece.station_mm);
        // Inside a bend the farthest point is where the tangent is square to d.
        const Vec3 radial = piece.start - piece.centre;
        const double turn = std::atan2(piece.tangent.dot(d), radial.normalized().dot(d));
        const double at = piece.station_mm + turn * piece.radius_mm;
        if (turn > 0 && turn < piece.angle_rad) offer(at, at);
        offer(end, end);
    }
    double best = -1e300;
    for (const Run& run : runs) best = std::max(best, run.reach);
    std::vector<Run> far;
    for (const Run& run : runs) {
        if (run.reach < best - kAsFar_mm) continue;
        if (!far.empty() && run.from <= far.back().to + kAsFar_mm)
            far.back().to = std::max(far.back().to, run.to);
        else
            far.push_back(run);
    }
    std::vector<double> out;
    for (const Run& run : far) out.push_back(0.5 * (run.from + run.to));
    return out;
}

Vec3 wayOut(NamedPlace::Is is) {
    switch (is) {
        case NamedPlace::Is::bottom:
            return -Vec3::UnitZ();
        case NamedPlace::Is::front:
            return Vec3::UnitX();
        case NamedPlace::Is::rear:
            return -Vec3::UnitX();
        default:
            return Vec3::UnitZ();
    }
}

}  // namespace

std::span<const PlacePoint> TableRun::place(int index) const {
    std::optional<std::vector<PlacePoint>>& kept = places_[static_cast<std::size_t>(index)];
    if (!kept) kept = points(table_.places[static_cast<std::size_t>(index)]);
    return *kept;
}

std::string TableRun::placeMissing(int index) const {
    const NamedPlace& place = table_.places[static_cast<std::size_t>(index)];
    std::string why = "there is nothing of the sort in the cage";
    if (place.is == NamedPlace::Is::car_point) why = "the car has no point '" + place.point + "'";
    if (place.is == NamedPlace::Is::body_part)
        why = scene_.job().drivers.empty() ? "there is no driver" : "no steering wheel is measured";
    if (place.is == NamedPlace::Is::meeting) why = "no such bars meet";
    if (place.selectors.size() == 1 && members(place.selectors.front(), {}).empty())
        why = noMember(place.selectors.front());
    return "no place '" + place.name + "': " + why;
}

std::vector<PlacePoint> TableRun::points(const NamedPlace& place) const {
    if (place.is == NamedPlace::Is::car_point) return pointsOfCar(place.point);
    if (place.is == NamedPlace::Is::body_part) return pointsOfDriver(place.part);
    if (place.is == NamedPlace::Is::meeting) return meetings(place);
    std::vector<PlacePoint> out;
    const Vec3 d = wayOut(place.is);
    for (int i : members(place.selectors.front(), {})) {
        const ResolvedMember& m = scene_.member(i);
        if (m.line.empty()) continue;
        const auto add = [&](const Vec3& at) { out.push_back({at, d, m.radius_mm(), i}); };
        if (place.is == NamedPlace::Is::corners) {
            for (const Piece& piece : m.line.pieces())
                if (piece.kind == Piece::Kind::bend) add(piece.point(piece.length_mm / 2));
        } else if (place.is == NamedPlace::Is::feet || place.is == NamedPlace::Is::ends) {
            for (const ResolvedEnd& end : m.ends)
                if (place.is == NamedPlace::Is::ends || end.on == ResolvedEnd::On::plate) add(end.at);
        } else {
            for (const double station : farthestStations(m.line, d)) add(m.line.point(station));
        }
    }
    return out;
}

std::vector<PlacePoint> TableRun::pointsOfCar(const std::string& name) const {
    std::vector<PlacePoint> out;
    for (const std::string& one : {name, name + ".left", name + ".right"})
        if (const CarPoint* point = scene_.job().car.point(one))
            out.push_back({point->at, Vec3::UnitZ(), 0, -1});
    return out;
}

std::vector<PlacePoint> TableRun::pointsOfDriver(BodyPart part) const {
    std::vector<PlacePoint> out;
    for (const Driver& driver : scene_.job().drivers)
        for (const Vec3& at : bodyPoints(driver, part)) out.push_back({at, Vec3::UnitZ(), 0, -1});
    return out;
}

std::vector<PlacePoint> TableRun::meetings(const NamedPlace& place) const {
    std::vector<PlacePoint> out;
    for (const Node& node : scene_.cage().nodes) {
        // Each selector must be met by a member of its own.
        std::vector<int> taken;
        for (int selector : place.selectors) {
            const auto one = std::find_if(node.members.begin(), node.members.end(), [&](int i) {
                return picks(selector, i, {}) && std::find(taken.begin(), taken.end(), i) == taken.end();
            });
            if (one != node.members.end()) taken.push_back(*one);
        }
        if (taken.size() != place.selectors.size()) continue;
        out.push_back({node.at, Vec3::UnitZ(), scene_.member(taken.front()).radius_mm(), taken.front()});
    }
    return out;
}

}  // namespace hoopwright
