// The hoop that fits a car: across it in one plane, as near to the shell as gap and die allow.
#pragma once

#include "core/fit/bar_fit.h"

namespace hoopwright {

/// In car axes and mm.
struct HoopWish {
    FitTube tube;
    double least_gap_mm = 0;
    Vec3 left_foot = Vec3::Zero(), right_foot = Vec3::Zero();  ///< where the centreline ends
    double lean_rad = 0;  ///< of its plane about the line of its feet, the top to the rear; 0: plumb
    int bends = 4;        ///< 2, 4, 6 or 8; 0: the fewest that reach `mean_gap_mm`
    double mean_gap_mm = 0;
    bool sides_alike = true;      ///< mirrored about the middle between its feet
    double foot_travel_mm = 0;    ///< each foot may move so far in or out
    double foot_landing_mm = 60;  ///< so much of each leg is not held to the gap
    /// See BarWish::bend_costs_mm_per_deg, of the lowest bend of each leg where there are four or more.
    double leg_bend_cost_mm_per_deg = 0.05;
    std::vector<Vec3> given;  ///< path it has now, left foot first: a start, and what it is held against
    LengthUnit unit = LengthUnit::mm;
};

struct HoopFit {
    BarFit bar;  ///< path from the left foot to the right one; `before` is that of HoopWish::given, if any
    int bends = 0;
    /// With bends = 0: mean gap of the hoop of 2, 4, ... bends, as far as was needed.
    std::vector<std::pair<int, double>> mean_gaps_mm;
    std::string note;  ///< why it is not as good as was asked; else empty
};

inline constexpr int kMostHoopBends = 8;

/// The bars a hoop wish with a number of bends stands for, and starts inside the skin, best guess first.
struct HoopStarts {
    BarWish wish;
    std::vector<std::vector<Vec3>> starts;
};
HoopStarts hoopStarts(const FitCar& car, const HoopWish& wish, int bends);

/// Refuses, with a sentence: feet in one place, another number of bends, and as fitBar().
Expected<HoopFit> fitHoop(const FitCar& car, const HoopWish& wish);

}  // namespace hoopwright
