// One bar of the cage as the builder says it: role, tube, and the path it takes.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "core/geometry/vec.h"
#include "core/model/bent_shape.h"
#include "core/model/role.h"

namespace hoopwright {

/// A point given by coordinates.
struct FixedPoint {
    Vec3 at = Vec3::Zero();
    friend bool operator==(const FixedPoint&, const FixedPoint&) = default;
};

/// A named point of the car, and how far from it.
struct AtCarPoint {
    std::string point;
    Vec3 offset = Vec3::Zero();
    friend bool operator==(const AtCarPoint&, const AtCarPoint&) = default;
};

/// A place on another member's centreline; the member follows its host wherever that goes.
struct Landing {
    /// How the place on the host is said:
    ///  distance  [mm] along the host's centreline from its first end (from_last_end: from the other)
    ///  fraction  0 to 1 of the host's centreline from its first end
    ///  height    z [mm]; where the host passes that height, on `side` if it does so on both
    ///  station_x / across_y: where the host crosses the plane x = value or y = value [mm], on `side` if
    ///  twice end       the host's first end, or its last (from_last_end); value unused
    enum class By { distance, fraction, height, station_x, across_y, end };
    std::string
        host;  ///< member id; of a mirrored pair, "door_bar" is this side's, "door_bar.right" that one
    By by = By::height;
    double value = 0;
    bool from_last_end = false;  ///< distance, end: count from the last end
    Side side = Side::centre;    ///< which side of the host; centre: the only one, else a problem
    /// From that place. Past both walls the end follows the host but does not touch it.
    Vec3 offset = Vec3::Zero();
    std::vector<std::string> also;  ///< further members this end is to be coped around
    friend bool operator==(const Landing&, const Landing&) = default;
};

/// On the upper face of a plate of the layout, at its middle plus an offset in the plate's own axes (u, v in
/// its face). Past the fold of a flap it goes on along the flap, as a tape laid on the sheet does.
struct OnPlate {
    std::string plate;
    Vec2 offset = Vec2::Zero();
    friend bool operator==(const OnPlate&, const OnPlate&) = default;
};

using Place3 = std::variant<FixedPoint, AtCarPoint, Landing, OnPlate>;

struct MemberPoint {
    Place3 place;
    std::optional<double> bend_radius_mm;  ///< here only; else the member's, else the die's for that OD
    friend bool operator==(const MemberPoint&, const MemberPoint&) = default;
};

struct Member {
    std::string id;  ///< [a-z][a-z0-9_]*; a mirrored member resolves to id.left and id.right
    std::string role;
    std::string name;               ///< shown; empty: the role's name
    std::string stock;              ///< TubeStock::id
    std::vector<MemberPoint> path;  ///< two points or more
    std::optional<double> bend_radius_mm;
    /// Bought bent: `path` says where it lies (its ends, and a corner for each bend) and must agree with it
    /// within kTaped_mm and kTaped_rad; bend radii are its own. Of a pair, the left one's.
    std::optional<BentShape> bent;
    bool mirrored = false;            ///< given for the left, made for both
    bool optional_bar = false;        ///< the customer may leave it out
    double padding_mm = 0;            ///< thickness of padding on it
    std::vector<std::string> passes;  ///< members it is allowed to pass through or touch (slotted, say)
    std::string note;
    friend bool operator==(const Member&, const Member&) = default;
};

}  // namespace hoopwright
