// A person in the seat, helmet on and belted, by measured points.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "core/geometry/distance.h"
#include "core/geometry/vec.h"

namespace hoopwright {

struct Helmet {
    Vec3 centre = Vec3::Zero();
    double length_mm = 0, width_mm = 0, height_mm = 0;  ///< outside, fore-aft, across, up; all > 0
    Ellipsoid ellipsoid() const;  ///< level: the driver looks ahead however far the back reclines
    friend bool operator==(const Helmet&, const Helmet&) = default;
};

/// Where the two shoulder straps are bolted or clipped.
struct StrapAnchors {
    Vec3 left = Vec3::Zero(), right = Vec3::Zero();
    friend bool operator==(const StrapAnchors&, const StrapAnchors&) = default;
};

/// Shoulder straps run from the top of the shoulder to their first support. With a bar and no anchors they
/// wrap round it; with a bar and anchors they pass over it and on down to the anchors; with anchors alone
/// they run straight to those eyes.
struct Belts {
    std::string bar;  ///< member id of the belt bar the straps pass over; empty = no bar
    double strap_width_mm = 76;
    double spacing_mm = 200;  ///< centre to centre of the straps at the bar
    std::optional<StrapAnchors> shoulder_anchors;
    std::vector<Vec3> lap_anchors;
    friend bool operator==(const Belts&, const Belts&) = default;
};

struct Seat {
    double back_height_mm = 0;  ///< along the back, from the hip point
    double width_mm = 0;
    Vec3 slot_left = Vec3::Zero(),
         slot_right = Vec3::Zero();  ///< middles of the slots for the shoulder straps
    friend bool operator==(const Seat&, const Seat&) = default;
};

struct SteeringWheel {
    Vec3 centre = Vec3::Zero();  ///< middle of the rim
    double diameter_mm = 0;      ///< outside of the rim
    double tilt_rad = 0;  ///< of the rim's plane: 0 upright, positive with its top away from the driver
    Vec3 facing() const;  ///< unit, square to the rim, towards the driver
    Vec3 up() const;      ///< unit, in the rim's plane
    friend bool operator==(const SteeringWheel&, const SteeringWheel&) = default;
};

/// Points are on the person as seated, suit on; left and right are the person's own: left has the greater y.
struct Driver {
    enum class Occupant { driver, passenger };
    std::string id;
    std::string name;  ///< "Tall driver"
    Occupant occupant = Occupant::driver;
    std::string figure;       ///< id of the figure it was started from (core/model/figure.h): points not yet
                              ///< corrected are that figure's; empty: all of it is measured
    Vec3 hip = Vec3::Zero();  ///< hip point, middle
    double back_angle_rad = 0;  ///< of hip-shoulder line from vertical, reclined positive
    Vec3 shoulder_left = Vec3::Zero(),
         shoulder_right = Vec3::Zero();       ///< top of the shoulder, where the strap bears
    std::optional<double> shoulder_width_mm;  ///< across both shoulders, outside to outside
    Vec3 elbow_left = Vec3::Zero(), elbow_right = Vec3::Zero();  ///< the outermost point of the elbow
    Vec3 hand_left = Vec3::Zero(), hand_right = Vec3::Zero();    ///< middle of the grip
    Vec3 knee_left = Vec3::Zero(), knee_right = Vec3::Zero();  ///< the point that sticks out of the bent knee
    Vec3 heel_left = Vec3::Zero(), heel_right = Vec3::Zero();  ///< where it rests at the pedals
    Vec3 eye = Vec3::Zero();
    Helmet helmet;
    std::optional<Seat> seat;
    std::optional<SteeringWheel> steering_wheel;
    Belts belts;
    std::string note;
    Vec3 shoulders() const { return 0.5 * (shoulder_left + shoulder_right); }
    friend bool operator==(const Driver&, const Driver&) = default;
};

/// Of a suited adult's elbow and bent knee, for a joint's middle from the point measured on it (common
/// practice, no source).
inline constexpr double kElbowRadius_mm = 45, kKneeRadius_mm = 55;
/// Unit, the way a bent joint sticks out of the line from `root` to `tip`; up where it is not bent.
Vec3 sticksOut(const Vec3& root, const Vec3& joint, const Vec3& tip);

/// A limb's two points, and how to call it: "shoulder".
struct PointPair {
    const char* name;
    Vec3 Driver::*left;
    Vec3 Driver::*right;
};
const std::array<PointPair, 5>& pointPairs();
/// "knee" if that pair lies crossed (left to the right of right), also "belt slot" and "shoulder anchor"; or
/// "".
std::string crossedPair(const Driver& driver);

}  // namespace hoopwright
