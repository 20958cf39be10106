// A member of a cage fitted to its car: from what the builder says to a member to put in its place.
#pragma once

#include "core/fit/hoop_fit.h"
#include "core/fit/pre_bent.h"
#include "core/model/cage_geometry.h"

namespace hoopwright {

struct MemberWish {
    std::string member;  ///< its id; of a mirrored pair the left one is fitted, the right one follows
    double least_gap_mm = kUsualGap_mm;
    /// Of hoops: nothing: as many as it has; 0: the fewest that reach `mean_gap_mm`. Other bars keep theirs.
    std::optional<int> bends = {};
    double mean_gap_mm = 0;
    bool own_sides = false;  ///< a bar over both sides need not be the same on them
    std::optional<double> x_mm = {},
                          lean_rad = {};  ///< of a hoop: where its feet stand, how far its top leans back
    /// How far its ends may go: the feet of a hoop in and out, an end on a bar along that bar, an end on a
    /// plate over it. A tube bought bent may stand so far from where the bar bent to suit does; at 0:
    /// PreBentWish::foot_reach_mm.
    double end_travel_mm = 0;
    /// Lines of the car to follow; nothing: roof rail and pillar for a side bar, else the skin.
    std::optional<std::vector<std::string>> follow = {};
    /// Bought bent: see readBentShape(); empty: as the layout has it, which is bent to suit unless it has a
    /// taped shape.
    std::string bent = {};
    /// Of the tube bought bent; nothing: as the layout has it, else the die's.
    std::optional<double> bent_radius_mm = {};
};

struct MemberFit {
    Member member;       ///< to go in the layout
    std::string fitted;  ///< "side_bar.left": which bar the figures are of
    bool is_hoop = false;
    FitTube tube;
    BarFit bar;
    std::vector<std::pair<int, double>> mean_gaps_mm;  ///< as HoopFit
    std::string note;                                  ///< as HoopFit
    std::vector<std::string> followed;                 ///< lines of the car
    std::optional<PreBentFit> pre_bent;
    /// Of the tube bought bent, in its place in the cage: BoughtBent::saw_mm of `fitted`.
    std::array<double, 2> saw_mm = {0, 0};
};

/// @param cage  resolve(job)
/// Refuses, with a sentence: no such member, one that has no shape, no tube or no die (bought bent it needs
/// none), a bought shape that cannot be read or has no radius, a bar with nothing free to move, a line the
/// car does not have, and as fitHoop(), fitBar(), fitPreBent().
Expected<MemberFit> fitMember(const Job& job, const CageGeometry& cage, const FitCar& car,
                              const MemberWish& wish);

}  // namespace hoopwright
