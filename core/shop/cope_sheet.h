// All a tube needs at the notcher: the wrap for each end, the saw, the grinding, and what the weld will be.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "core/model/cage_geometry.h"
#include "core/shop/joint_cope.h"

namespace hoopwright {

/// A hole saw of the shelf for one host.
struct SawPick {
    double size_mm = 0;
    /// Greatest distance the outer edge of the cut then stands off the host, tube pushed home, and where.
    double gap_mm = 0, gap_phi_rad = 0;
};

/// A tube or a face of a plate the end is cut to.
struct CutTo {
    std::string id, name;
    bool plate = false;
    std::string flap;      ///< of a plate: edgeWord() of the flap that this face is of; empty: the flat face
    double angle_rad = 0;  ///< between the axes; to a plate: between axis and plate. (0, pi/2]
    double offset_mm = 0;  ///< least distance of the axes; 0 for a plate
    bool on_bend = false;
    double diameter_mm = 0;  ///< of the host; 0 for a plate
    /// Round the tube from its clock line to the side the host leans to: there the heel is, and the saw's
    /// axis lies in the plane through it. As phi of CopeEnd, [0, 2 pi).
    double heel_phi_rad = 0;
    double depth_mm = 0;  ///< from the tube's longest point, along its axis, to where the saw's axis passes
    std::optional<SawPick> saw;
    std::string no_saw;  ///< why there is none
};

/// Where an end lies on a plate across the fold of a flap: the cut line is that of sharp faces, and the fold
/// is round. Inside radius as the shop's book has it for that sheet.
struct FoldUnder {
    std::string flap;                 ///< edgeWord() of it
    double angle_rad = 0;             ///< as said: positive where it is folded up
    std::optional<double> inside_mm;  ///< its inside radius; nothing: the book has no fold in that sheet
    /// Along the tube where it crosses the fold. Folded up, the round fills the corner: to take off the end
    /// there. Folded down, the round falls away from the line: the gap it leaves.
    std::optional<double> take_off_mm, gap_mm;
};

/// Two straight cuts that meet across the tube, each from a square cut; they follow the bore at heel, toe and
/// flanks. Common practice with the chop saw, no source.
struct FlatCuts {
    double heel_rad = 0, toe_rad = 0;
    double grind_mm = 0;   ///< greatest length left to grind off, along the tube
    double gap_mm = 0;     ///< greatest length cut back past a cope ground to the full wall, along the tube
    std::string saw = {};  ///< Saw::name of the shop's first that swings so far; empty: none does
};

/// Grinding back at the worst place until so much wall shows, and the gap to the host it leaves.
struct LandStep {
    double land_mm = 0, grind_mm = 0, gap_mm = 0;
};

/// Length of the weld by the angle between the outer walls [mm]. Bounds: EN 1993-1-8 4.3.2 and AWS D1.1 (both
/// from memory): fillet from 60 to 135 degrees; below 60 the root does not count in full; below 30 it can't
/// be reached; over 135 a groove.
struct WeldZones {
    double under_30_mm = 0, from_30_mm = 0, from_60_mm = 0, over_135_mm = 0;
};
/// A stretch round the tube, phi from `from_rad` on to `to_rad`, which may pass 2 pi.
struct Arc {
    double from_rad = 0, to_rad = 0;
};

struct CopeSheetEnd {
    bool square = false;  ///< it lands on nothing
    std::string at;       ///< what stands there
    std::string trouble;  ///< why it can't be cut; then the rest is empty
    CopeEnd frame;
    CopeProfile profile;                                ///< kWrapStations stations
    std::vector<double> dihedral_rad;                   ///< per station; NaN where no host is met
    double long_mm = 0, long_phi_rad = 0;               ///< the longest point, outside or bore: least s
    double short_mm = 0, short_phi_rad = 0;             ///< the throat: greatest s
    std::optional<double> up_phi_rad, forward_phi_rad;  ///< which side of the tube is the car's up and front
    std::vector<CutTo> hosts;                           ///< in the order they are cut
    std::vector<FoldUnder> folds;
    std::optional<FlatCuts> flats;
    std::vector<LandStep> lands;  ///< a quarter, half and all of the wall; empty where nothing is thin
    double thin_share = 0;        ///< of the round: where more than kThin_mm are to be ground off
    double thin_mm = 0;           ///< the same as a length round the tube
    WeldZones zones;
    std::vector<Arc> grooves;  ///< over 135 degrees
    std::vector<Arc> narrow;   ///< under 30 degrees
    double weld_mm = 0;
};

struct CopeSheet {
    int member = -1;
    int fitted = 0;     ///< 1 for the bar put in first; ends are cut to bars put in earlier
    std::string clock;  ///< what the clock line is on: "the outside of bend 1", "the upper side"
    CutLength cut;
    double od_mm = 0, wall_mm = 0;
    std::array<CopeSheetEnd, 2> ends;  ///< A and B
    /// From the longest point at A to the longest at B round the tube, clockwise seen from A, (-pi, pi].
    std::optional<double> clock_between_rad;
    std::optional<double> seam_phi_rad;  ///< where to keep a seam, at end A; nothing: it has none
    double wrap_mm = 0;                  ///< round the tube as the paper lies, register mark to register mark
    double clean_outside_mm = 0, clean_inside_mm = 0;
    double weld_mm = 0;  ///< of both ends
    std::optional<double> filler_g, gas_l;
    std::optional<std::array<double, 2>>
        saw_off_mm;  ///< of a tube bought bent: off its legs, before the copes
    std::vector<std::string> cautions;
};
inline constexpr int kWrapStations = 360;
inline constexpr double kThin_mm = 1;

/// The reason says why there is none: no tube.
Expected<CopeSheet> copeSheet(const Job& job, const CageGeometry& cage, int member);

/// A line round the tube from phi = 0 to 2 pi as points (phi, s), from evenly spaced stations: corners that
/// lie between two of them, where tubes of one size meet or one host takes over from another, are put in.
/// Chords stray less than 0.01 mm from the true line on tubes up to 60 mm.
std::vector<Vec2> wrapLine(const std::vector<double>& s_mm);
/// Per station, where the edge of the tube is once it is ground until the wall is full.
std::vector<double> groundTo(const CopeProfile& profile);

/// The gap a saw of that radius leaves to the host.
Expected<SawPick> sawGap(const CopeEnd& end, const CopeTube& host, double saw_radius_mm);
/// @pre one straight host, axes that meet, a branch no wider than the host
Expected<FlatCuts> flatCuts(const CopeEnd& end, const CopeTube& host);

}  // namespace hoopwright
