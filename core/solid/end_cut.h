// How an end of a tube is cut, in the tube's own turn: what surface each place of the cut lies on, and where
// one takes over from another.
#pragma once

#include <optional>
#include <vector>

#include "core/geometry/cope_host.h"
#include "core/model/cage_geometry.h"
#include "core/solid/solid.h"

namespace hoopwright {

/// Places of the cut on one surface of one host; of none where the host is missed.
struct CutBy {
    int host = -1, piece = -1;
    friend bool operator==(const CutBy&, const CutBy&) = default;
};

/// On a circle of the tube's wall, where the cut goes from one surface to the next.
struct CutChange {
    double theta_rad = 0;
    CutBy before, after;
};

/// Theta is counted right-handed about the tube's direction from its first end to its last, from
/// `tubeClock()`: the same generator has the same theta at both ends. Radii are between bore and outside.
class EndCut {
public:
    /// @param square  cut square at the end of the centreline, whatever it lands on
    EndCut(const CageGeometry& cage, int member, int end, bool square);

    /// Along the axis from the end of the centreline into the tube [mm].
    double into_mm(double theta_rad, double radius_mm) const;
    Vec3 point(double theta_rad, double radius_mm) const;
    /// Square to the axis, from the axis to the generator.
    Vec3 spoke(double theta_rad) const;
    CutBy by(double theta_rad, double radius_mm) const;
    /// Of the host; its normal points out of the host. @pre by() has said it
    Surface surface(CutBy by) const;
    /// The plane of the cut where it is one.
    const PlaneSurface* plane(CutBy by) const;

    /// In order of theta, from 0 to a turn.
    std::vector<CutChange> changes(double radius_mm) const;
    /// Where the edge of the cut has a corner though its surface has none: tubes of one size touch flank to
    /// flank.
    std::vector<double> corners(double radius_mm) const;

    /// Kept of the two walls, outside (0) and bore (1).
    const std::vector<CutChange>& changesOf(std::size_t wall) const { return changes_[wall]; }
    const std::vector<double>& cornersOf(std::size_t wall) const { return corners_[wall]; }
    double wall_mm(std::size_t wall) const { return wall == 0 ? outer_mm() : bore_mm(); }
    double bore_mm() const { return end_.bore_radius_mm; }
    double outer_mm() const { return end_.outer_radius_mm; }
    const CopeEnd& end() const { return end_; }
    /// The tube's direction there, from its first end to its last.
    Vec3 along() const { return turn_ * end_.inward; }

private:
    struct Met {
        Meeting meeting;
        int host;
    };
    Met met(double theta_rad, double radius_mm) const;
    double slope(double theta_rad, double radius_mm, double step) const;
    double cornerBetween(double from, double to, double radius_mm, bool& found) const;

    CopeEnd end_;
    double turn_;  ///< of phi when theta grows: 1 at the first end, -1 at the last
    std::vector<CopeHost> hosts_;
    std::vector<PreparedHost> ready_;
    std::vector<int> host_of_ready_;
    std::vector<std::optional<PlaneSurface>> planes_;  // per host
    std::array<std::vector<CutChange>, 2> changes_;
    std::array<std::vector<double>, 2> corners_;
};

}  // namespace hoopwright
