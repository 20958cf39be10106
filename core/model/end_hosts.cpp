#include "core/model/end_hosts.h"

#include <algorithm>
#include <utility>

namespace hoopwright {
namespace {

CopeTube tubeAt(const CageGeometry& cage, int host, double station_mm) {
    const ResolvedMember& tube = cage.members[static_cast<std::size_t>(host)];
    return {&tube.line, tube.radius_mm(), station_mm};
}

}  // namespace

std::vector<int> facesOf(const ResolvedEnd& end) {
    std::vector<int> faces;
    if (end.on != ResolvedEnd::On::plate) return faces;
    if (!end.off_flat || end.flaps.empty()) faces.push_back(-1);
    faces.insert(faces.end(), end.flaps.begin(), end.flaps.end());
    return faces;
}

std::vector<CopePlane> planesOf(const ResolvedPlate& plate, const std::vector<int>& faces) {
    const bool flat = std::ranges::find(faces, -1) != faces.end();
    std::vector<CopePlane> planes;
    for (const int face : faces) {
        if (face < 0) {
            planes.push_back({plate.at, plate.axes.col(2)});
            continue;
        }
        const PlacedFlap& flap = plate.flaps[static_cast<std::size_t>(face)];
        planes.push_back({flap.front_from, flap.front()});
        // Folded up, each face is carried on into the metal of the other.
        if (flat && !flap.up()) planes.back().rims.push_back({flap.front_from, -flap.along});
    }
    if (!flat) return planes;
    const auto of_flat = static_cast<std::size_t>(std::ranges::find(faces, -1) - faces.begin());
    for (const int face : faces) {
        if (face < 0 || plate.flaps[static_cast<std::size_t>(face)].up()) continue;
        const PlacedFlap& flap = plate.flaps[static_cast<std::size_t>(face)];
        const Vec3 out = (flap.front_to - flap.front_from).normalized().cross(plate.axes.col(2));
        planes[of_flat].rims.push_back({flap.front_from, out});
    }
    return planes;
}

std::vector<CopeHost> hostsOf(const CageGeometry& cage, const ResolvedEnd& end) {
    std::vector<CopeHost> hosts;
    hosts.reserve(1 + end.flaps.size() + end.also.size());
    if (end.on == ResolvedEnd::On::member) hosts.emplace_back(tubeAt(cage, end.host, end.host_station_mm));
    if (end.on == ResolvedEnd::On::plate) {
        const ResolvedPlate& plate = cage.plates[static_cast<std::size_t>(end.plate)];
        for (CopePlane& plane : planesOf(plate, facesOf(end))) hosts.emplace_back(std::move(plane));
    }
    for (int also : end.also) {
        const Centreline& line = cage.members[static_cast<std::size_t>(also)].line;
        hosts.emplace_back(tubeAt(cage, also, line.nearestStation(end.at)));
    }
    return hosts;
}

}  // namespace hoopwright
