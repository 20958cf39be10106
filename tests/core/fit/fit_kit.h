// Cars whose best bars can be worked out by hand, and hoops to fit into them.
#pragma once

#include <cmath>
#include <numbers>

#include "core/fit/hoop_fit.h"

namespace hoopwright {

/// Flat sides at y = +-700 from z = -100 up, a flat roof at z = 1000; x from -1000 to 1000.
inline Car boxCar() {
    Car car;
    const std::vector<Vec2> outline = {{700, -100}, {700, 500},  {700, 998}, {700, 1000},
                                       {698, 1000}, {350, 1000}, {0, 1000}};
    car.shell = {{"rear", -1000, outline}, {"front", 1000, outline}};
    return car;
}

/// Half a round barrel of 800 mm about the x axis.
inline Car barrelCar() {
    Car car;
    std::vector<Vec2> outline;
    for (int i = 0; i <= 24; ++i) {
        const double turn = std::numbers::pi / 2 * i / 24;
        outline.emplace_back(800 * std::cos(turn), 800 * std::sin(turn));
    }
    outline.back().x() = 0;
    car.shell = {{"rear", -1000, outline}, {"front", 1000, outline}};
    return car;
}

/// 40 mm tube on a die of 120 mm, feet at y = +-out_mm.
inline HoopWish hoopAt(double out_mm, double foot_z_mm, int bends, double gap_mm = 30) {
    HoopWish wish;
    wish.tube = {40, 120, 80, 120 * std::numbers::pi / 180};
    wish.least_gap_mm = gap_mm;
    wish.left_foot = {0, out_mm, foot_z_mm};
    wish.right_foot = {0, -out_mm, foot_z_mm};
    wish.bends = bends;
    return wish;
}

}  // namespace hoopwright
