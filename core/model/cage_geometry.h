// What the cage is in space. Made by resolve(); everything else reads it.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "core/geometry/centreline.h"
#include "core/model/cage_layout.h"

namespace hoopwright {

/// One end of a resolved member.
struct ResolvedEnd {
    enum class On { nothing, member, plate };
    On on = On::nothing;
    Vec3 at = Vec3::Zero();        ///< end of the centreline
    Vec3 outward = Vec3::UnitX();  ///< unit, out of the tube along its axis
    int host = -1;                 ///< index into CageGeometry::members
    double host_station_mm = 0;    ///< of the point of the host's centreline nearest to `at`
    int plate = -1;                ///< index into CageGeometry::plates
    std::vector<int>
        also;  ///< further members this end is coped around (named, or met at the node and put in earlier)
    int node = -1;                ///< index into CageGeometry::nodes
    std::vector<int> flaps = {};  ///< of its plate, that this end comes to lie on as well
    bool off_flat = false;        ///< on a plate: it lies on flaps alone
};

/// What is done to a tube bought bent.
struct BoughtBent {
    BentShape shape;  ///< as taped, of this side
    /// To saw off each end before it is coped: down to the longest point of its cope. Negative: the leg is
    /// too short by that.
    std::array<double, 2> saw_mm = {0, 0};
    /// Greatest difference between shape and path as laid. The legs' lengths are in saw_mm.
    double off_mm = 0, off_rad = 0;
};

struct ResolvedMember {
    std::string id;   ///< "door_bar.left"
    int layout = -1;  ///< index into CageLayout::members
    Side side = Side::centre;
    std::string role;
    std::string name;  ///< "Door bar, left"
    int stock = -1;    ///< index into StockList::tubes; -1: no such stock (section is then zero)
    TubeSection section;
    Centreline line;
    std::array<ResolvedEnd, 2> ends;
    double mass_kg = 0;  ///< of the finished piece: its ends cut to what they land on
    double padding_mm = 0;
    std::optional<BoughtBent> bought;  ///< nothing: the shop bends it
    double radius_mm() const { return section.od_mm / 2; }
};

/// A branch end on a host: the unit of coping, welding and node rules.
struct Joint {
    int branch = -1, end = 0;  ///< member, and which end (0 first, 1 last)
    int host = -1;
    double host_station_mm = 0;
    double angle_rad = 0;  ///< between the two axes, (0, pi/2]
    double offset_mm = 0;  ///< least distance between the two axes there
    bool on_bend = false;  ///< the host is bent where the branch lands
    Vec3 at = Vec3::Zero();
    int node = -1;
};

/// Where ends of tubes meet: joints on each other or within node_reach of each other, and ends on one plate.
struct Node {
    Vec3 at = Vec3::Zero();    ///< mean of the places that meet
    std::vector<int> members;  ///< every member that passes through or ends here, ascending
    std::vector<int> joints;
    int plate = -1;
    double spread_mm = 0;  ///< greatest distance between the places that meet
};

/// A flap in the plate's own axes: the plate's length and width are over the outside of its folds, and a
/// flap's length starts on the line where the outer faces of plate and flap meet. Folds are sharp here.
struct PlacedFlap {
    PlateEdge edge = PlateEdge::ahead;            ///< of this side's plate
    double length_mm = 0, angle_rad = 0;          ///< as said
    double width_mm = 0;                          ///< along the edge
    Vec3 from = Vec3::Zero(), to = Vec3::Zero();  ///< car axes: the ends of that line, with the plate on the
                                                  ///< left of it as seen from the cage
    Vec3 along = Vec3::UnitX();                   ///< unit, from that line to the flap's free edge
    Vec3 outward = Vec3::UnitZ();                 ///< unit, out of its outer face
    /// The same line on the side of the cage, and how long the flap is from there.
    Vec3 front_from = Vec3::Zero(), front_to = Vec3::Zero();
    double front_length_mm = 0;
    bool up() const { return angle_rad > 0; }
    /// Unit, out of its face on the side of the cage.
    Vec3 front() const { return up() ? Vec3(-outward) : outward; }
    double area_mm2() const { return length_mm * width_mm; }
};

struct ResolvedPlate {
    std::string id;
    int layout = -1;
    Side side = Side::centre;
    std::string name;
    Vec3 at = Vec3::Zero();                              ///< middle of the upper face
    Eigen::Matrix3d axes = Eigen::Matrix3d::Identity();  ///< columns u (along), v (across), n (normal)
    std::vector<Vec2> outline;                           ///< counter-clockwise about `at`, in u and v
    double area_mm2 = 0;
    double thickness_mm = 0;
    double mass_kg = 0;          ///< its backing plate and riser included
    double riser_height_mm = 0;  ///< 0: no riser
    double riser_area_mm2 = 0;   ///< of its walls from outside
    double riser_wall_mm = 0;    ///< thickness of its sheet
    std::optional<BackingPlate> backing;
    std::vector<PlacedFlap> flaps;  ///< in the order they are said
    int rail = -1;                  ///< index into Car::rails of the rail it is tied to, or -1
    bool on_frame = false;          ///< that rail is of a frame the body lifts off
    /// On the frame, and the bars welded together from it stand on the body too.
    bool must_be_bolted = false;
    std::vector<std::pair<int, int>> feet;  ///< (member, end) that stand on it
};

struct ResolvedGusset {
    std::string id;
    int layout = -1;
    int member_a = -1, member_b = -1;
    std::array<Vec3, 3> corners;  ///< corner on both centrelines' meeting, then along a, along b
    double area_mm2 = 0, mass_kg = 0, thickness_mm = 0;  ///< of all its sheet, corners sharp
    bool formed = false;                                 ///< folded of one sheet
    std::optional<double> hole_mm;                       ///< as said; it may not fit
};

/// Something wrong with the layout, as a sentence. A problem never stops the rest from resolving.
struct GeometryProblem {
    enum class Kind {
        landing_loop,
        no_such_member,
        no_such_point,
        no_such_plate,
        no_such_stock,
        no_such_rail,
        landing_misses,
        landing_ambiguous,
        on_itself,
        path,
        no_die,
        straight_too_short,
        angle_too_great,
        tubes_collide,
        strikes_itself,
        foot_overhangs,
        strikes_flap,
        driver_outside,
        seat_behind_hoop,
        bad_value,
        bought_differs,
        leg_too_short,
    };
    Kind kind;
    std::string text;    ///< "Door bar, left: lands on main_hoop at height 2100 mm, which it never reaches."
    std::string remedy;  ///< what to do; may be empty
    std::string member;  ///< layout ids concerned; may be empty
    std::string plate;
    Vec3 at = Vec3::Zero();
    std::string driver = {};  ///< Driver::id concerned, or empty
};

/// Something to know before it is built. Nothing is wrong with the layout.
struct LayoutNote {
    enum class Kind {
        tie_holds_body,  ///< welded to a frame that the body can then never be lifted off
    };
    Kind kind;
    std::string text, remedy;   ///< as of a GeometryProblem
    std::string member, plate;  ///< layout ids concerned; may be empty
    Vec3 at = Vec3::Zero();
};

struct CageTotals {
    int members = 0, joints = 0, bends = 0;
    double tube_length_mm = 0;                   ///< developed centrelines
    double tube_mass_kg = 0, plate_mass_kg = 0;  ///< gussets count as plate
};

struct CageGeometry {
    /// Build order; a mirrored pair stands left, right. Only those that have a shape: no line here is
    /// empty.
    std::vector<ResolvedMember> members;
    std::vector<Joint> joints;
    std::vector<Node> nodes;
    std::vector<ResolvedPlate> plates;
    std::vector<ResolvedGusset> gussets;
    std::vector<GeometryProblem> problems;
    std::vector<LayoutNote> notes;
    CageTotals totals;
    /// Index by resolved id, or -1.
    int member(std::string_view id) const;
    int plate(std::string_view id) const;
};

}  // namespace hoopwright
