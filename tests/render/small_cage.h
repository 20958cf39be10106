// A hoop, a brace and a belt bar on two plates: enough of a cage to draw. Lengths in mm.
#pragma once

#include "core/model/cage_geometry.h"

namespace hoopwright::testing_render {

inline ResolvedMember bar(const std::string& id, const std::string& role, std::vector<PathPoint> path,
                          double od = 40, double wall = 2.5) {
    ResolvedMember member;
    member.id = id;
    member.role = role;
    member.name = id;
    member.stock = 0;
    member.section = {od, wall};
    member.line = makeCentreline(path).line;
    for (int end = 0; end < 2; ++end) {
        ResolvedEnd& e = member.ends[static_cast<std::size_t>(end)];
        e.at = end == 0 ? member.line.start() : member.line.end();
        e.outward = end == 0 ? Vec3(-member.line.tangent(0)) : member.line.tangent(member.line.length_mm());
    }
    return member;
}

inline ResolvedPlate foot(const std::string& id, const Vec3& at) {
    ResolvedPlate plate;
    plate.id = id;
    plate.at = at;
    plate.outline = {{-60, -60}, {60, -60}, {60, 60}, {-60, 60}};
    plate.area_mm2 = 14400;
    plate.thickness_mm = 3;
    return plate;
}

inline void land(CageGeometry& cage, int branch, int end, int host) {
    ResolvedMember& member = cage.members[static_cast<std::size_t>(branch)];
    ResolvedEnd& e = member.ends[static_cast<std::size_t>(end)];
    e.on = ResolvedEnd::On::member;
    e.host = host;
    e.host_station_mm = cage.members[static_cast<std::size_t>(host)].line.nearestStation(e.at);
    Joint joint;
    joint.branch = branch;
    joint.end = end;
    joint.host = host;
    joint.host_station_mm = e.host_station_mm;
    joint.at = e.at;
    cage.joints.push_back(joint);
}

/// main_hoop stands on foot.left and foot.right; belt_bar crosses it, rear_brace.left leans on it.
inline CageGeometry smallCage(double belt_height = 600) {
    CageGeometry cage;
    cage.plates = {foot("foot.left", {0, 600, 0}), foot("foot.right", {0, -600, 0})};
    cage.members.push_back(
        bar("main_hoop", "main_hoop",
            {{{0, 600, 0}, 0}, {{0, 600, 1000}, 150}, {{0, -600, 1000}, 150}, {{0, -600, 0}, 0}}));
    for (int end = 0; end < 2; ++end) {
        cage.members[0].ends[static_cast<std::size_t>(end)].on = ResolvedEnd::On::plate;
        cage.members[0].ends[static_cast<std::size_t>(end)].plate = end;
        cage.plates[static_cast<std::size_t>(end)].feet = {{0, end}};
    }
    cage.members.push_back(
        bar("belt_bar", "belt_bar", {{{0, 600, belt_height}, 0}, {{0, -600, belt_height}, 0}}));
    land(cage, 1, 0, 0);
    land(cage, 1, 1, 0);
    cage.members.push_back(
        bar("rear_brace.left", "rear_brace", {{{0, 500, 1000}, 0}, {{-900, 450, 100}, 0}}));
    land(cage, 2, 0, 0);
    return cage;
}

}  // namespace hoopwright::testing_render
