// The outlines the line drawings are made of, in the car's axes, mm. Cars of nobody's making.
#pragma once

#include <utility>
#include <vector>

#include "core/model/car.h"

namespace hoopwright {

/// A point of an outline; sharp: the curve has a corner here.
struct OutlinePoint {
    double u = 0, v = 0;
    bool sharp = false;
};
using Outline = std::vector<OutlinePoint>;

struct CarOutline {
    // Seen from the side: u = x, v = z.
    Outline profile;  ///< from the foot of the nose over the roof to the foot of the tail
    std::vector<Outline> glass;
    std::vector<Outline> shut_lines;  ///< doors, lids
    std::vector<Outline> lines;       ///< open
    double front_axle_x = 0, rear_axle_x = 0, wheel_z = 0, wheel_radius = 0, arch_radius = 0;
    double sill_z = 0;  ///< underside between the wheels
    // Seen from above: u = x, v = y, the left half.
    Outline plan;
    std::vector<Outline> plan_glass;  ///< closed over the centreline
    std::vector<Outline> plan_lines;
    double track_y = 0;
    // Seen from behind: u = y, v = z, the left half, sill to roof.
    Outline section;
    double floor_z = -130, tunnel_y = 150, tunnel_z = 45;
    bool has_tunnel = true, has_roof = true;
};
const CarOutline& carOutline(Car::Body body);

}  // namespace hoopwright
