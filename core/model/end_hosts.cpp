#include "core/model/end_hosts.h"

namespace hoopwright {
namespace {

CopeTube tubeAt(const CageGeometry& cage, int host, double station_mm) {
    const ResolvedMember& tube = cage.members[static_cast<std::size_t>(host)];
    return {&tube.line, tube.radius_mm(), station_mm};
}

}  // namespace

std::vector<CopeHost> hostsOf(const CageGeometry& cage, const ResolvedEnd& end) {
    std::vector<CopeHost> hosts;
    hosts.reserve(1 + end.also.size());
    if (end.on == ResolvedEnd::On::member) hosts.emplace_back(tubeAt(cage, end.host, end.host_station_mm));
    if (end.on == ResolvedEnd::On::plate) {
        const ResolvedPlate& plate = cage.plates[static_cast<std::size_t>(end.plate)];
        hosts.emplace_back(CopePlane{plate.at, plate.axes.col(2)});
    }
    for (int also : end.also) {
        const Centreline& line = cage.members[static_cast<std::size_t>(also)].line;
        hosts.emplace_back(tubeAt(cage, also, line.nearestStation(end.at)));
    }
    return hosts;
}

}  // namespace hoopwright
