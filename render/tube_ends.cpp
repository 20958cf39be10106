#include "render/tube_ends.h"

#include <cmath>
#include <utility>

#include "core/model/end_hosts.h"
#include "core/shop/joint_cope.h"

namespace hoopwright {

std::vector<int> hostsOf(const ResolvedEnd& end) {
    std::vector<int> hosts;
    if (end.on == ResolvedEnd::On::member && end.host >= 0) hosts.push_back(end.host);
    hosts.insert(hosts.end(), end.also.begin(), end.also.end());
    return hosts;
}

TubeCut endCut(const CageGeometry& cage, int member, int end, int sides) {
    const ResolvedMember& m = cage.members[static_cast<std::size_t>(member)];
    if (m.ends[static_cast<std::size_t>(end)].on == ResolvedEnd::On::nothing) return TubeCut::square(sides);
    const Expected<CopeProfile> profile = jointCope(cage, member, end, sides);
    if (!profile) return TubeCut::square(sides);
    const CopeEnd cope = copeEnd(cage, member, end);
    const Vec3 line_end = end == 0 ? m.line.start() : m.line.end();
    TubeCut cut = TubeCut::from(*profile, end, (cope.foot - line_end).dot(cope.inward));
    // A cut that would eat half the tube is no cut to draw.
    if (cut.deepest_mm() > 0.5 * m.line.length_mm()) return TubeCut::square(sides);
    return cut;
}

HostSurfaces surfacesAt(const CageGeometry& cage, int member, int end) {
    const ResolvedEnd& e = cage.members[static_cast<std::size_t>(member)].ends[static_cast<std::size_t>(end)];
    std::vector<CopePlane> faces;
    if (e.plate >= 0) faces = planesOf(cage.plates[static_cast<std::size_t>(e.plate)], facesOf(e));
    return [&cage, hosts = hostsOf(e), faces = std::move(faces)](const Vec3& p) {
        HostSurface nearest{Vec3::UnitZ(), 1e300};
        for (const int host : hosts) {
            const ResolvedMember& h = cage.members[static_cast<std::size_t>(host)];
            const Vec3 out = p - h.line.point(h.line.nearestStation(p));
            const double gap = std::abs(out.norm() - h.radius_mm());
            if (gap < nearest.distance_mm && out.squaredNorm() > 1e-12) nearest = {out.normalized(), gap};
        }
        for (const CopePlane& face : faces) {
            const double gap = std::abs(face.normal.dot(p - face.point));
            if (gap < nearest.distance_mm) nearest = {face.normal, gap};
        }
        return nearest;
    };
}

std::vector<double> landingsOn(const CageGeometry& cage, int member) {
    std::vector<double> stations;
    for (const Joint& joint : cage.joints)
        if (joint.host == member) stations.push_back(joint.host_station_mm);
    return stations;
}

}  // namespace hoopwright
