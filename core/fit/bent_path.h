// A path and its bends while it is being fitted: every place moves smoothly with the corners.
#pragma once

#include <array>
#include <span>
#include <vector>

#include "core/geometry/centreline.h"

namespace hoopwright {

/// A place that keeps its share of its straight or bend. Piece 2i is the straight behind path point i, piece
/// 2i - 1 the bend at path point i.
struct BarPlace {
    int piece = 0;
    double share = 0;  ///< 0 to 1
};

/// As makeCentreline() draws it, wherever that has no problem; where bends overlap, straights of negative
/// length instead of smaller radii, so that slopes go on. Lengths [mm].
class BentPath {
public:
    /// @param skip_mm  how much of the first and the last straight, from the ends, belongs to no place
    BentPath(std::span<const Vec3> points, double radius_mm, std::array<double, 2> skip_mm = {0, 0});

    int pieces() const { return 2 * (static_cast<int>(points_.size()) - 1) - 1; }
    static bool isBend(int piece) { return piece % 2 == 1; }
    Vec3 point(const BarPlace& place) const;
    /// Without what is skipped.
    double length_mm(int piece) const;
    /// The whole straight behind path point i. Negative where the bends at its ends overlap.
    double straight_mm(int i) const;
    double angle_rad(int corner) const { return corners_[static_cast<std::size_t>(corner)].angle_rad; }
    const std::vector<Vec3>& points() const { return points_; }

    struct Near {
        BarPlace place;
        Vec3 at = Vec3::Zero();
        double distance_mm = 0;
    };
    Near nearest(const Vec3& p) const;

private:
    struct Corner {
        double angle_rad = 0, setback_mm = 0;
        Vec3 in = Vec3::Zero(), inward = Vec3::Zero();  ///< unit: along, and towards the bend's centre
        Vec3 start = Vec3::Zero();
    };
    Vec3 straightStart(int i) const;
    Vec3 straightEnd(int i) const;
    const Corner& cornerOf(int piece) const { return corners_[static_cast<std::size_t>((piece + 1) / 2)]; }

    std::vector<Vec3> points_, along_;
    std::vector<Corner> corners_;
    double radius_;
    std::array<double, 2> skip_;
};

}  // namespace hoopwright
