// Where tapes from known points meet: in closed form for three, by least squares for any number.
#pragma once

#include <Eigen/Core>
#include <array>
#include <optional>
#include <span>
#include <vector>

#include "core/geometry/vec.h"

namespace hoopwright {

/// The two places three distances lead to: mirror images in the plane of the three centres; the first lies on
/// the side of (b - a) x (c - a). Where the spheres do not meet in one point both are the same place in that
/// plane, and `lacking_mm2` > 0 is how much the height's square falls short of 0.
/// Source: trilateration in the frame of the centres, B. T. Fang, "Trilateration and extension to global
/// positioning system navigation", J. Guidance 9 (1986) 715-717 (from memory).
/// @pre the centres do not stand in a line
struct TwoPlaces {
    Vec3 first = Vec3::Zero(), second = Vec3::Zero();
    double lacking_mm2 = 0;
};
TwoPlaces trilaterate(const std::array<Vec3, 3>& centres, const std::array<double, 3>& lengths_mm);

/// One tape as the fit sees it.
struct TapeEnd {
    Vec3 from = Vec3::Zero();
    double length_mm = 0;
    double sigma_mm = 1;  ///< one standard deviation, > 0
};

/// A place where the sum of squared residuals, each over its sigma, is least nearby.
struct TapePlace {
    Vec3 at = Vec3::Zero();
    double misfit = 0;  ///< that sum; of good tapes about their number less three
    /// How the place moves with each length: a column per tape. Not there where the place lies so near the
    /// plane of its datums that the tapes are blind across it.
    std::optional<Eigen::Matrix<double, 3, Eigen::Dynamic>> moves;
};

/// Levenberg's damped Gauss-Newton steps from `start`, to well under 1e-6 mm.
/// @pre three tapes or more
TapePlace fitTapes(std::span<const TapeEnd> tapes, const Vec3& start);

/// Every different place tapes lead to, the best first: two of three tapes, one or two of more. Starts from
/// the closed form of up to twenty triples of tapes. None if all datums stand in a line.
std::vector<TapePlace> placesOfTapes(std::span<const TapeEnd> tapes);

/// How far the farthest of the points is from the best line through them [mm].
double widthAcrossLine(std::span<const Vec3> points);

}  // namespace hoopwright
