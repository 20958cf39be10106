// The shape cut on a tube's end so that it sits on the outside of other tubes or on a plate.
#pragma once

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

/// A tube the end sits on. Only the stretch within `reach_mm` of station is looked at; bends are true tori.
struct CopeTube {
    const Centreline* line = nullptr;  ///< not owned; must outlive the call
    double radius_mm = 0;
    double station_mm = 0;
};
/// A flat plate face; the metal of the plate is on the side opposite to the normal.
struct CopePlane {
    Vec3 point = Vec3::Zero();
    Vec3 normal = Vec3::UnitZ();
};
using CopeHost = std::variant<CopeTube, CopePlane>;

/// One edge of the cut. s[i] at phi = 2 pi i / n: distance along `inward` from foot to the cut [mm];
/// the largest over all hosts. `missed[i]`: no host is met at that station (s is then that of tangency, the
/// nearest the host comes, or 0 for a plane that is never met).
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
    double edge_length_mm = 0;               ///< of the outer edge in space: the weld's length
    double least_dihedral_rad = 0;           ///< smallest angle between the tube walls along the outer edge
};

/// Straight hosts in closed form; bends to kCopeError_mm; several hosts as the envelope.
/// Formula for one straight host: handbook development of intersecting cylinders; see tests/outside for the
/// check values.
/// @pre stations >= 8, hosts not empty, lengths finite. The reason names what cannot be coped (axis along the
/// host).
inline constexpr double kCopeError_mm = 1e-9;
Expected<CopeProfile> cope(const CopeEnd& end, std::span<const CopeHost> hosts, int stations);

/// Volume of metal of a tube cut by `profile` at one end, from the cut to `axis_length_mm` from foot [mm3].
double copedVolume_mm3(const CopeEnd& end, const CopeProfile& profile, double axis_length_mm);

}  // namespace hoopwright
