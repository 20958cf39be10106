// Hole saws and straight cuts for one end on one tube.
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "core/shop/cope_sheet.h"

namespace hoopwright {
namespace {

constexpr int kSawStations = 72;
constexpr double kReach_mm = 3000;

double sawPhi(std::size_t i) {
    return 2 * std::numbers::pi * static_cast<double>(i) / kSawStations;
}

Vec3 onEnd(const CopeEnd& end, double radius_mm, double phi, double s_mm) {
    const Vec3 side = end.inward.cross(end.clock);
    return end.foot + radius_mm * (std::cos(phi) * end.clock + std::sin(phi) * side) + s_mm * end.inward;
}

}  // namespace

Expected<SawPick> sawGap(const CopeEnd& end, const CopeTube& host, double saw_radius_mm) {
    const Vec3 at = host.line->point(host.station_mm), along = host.line->tangent(host.station_mm);
    const std::vector<PathPoint> path = {{at - kReach_mm * along, 0}, {at + kReach_mm * along, 0}};
    const Centreline axis = makeCentreline(path).line;
    const std::array<CopeHost, 1> saw = {CopeTube{&axis, saw_radius_mm, kReach_mm}}, real = {host};
    const Expected<CopeProfile> cut = cope(end, saw, kSawStations), fit = cope(end, real, kSawStations);
    if (!cut) return Reason{cut.reason()};
    if (!fit) return Reason{fit.reason()};
    if (cut->outer.missedCount() > fit->outer.missedCount())
        return Reason{"the saw is narrower than the tube it is to cut"};
    // Pushed home the tube touches where the cut is least deep.
    double home = -1e9;
    for (std::size_t i = 0; i < kSawStations; ++i)
        home = std::max(home, fit->outer.s_mm[i] - cut->outer.s_mm[i]);
    SawPick pick;
    pick.size_mm = 2 * saw_radius_mm;
    for (std::size_t i = 0; i < kSawStations; ++i) {
        if (fit->outer.missed[i]) continue;
        const Vec3 p = onEnd(end, end.outer_radius_mm, sawPhi(i), cut->outer.s_mm[i] + home);
        const double off = (p - host.line->point(host.line->nearestStation(p))).norm() - host.radius_mm;
        if (off <= pick.gap_mm) continue;
        pick.gap_mm = off;
        pick.gap_phi_rad = sawPhi(i);
    }
    return pick;
}

Expected<FlatCuts> flatCuts(const CopeEnd& end, const CopeTube& host) {
    CopeEnd turned = end;
    Vec3 along = host.line->tangent(host.station_mm);
    if (along.dot(end.inward) < 0) along = -along;
    turned.clock = (along - along.dot(end.inward) * end.inward).normalized();
    const std::array<CopeHost, 1> hosts = {host};
    const Expected<CopeProfile> fit = cope(turned, hosts, kSawStations);
    if (!fit) return Reason{fit.reason()};
    const std::vector<double>&outer = fit->outer.s_mm, &bore = fit->bore.s_mm;
    const double flank = bore[kSawStations / 4];
    const double heel = (bore[0] - flank) / end.bore_radius_mm;
    const double toe = (bore[kSawStations / 2] - flank) / end.bore_radius_mm;
    FlatCuts cuts;
    cuts.heel_rad = std::atan(heel);
    cuts.toe_rad = std::atan(toe);
    for (std::size_t i = 0; i < kSawStations; ++i) {
        const double c = std::cos(sawPhi(i)), slope = c > 0 ? heel : toe;
        const double cut_outer = flank + slope * std::abs(c) * end.outer_radius_mm;
        const double cut_bore = flank + slope * std::abs(c) * end.bore_radius_mm;
        cuts.grind_mm = std::max({cuts.grind_mm, outer[i] - cut_outer, bore[i] - cut_bore});
        cuts.gap_mm = std::max(cuts.gap_mm, cut_outer - std::max(outer[i], bore[i]));
    }
    return cuts;
}

}  // namespace hoopwright
