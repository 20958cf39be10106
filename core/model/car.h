// The car as measured: named points, lines and stations of the shell, the frame, and the facts a class asks
// for.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "core/geometry/vec.h"
#include "core/model/car_scan.h"
#include "core/units/measure.h"

namespace hoopwright {

/// A fact a rule may ask for: a number with its dimension (base units), a word, yes/no, or a date
/// "YYYY-MM-DD" (a word).
struct Fact {
    std::variant<double, std::string, bool> value;
    Dimension dimension = Dimension::none;
    friend bool operator==(const Fact&, const Fact&) = default;
};
using Facts = std::map<std::string, Fact>;

/// A plane across the car that distances are squared off from: an axle, the firewall, a door's front edge.
struct DatumPlane {
    std::string name;
    double x_mm = 0;
    double tolerance_mm = 0;  ///< how well it is known; 0 = not stated
    friend bool operator==(const DatumPlane&, const DatumPlane&) = default;
};
/// The plane every car has without naming it: x = 0, the rear edge of the door opening at the sill.
inline constexpr std::string_view kDoorEdge = "door_edge";

/// A point typed as [x, y, z].
struct ByCoordinates {
    friend bool operator==(const ByCoordinates&, const ByCoordinates&) = default;
};

/// A point by its height, its distance out from the centreline, and its distance ahead of a plane.
struct ByOffsets {
    enum class From { sill, ground };
    enum class Toward { by_name, left, right };  ///< by_name: the point's own name ends in .left or .right
    double height_mm = 0;                        ///< above the sill's top or the ground
    From from = From::sill;
    double out_mm = 0;  ///< from the centreline, >= 0
    Toward toward = Toward::by_name;
    std::string plane = std::string(kDoorEdge);
    double ahead_mm = 0;  ///< of the plane; behind it: negative
    friend bool operator==(const ByOffsets&, const ByOffsets&) = default;
};

/// One tape, from a point that is known by other means.
struct Tape {
    std::string from;
    double length_mm = 0;
    double tolerance_mm = 0;  ///< 0 = as the point says
    friend bool operator==(const Tape&, const Tape&) = default;
};

/// A point by tapes from three or more known points. Three tapes meet in two places, mirror images in the
/// plane of their datums: `lies` or `near` says which is meant.
struct ByTapes {
    enum class Lies { not_said, inboard, outboard, above, below, ahead, behind };  ///< of the other place
    std::vector<Tape> tapes;
    Lies lies = Lies::not_said;
    std::optional<Vec3> near;  ///< a rough place: the nearer of the two is meant
    friend bool operator==(const ByTapes&, const ByTapes&) = default;
};

/// A point the builder can put a tape on. Names that come in pairs end in ".left" and ".right".
struct CarPoint {
    std::string name;  ///< "b_pillar_top.left"
    /// Where it is, however it was measured. Of offsets and tapes settle() (core/survey/survey.h) works it
    /// out.
    Vec3 at = Vec3::Zero();
    double tolerance_mm = 0;  ///< how well it, or each of its readings, is known; 0 = not stated
    std::string how;          ///< "tape from sill datum": free text
    std::variant<ByCoordinates, ByOffsets, ByTapes> taken = ByCoordinates{};
    friend bool operator==(const CarPoint&, const CarPoint&) = default;
};

/// What a corner of a line hangs on: a measured point and how far from it. No name: by coordinates.
struct LineCorner {
    std::string point;
    Vec3 offset = Vec3::Zero();
    friend bool operator==(const LineCorner&, const LineCorner&) = default;
};

/// A line of the body through measured points: roof_rail.left, a_pillar.left, sill.left, windshield, dash,
/// tunnel ... A line named without a side is drawn as given; with ".left" and no ".right" it stands for both
/// where the car is said to be symmetric, else for the left alone.
struct CarLine {
    enum class Kind { body, glass, floor, opening };
    std::string name;
    Kind kind = Kind::body;
    std::vector<Vec3> points;
    bool closed = false;
    /// What points[i] follows; may be shorter than `points`. settle() moves the points.
    std::vector<LineCorner> corners = {};
    friend bool operator==(const CarLine&, const CarLine&) = default;
};

/// A cross-section of the body skin at one x. Outline points (y, z) from the bottom of the sill over the side
/// to the roof's centreline, left side (y >= 0), mirrored for the right. All stations have the same number of
/// points, and the n-th points of neighbours are joined.
struct ShellStation {
    std::string name;
    double x_mm = 0;
    std::vector<Vec2> outline;
    friend bool operator==(const ShellStation&, const ShellStation&) = default;
};

/// A box-section rail of the frame (or a folded sill or chassis leg of a unibody) a foot can land on.
struct FrameRail {
    /// Of what it is part: by_name: of the frame, if the car has one apart from its body and the name does
    /// not begin with "sill" or "rocker".
    enum class Of { by_name, body, frame };
    std::string name;
    std::vector<Vec3> line;  ///< centreline
    double width_mm = 0, height_mm = 0, wall_mm = 0;
    std::vector<LineCorner> corners = {};  ///< what line[i] follows, as in CarLine
    Of of = Of::by_name;
    friend bool operator==(const FrameRail&, const FrameRail&) = default;
};

struct Wheel {
    Vec3 centre = Vec3::Zero();
    double diameter_mm = 0, width_mm = 0;
    friend bool operator==(const Wheel&, const Wheel&) = default;
};

/// What the next job on such a car should know.
struct Lesson {
    std::string about;  ///< a point or line of the car; empty: the car
    std::string when;   ///< "YYYY-MM-DD" or empty
    std::string note;
    friend bool operator==(const Lesson&, const Lesson&) = default;
};

struct Car {
    enum class Body { saloon, hatchback, open, pickup, van };
    enum class Frame { unibody, ladder, perimeter };
    std::string name;
    Body body = Body::saloon;
    Frame frame = Frame::unibody;
    Facts facts;
    double ground_z_mm = 0;  ///< height of the ground in car axes (below the sill top: negative)
    /// The builder's word that what was measured on one side alone holds for the other. Shells are not
    /// symmetric unless someone says so.
    bool symmetric = false;
    std::vector<DatumPlane> planes;
    std::vector<CarPoint> points;
    std::vector<CarLine> lines;
    std::vector<ShellStation> shell;
    std::vector<FrameRail> rails;
    std::vector<Wheel> wheels;
    std::vector<CarScan> scans;
    std::vector<Lesson> lessons;
    std::string notes;
    const CarPoint* point(std::string_view called) const;
    /// Where that point is. One side measured and the other not: the measured one mirrored, if the car is
    /// symmetric.
    std::optional<Vec3> pointAt(std::string_view called) const;
    const CarLine* line(std::string_view called) const;
    const FrameRail* rail(std::string_view called) const;
    /// Has it a frame that its body is bolted to and comes off again?
    bool bodyLiftsOff() const { return frame != Frame::unibody; }
    /// Is that rail part of a frame that the body lifts off?
    bool isOfFrame(const FrameRail& one) const;
    /// Does this line stand for the other side too?
    bool standsForBoth(const CarLine& one) const;
    friend bool operator==(const Car&, const Car&) = default;
};
std::string_view bodyWord(Car::Body body);
std::string_view frameWord(Car::Frame frame);

/// Other side's name: "sill.left" <-> "sill.right"; a name without a side is its own.
std::string otherSide(std::string_view name);

}  // namespace hoopwright
