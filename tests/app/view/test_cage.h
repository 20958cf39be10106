// A small cage made by hand, so that the view is tested on nothing but the view.
#pragma once

#include <string>
#include <vector>

#include "core/model/cage_geometry.h"

namespace hoopwright {

inline ResolvedMember testBar(std::string id, std::string role, std::string name, double od_mm,
                              const std::vector<Vec3>& path) {
    std::vector<PathPoint> points;
    for (const auto& at : path) points.push_back({at, 150});
    ResolvedMember bar;
    bar.id = std::move(id);
    bar.role = std::move(role);
    bar.name = std::move(name);
    bar.section = {od_mm, 2.5};
    bar.line = makeCentreline(points).line;
    return bar;
}

/// A hoop, two side bars, a windshield bar, a belt bar, a diagonal, two door bars and one foot plate. Members
/// in this order: main_hoop 0, side_bar.left 1, side_bar.right 2, windshield_bar 3, belt_bar 4, hoop_diagonal
/// 5, door_bar.left 6, door_bar.right 7.
inline CageGeometry testCage() {
    CageGeometry cage;
    cage.members = {
        testBar("main_hoop", "main_hoop", "Main hoop", 45,
                {{0, 600, 0}, {0, 560, 1150}, {0, -560, 1150}, {0, -600, 0}}),
        testBar("side_bar.left", "side_bar", "Side bar, left", 45,
                {{0, 540, 1150}, {850, 520, 1120}, {1400, 600, 450}, {1420, 600, 0}}),
        testBar("side_bar.right", "side_bar", "Side bar, right", 45,
                {{0, -540, 1150}, {850, -520, 1120}, {1400, -600, 450}, {1420, -600, 0}}),
        testBar("windshield_bar", "windshield_bar", "Windshield bar", 38,
                {{800, 520, 1120}, {800, -520, 1120}}),
        testBar("belt_bar", "belt_bar", "Belt bar", 38, {{0, 575, 720}, {0, -575, 720}}),
        testBar("hoop_diagonal", "hoop_diagonal", "Hoop diagonal", 38, {{0, 500, 1130}, {0, -590, 60}}),
        testBar("door_bar.left", "door_bar", "Door bar, left", 38, {{0, 585, 430}, {1400, 600, 180}}),
        testBar("door_bar.right", "door_bar", "Door bar, right", 38, {{0, -585, 430}, {1400, -600, 180}}),
    };
    const int layouts[] = {0, 1, 1, 2, 3, 4, 5, 5};
    for (std::size_t i = 0; i < cage.members.size(); ++i) cage.members[i].layout = layouts[i];
    ResolvedPlate plate;
    plate.id = "foot_hoop.left";
    plate.name = "Foot plate, hoop left";
    plate.at = {0, 600, 0};
    plate.outline = {{-60, -60}, {60, -60}, {60, 60}, {-60, 60}};
    plate.area_mm2 = 14400;
    plate.thickness_mm = 3;
    cage.plates.push_back(plate);
    return cage;
}

inline Job testJob() {
    Job job;
    job.car.name = "Test car";
    job.car.ground_z_mm = -150;
    return job;
}

}  // namespace hoopwright
