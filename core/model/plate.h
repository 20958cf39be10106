// A foot plate: where a tube meets the car.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/geometry/vec.h"
#include "core/model/member.h"

namespace hoopwright {

enum class Fixing { welded, bolted };

struct Bolts {
    int count = 0;
    double diameter_mm = 0;
    std::string grade;                              ///< "8.8", "grade 5": as the rule book says it
    std::optional<double> pitch_mm = std::nullopt;  ///< least distance between two, centre to centre
    std::optional<double> edge_mm = std::nullopt;   ///< least distance of a centre from the plate's edge
    friend bool operator==(const Bolts&, const Bolts&) = default;
};

struct BackingPlate {
    double length_mm = 0, width_mm = 0, thickness_mm = 0;
    friend bool operator==(const BackingPlate&, const BackingPlate&) = default;
};

/// A box of sheet under a plate that carries it up from the car: walls straight down from the plate's edges.
struct Riser {
    double height_mm = 0;  ///< of its walls, from the plate's lower face
    double wall_mm = 0;    ///< thickness of its sheet
    friend bool operator==(const Riser&, const Riser&) = default;
};

/// A side of a rectangular plate in its own axes: +u, -u, +v, -v.
enum class PlateEdge { ahead, behind, left, right };

/// A strip of a rectangular plate folded along one of its edges.
struct Flap {
    PlateEdge edge = PlateEdge::ahead;
    double length_mm = 0;  ///< along the strip, from the edge of the flat face; > 0
    double angle_rad =
        0;  ///< from the plate's plane, positive to the side of its normal; (0, 120 deg) either way
    friend bool operator==(const Flap&, const Flap&) = default;
};

/// A flat plate. `at` is the middle of its upper face; `normal` points from the car into the cage; `along`
/// gives the direction of its length, as near as the face allows.
struct Plate {
    std::string id;
    std::string name;
    bool mirrored = false;
    Place3 at;  ///< FixedPoint or AtCarPoint (a plate does not land on members)
    Vec3 normal = Vec3::UnitZ();
    Vec3 along = Vec3::UnitX();
    double length_mm = 0, width_mm = 0;  ///< a rectangle, unless an outline is given
    std::vector<Vec2> outline;  ///< (u along, v across) about the middle, counter-clockwise seen from the
                                ///< cage; empty: rectangle
    double thickness_mm = 0;
    std::vector<Flap> flaps;  ///< at most one on each edge; of a rectangle only
    std::string material;
    Fixing fixing = Fixing::welded;
    Bolts bolts;
    std::optional<BackingPlate> backing;
    std::optional<Riser> riser;
    std::string rail;  ///< frame rail or sill it is tied to; empty: floor skin only
    std::string note;
    friend bool operator==(const Plate&, const Plate&) = default;
};

/// A sheet gusset in the corner of two members.
struct Gusset {
    std::string id;
    bool mirrored = false;
    std::string member_a, member_b;
    double leg_mm = 0;  ///< along each tube from the corner
    double thickness_mm = 0;
    bool formed = false;  ///< folded of one sheet: two cheeks beside the tubes, joined across the open side
    std::optional<double> hole_mm = std::nullopt;  ///< diameter of a round hole in each cheek
    friend bool operator==(const Gusset&, const Gusset&) = default;
};

}  // namespace hoopwright
