// Bent tubes of the sizes a cage has, from a seeded generator.
#pragma once

#include <numbers>
#include <random>
#include <vector>

#include "core/geometry/centreline.h"

namespace hoopwright {

inline Vec3 randomUnit(std::mt19937_64& random) {
    std::normal_distribution<double> normal;
    return Vec3(normal(random), normal(random), normal(random)).normalized();
}

/// Between no bend and four, each with room for its setbacks; somewhere within a couple of metres.
inline Centreline randomTube(std::mt19937_64& random) {
    std::uniform_int_distribution<int> bends(0, 4);
    std::uniform_real_distribution<double> place(-800, 800), length(150, 900), radius(90, 180),
        angle(0.05, 2.4), turn(-std::numbers::pi, std::numbers::pi);
    BendTable table;
    for (int i = bends(random); i > 0; --i) {
        table.rows.push_back({.straight_before_mm = length(random),
                              .rotation_rad = table.rows.empty() ? 0 : turn(random),
                              .angle_rad = angle(random),
                              .radius_mm = radius(random)});
    }
    table.last_straight_mm = length(random);
    const Vec3 feed = randomUnit(random);
    return walkBendTable(table, {place(random), place(random), place(random)}, feed, feed.unitOrthogonal());
}

}  // namespace hoopwright
