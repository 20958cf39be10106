// A person in the seat, helmet on and belted, by measured points.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/geometry/distance.h"
#include "core/geometry/vec.h"

namespace hoopwright {

struct Helmet {
    Vec3 centre = Vec3::Zero();
    double length_mm = 0, width_mm = 0, height_mm = 0;  ///< outside, fore-aft, across, up
    Ellipsoid ellipsoid() const;
    friend bool operator==(const Helmet&, const Helmet&) = default;
};

/// Shoulder straps run from the top of the shoulder to their first support.
struct Belts {
    std::string bar;  ///< member id of the belt bar the straps wrap over; empty = not on a bar
    double strap_width_mm = 76;
    double spacing_mm = 200;  ///< centre to centre of the straps at the bar
    std::vector<Vec3> lap_anchors;
    friend bool operator==(const Belts&, const Belts&) = default;
};

struct Seat {
    double back_height_mm = 0;  ///< along the back, from the hip point
    double width_mm = 0;
    Vec3 belt_slot = Vec3::Zero();  ///< middle between the shoulder slots
    friend bool operator==(const Seat&, const Seat&) = default;
};

/// Points are on the person as seated; left and right are the person's own (y > 0 is left of the car).
struct Driver {
    enum class Occupant { driver, passenger };
    std::string id;
    std::string name;  ///< "Tall driver"
    Occupant occupant = Occupant::driver;
    Vec3 hip = Vec3::Zero();    ///< hip point, middle
    double back_angle_rad = 0;  ///< of hip-shoulder line from vertical, reclined positive
    Vec3 shoulder_left = Vec3::Zero(),
         shoulder_right = Vec3::Zero();  ///< top of the shoulder, where the strap bears
    Vec3 elbow_left = Vec3::Zero(), elbow_right = Vec3::Zero();
    Vec3 hand_left = Vec3::Zero(), hand_right = Vec3::Zero();
    Vec3 knee_left = Vec3::Zero(), knee_right = Vec3::Zero();
    Vec3 heel_left = Vec3::Zero(), heel_right = Vec3::Zero();
    Vec3 eye = Vec3::Zero();
    Helmet helmet;
    std::optional<Seat> seat;
    Belts belts;
    Vec3 shoulders() const { return 0.5 * (shoulder_left + shoulder_right); }
    friend bool operator==(const Driver&, const Driver&) = default;
};

}  // namespace hoopwright
