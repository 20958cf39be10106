// A tube bought bent: where it fits a car best, what to saw off its legs, and how it stands off against a bar
// bent to suit.
#pragma once

#include "core/fit/bar_fit.h"
#include "core/model/bent_shape.h"

namespace hoopwright {

/// In car axes and mm.
struct PreBentWish {
    BentShape shape;  ///< as taped; its bends are never changed
    double od_mm = 0;
    double least_gap_mm = 0;
    /// Where it goes: about along this line, first end to first end. The hoop that suits, say.
    Centreline along;
    /// Where its ends are to be cut off: planes square to these, unit, through these points; nothing: through
    /// the ends of `along`.
    std::array<Vec3, 2> floor_normal = {Vec3::UnitZ(), Vec3::UnitZ()};
    std::array<std::optional<Vec3>, 2> floor_at;
    double foot_reach_mm = 40;  ///< so far from the ends of `along` may the cut ends stand
    /// Unit: turned and shifted only in the plane square to it, which holds the first end of `along`.
    std::optional<Vec3> square_to;
    double landing_mm = 60;  ///< so much of each end is not held to the gap and not counted
    LengthUnit unit = LengthUnit::mm;
};

/// One straight or bend of the placed tube, against the nearest places of the bar bent to suit.
struct PieceStandOff {
    bool is_bend = false;
    int number = 0;                       ///< of the straights, of the bends, from 1
    double mean_mm = 0, greatest_mm = 0;  ///< gap to the skin; negative: through it
    double more_than_suited_mm = 0;       ///< mean gap less that of the bar bent to suit
};

struct PreBentFit {
    Centreline whole;        ///< where it lies, not yet cut
    Centreline line;         ///< cut; a leg that is too short ends where it ends
    std::vector<Vec3> path;  ///< ends and corners of `line`
    /// To saw off each end, along the axis to the floor's plane; negative: the leg is too short by that.
    std::array<double, 2> trim_mm = {0, 0};
    std::array<double, 2> foot_off_mm = {0, 0};  ///< from the end of `along` to the cut end
    FitGoodness placed;                          ///< cut, as it lies
    FitGoodness suited;                          ///< of `along`
    std::vector<PieceStandOff> pieces;
    std::vector<FitLimit> limits;  ///< what keeps it from standing nearer, the dearest first
    double short_by_mm = 0;        ///< of gap, reach of a foot or length of a leg, whichever is worst
    bool fits = false;
    std::string verdict;  ///< a sentence
};

/// Its bends are never changed. First turned and shifted to the least squares of distances to `along`, then
/// to the least mean gap with no gap under the least. Refuses, with a sentence: no skin, no good shape, a
/// line to go along that is empty.
Expected<PreBentFit> fitPreBent(const FitCar& car, const PreBentWish& wish);

}  // namespace hoopwright
