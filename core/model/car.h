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

/// A point the builder can put a tape on. Names that come in pairs end in ".left" and ".right".
struct CarPoint {
    std::string name;  ///< "b_pillar_top.left"
    Vec3 at = Vec3::Zero();
    double tolerance_mm = 0;  ///< how well it is known; 0 = not stated
    std::string how;          ///< "tape from sill datum": free text
    friend bool operator==(const CarPoint&, const CarPoint&) = default;
};

/// A line of the body through measured points: roof_rail.left, a_pillar.left, sill.left, windshield, dash,
/// tunnel ... A line named without a side is drawn as given; with ".left" and no ".right" it is mirrored.
struct CarLine {
    enum class Kind { body, glass, floor, opening };
    std::string name;
    Kind kind = Kind::body;
    std::vector<Vec3> points;
    bool closed = false;
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
    std::string name;
    std::vector<Vec3> line;  ///< centreline
    double width_mm = 0, height_mm = 0, wall_mm = 0;
    friend bool operator==(const FrameRail&, const FrameRail&) = default;
};

struct Wheel {
    Vec3 centre = Vec3::Zero();
    double diameter_mm = 0, width_mm = 0;
    friend bool operator==(const Wheel&, const Wheel&) = default;
};

struct Car {
    enum class Body { saloon, hatchback, open, pickup, van };
    enum class Frame { unibody, ladder, perimeter };
    std::string name;
    Body body = Body::saloon;
    Frame frame = Frame::unibody;
    Facts facts;
    double ground_z_mm = 0;  ///< height of the ground in car axes (below the sill top: negative)
    std::vector<CarPoint> points;
    std::vector<CarLine> lines;
    std::vector<ShellStation> shell;
    std::vector<FrameRail> rails;
    std::vector<Wheel> wheels;
    std::vector<CarScan> scans;
    std::string notes;
    const CarPoint* point(std::string_view called) const;
    /// Where that point is. One side measured and the other not: the measured one, mirrored.
    std::optional<Vec3> pointAt(std::string_view called) const;
    const CarLine* line(std::string_view called) const;
    const FrameRail* rail(std::string_view called) const;
    friend bool operator==(const Car&, const Car&) = default;
};
std::string_view bodyWord(Car::Body body);
std::string_view frameWord(Car::Frame frame);

/// Other side's name: "sill.left" <-> "sill.right"; a name without a side is its own.
std::string otherSide(std::string_view name);

}  // namespace hoopwright
