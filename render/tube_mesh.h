// A bent tube as triangles: true arcs, ends cut to their copes, bore and all.
#pragma once

#include <span>
#include <vector>

#include "core/geometry/centreline.h"
#include "core/geometry/cope.h"
#include "core/geometry/section.h"
#include "render/mesh.h"

namespace hoopwright {

/// A cross-section of the sweep: the point at angle a and radius r is  at + r (u cos a + v sin a).
struct SweepFrame {
    Vec3 at = Vec3::Zero();
    Vec3 along = Vec3::UnitX(), u = Vec3::UnitY(), v = Vec3::UnitZ();  ///< right-handed: along x u = v
};

/// Carries a direction along a centreline without twist; exact through the arcs.
class TubeSweep {
public:
    /// `clock` is made square to the tube at its first end. @pre the line is not empty.
    TubeSweep(const Centreline& line, const Vec3& clock);
    /// Straight on beyond the ends.
    SweepFrame frame(double station_mm) const;
    double length_mm() const { return line_.length_mm(); }
    const Centreline& line() const { return line_; }

private:
    const Centreline& line_;    // not owned
    std::vector<Vec3> clocks_;  // at the start of each piece
};

/// Where one end of a tube is cut: for each side of the mesh, how far from the end of the centreline, counted
/// into the tube [mm]; negative: the tube reaches beyond. Side k lies at angle 2 pi k / sides of the sweep.
struct TubeCut {
    std::vector<double> outer_mm, bore_mm;
    std::vector<bool> missed;  ///< no host there: no weld
    bool welded = false;

    static TubeCut square(int sides);
    /// From a cope with as many stations as sides. `end` 0 or 1; `foot_mm`: how far the cope's foot lies
    /// inside the end of the centreline, along the tube.
    static TubeCut from(const CopeProfile& profile, int end, double foot_mm = 0);
    double deepest_mm() const;
};

struct TubeDetail {
    int sides = 32;
    double chord_error_mm = 0.25;  ///< of the arcs
    double step_mm = 90;           ///< greatest distance of rings on a straight (for the baked shadow)
    bool bore = true;              ///< cut faces and bore; else the tube is an open skin
    std::vector<double> near_mm;   ///< stations where more rings are wanted: where other tubes land
};

/// The mesh is closed when `bore` is set. Ends longer than the tube has room for are cut back to its middle.
/// @pre the section is valid, both cuts have `sides` entries, sides >= 3.
Mesh tubeMesh(const TubeSweep& sweep, const TubeSection& section, const TubeCut& first, const TubeCut& last,
              const TubeDetail& detail);

}  // namespace hoopwright
