// In which order the bends of a tube are made, and whether the bender lets them be made.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "core/geometry/centreline.h"
#include "core/model/shop_book.h"
#include "core/model/stock.h"
#include "core/units/measure.h"

namespace hoopwright {

/// A tube to bend: its table, both ends as long as the blank is, and what it is bent on.
struct BendJob {
    BendTable table;
    double od_mm = 0;
    Die die;
    const Bender* bender = nullptr;    ///< not owned; null: floor and frame are not looked at
    LengthUnit unit = LengthUnit::mm;  ///< of the sentences
};

/// One bend as it is made.
struct BendStep {
    int bend = 0;              ///< index into the table
    bool a_leads = true;       ///< end A is in front, clamped, and swings; else end B
    bool end_for_end = false;  ///< the tube is swung end for end before it
    /// How far the tube is turned about its own axis before it, clockwise as seen by a person who stands at
    /// end A and looks along it, (-pi, pi]. Of the first bend: 0.
    double turn_rad = 0;
    /// Of the leg behind the nearest bend made before, away from the die: its rise over level, once the tube
    /// is turned. Nothing: no bend is made yet, or no bender is known.
    std::optional<double> leg_rises_rad = std::nullopt;
    int leg_bend = -1;                       ///< which bend that leg is behind
    std::vector<std::string> troubles = {};  ///< why the bender does not let it be made so; each a sentence
};

struct BendOrder {
    std::vector<BendStep> steps;
    bool middle_out = false;
    bool feasible() const;
};

/// Middle out where the tube is flat and the bender lets it; else from end A to end B, from B to A, or any
/// order that can be made, with as few turns end for end as it takes. If there is none, the first of these
/// with its troubles. Looked at for each bend: straight for clamp and follower between the bends already
/// made, the length behind against the wall, and, at nine angles from first to last, the part that swings and
/// the tail against floor, frame and each other, at points 25 mm apart. Every order is tried up to 8 bends.
BendOrder bendOrder(const BendJob& job);

/// Is every bend in one plane, to 0.05 degree?
bool flat(const BendTable& table);

}  // namespace hoopwright
