// All a tube needs at the bender: marks, rotations, angles, order, and what to tape when it is bent.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/model/cage_geometry.h"
#include "core/shop/bend_order.h"
#include "core/shop/joint_cope.h"
#include "core/shop/springback.h"

namespace hoopwright {

/// One bend, from end A. Lengths along the tube are of the blank: 0 is its end A, sawn square, which becomes
/// the longest point of the cope there.
struct SheetBend {
    double straight_before_mm = 0, rotation_rad = 0;  ///< of the finished tube, as BendRow has them
    double angle_rad = 0;                             ///< to measure free of the die
    double radius_mm = 0;                             ///< of the layout
    double start_mm = 0, end_mm = 0;
    std::optional<double>
        mark_mm;  ///< to the die's mark; nothing: the die list does not say where its mark is
    std::optional<double> dial_rad, dial_interval_rad;  ///< nothing: fewer trial bends than it takes
    std::optional<int> strokes;
    bool beyond_samples = false;
    /// Left at the outer skin: t R / (R + D/2), the middle of the tube not stretched; the least it can be.
    /// Derived; public pages of makers of benders have it too.
    double outer_wall_mm = 0;
    double wall_lost = 0;  ///< share of the wall
    /// How far end B moves by a quarter of a degree at this bend, and in the rotation before it.
    double quarter_bend_mm = 0, quarter_turn_mm = 0;
};

/// A place to chalk on the floor. x from A towards B, y square to it to the side of the first bend, up from
/// the floor plane through the tube's axis.
struct FloorPoint {
    std::string what;  ///< "end A", "bend 1 starts", "bend 1, centre of the die"
    Vec3 at = Vec3::Zero();
};

/// Something to tape on the bent blank.
struct TapeCheck {
    std::string what;
    double value_mm = 0;
};

struct BendSheet {
    int member = -1;
    std::string end_a, end_b;  ///< what stands there: "Hoop foot, left"
    std::string die, bender;   ///< ids; bender empty: the shop's book names none
    double od_mm = 0, wall_mm = 0;
    bool wall_measured = false;  ///< gauged on the rack; else nominal
    double finished_mm = 0;      ///< longest point to longest point
    double bend_long_mm = 0;     ///< left on at end B
    double blank_mm = 0;
    std::vector<SheetBend> bends;
    double last_straight_mm = 0;  ///< behind the last bend, to the blank's end B
    BendOrder order;
    std::vector<std::string> words;  ///< one for each step of the order, in the order they are done
    Springback spring;
    std::optional<double> least_roundness;
    std::vector<TapeCheck> checks;
    bool flat = true;
    std::vector<FloorPoint> floor;
    std::vector<std::string> cautions;

    /// The blank as it must come out, walked forward from the figures above. Starts at the origin along x,
    /// first bend towards y.
    BendTable table() const;
};

/// The reason says why there is none: no bends, bought bent, no tube, no die, too many bends.
Expected<BendSheet> bendSheet(const Job& job, const CageGeometry& cage, int member);

/// What stands at the ends of a bar, and, where that is the same, on which side: "Main hoop (higher)".
std::array<std::string, 2> endWords(const CageGeometry& cage, int member);

/// "turn the tube clockwise 20.8°", "do not turn the tube", "turn the tube half way round".
std::string turnWords(double turn_rad);

}  // namespace hoopwright
