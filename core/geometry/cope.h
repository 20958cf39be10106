// The shape cut on a tube's end so that it sits on the outside of other tubes or on a plate.
#pragma once

#include <optional>
#include <span>
#include <variant>
#include <vector>

#include "core/base/expected.h"
#include "core/geometry/centreline.h"

namespace hoopwright {

/// The end that is cut. Stations phi run right-handed about `inward` from `clock`:
/// the generator at phi lies at  foot + r (clock cos phi + (inward x clock) sin phi) + s inward.
struct CopeEnd {
    Vec3 foot = Vec3::Zero();  ///< where the branch axis is taken to end (usually on the host's centreline)
    Vec3 inward = Vec3::UnitX();  ///< unit, along the branch axis away from the host
    Vec3 clock = Vec3::UnitZ();   ///< unit, square to inward: phi = 0
    double outer_radius_mm = 0;
    double bore_radius_mm = 0;  ///< 0 <= bore < outer
};

/// A tube the end sits on. Only the host near `station_mm` is looked at: as far as a branch of this size and
/// angle can reach. Bends are true tori. Past an end of the host the last piece is carried on straight, and
/// stations that land there count as missed.
struct CopeTube {
    const Centreline* line = nullptr;  ///< not owned; must outlive the call
    double radius_mm = 0;
    double station_mm = 0;
};
/// A straight edge of a flat face. `out`: unit, in the face, square to the edge, off the face.
struct CopeRim {
    Vec3 point = Vec3::Zero(), out = Vec3::UnitX();
};
/// A flat plate face; the metal of the plate is on the side opposite to the normal. Past a rim it is carried
/// on, and stations that land there count as missed.
struct CopePlane {
    Vec3 point = Vec3::Zero();
    Vec3 normal = Vec3::UnitZ();
    std::vector<CopeRim> rims = {};
};
using CopeHost = std::variant<CopeTube, CopePlane>;

/// One edge of the cut. s[i] at phi = 2 pi i / n: distance along `inward` from foot to the cut [mm]; the
/// largest over all hosts. `missed[i]`: no host is met at that station (s is then where the host comes
/// nearest, or that of the host carried on past its end).
struct CopeEdge {
    std::vector<double> s_mm;
    std::vector<bool> missed;
    double least_mm = 0, least_phi_rad = 0;  ///< exact extremes, between stations too
    double greatest_mm = 0, greatest_phi_rad = 0;
    int missedCount() const;
};

/// Feather edge: where the bore edge lies farther back than the outer edge, that length has less than the
/// full wall.
struct CopeProfile {
    int stations = 0;
    CopeEdge outer;
    CopeEdge bore;
    std::vector<double>
        to_full_wall_mm;  ///< per station, >= 0: length to grind, along the tube, for full wall
    double grind_mm = 0, grind_phi_rad = 0;  ///< its greatest value
    double edge_length_mm =
        0;  ///< of the outer edge in space where a host is met: the weld's length, to 1 in 1000
    double least_dihedral_rad =
        0;  ///< smallest angle between the outer walls along the weld: at a heel of 60 deg, 60 deg
    double mean_cut_mm = 0;  ///< s averaged over the metal of the section: what the cope takes off the mass,
                             ///< to 1e-3 mm
};

/// Straight hosts in closed form; bends to kCopeError_mm; several hosts as the envelope. Hosts the branch
/// runs along (to 3 degrees) or a plane it comes from behind are left out if there is another; the reason
/// says so if there is none, or if no station meets anything. Where a generator is all but tangent to its
/// host, s is as exact as the radii are. Formula for one straight host: development of intersecting
/// cylinders; see tests/outside for the check values.
/// @pre stations >= 8, hosts not empty with lines that are not empty, lengths finite.
inline constexpr double kCopeError_mm = 1e-9;
Expected<CopeProfile> cope(const CopeEnd& end, std::span<const CopeHost> hosts, int stations);

/// `mean_cut_mm` of cope() by itself, in a tenth of the time. Nothing where cope() gives a reason.
std::optional<double> meanCut_mm(const CopeEnd& end, std::span<const CopeHost> hosts);

/// Volume of metal of a tube cut by `profile` at one end, from the cut to `axis_length_mm` from foot, square
/// there [mm3].
double copedVolume_mm3(const CopeEnd& end, const CopeProfile& profile, double axis_length_mm);

}  // namespace hoopwright
