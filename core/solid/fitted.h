// Cubic splines through curves that have no simpler form, to a thousandth of what a shop can measure.
#pragma once

#include <functional>
#include <vector>

#include "core/solid/solid.h"

namespace hoopwright {

/// No place of a fitted curve is farther from the true one than about this [mm]; beside a touch of two tubes,
/// where the cut itself is known to some 1e-5 mm only, than ten times as much.
inline constexpr double kFitted_mm = 2e-6;

using Curve3 = std::function<Vec3(double)>;

/// Parameters between which cubics that share the curve's points and slopes are near enough, ends included.
/// @pre from < to; the curve has no corner between them
std::vector<double> knotsFor(const Curve3& curve, double from, double to, double near_mm = kFitted_mm);
/// The curve's rate at each of the knots, from its values within [first, last].
std::vector<Vec3> ratesAt(const Curve3& curve, const std::vector<double>& knots);
SplineEdge splineThrough(const Curve3& curve, double from, double to);

/// Poles of cubics joined smoothly: two for each knot.
std::vector<Vec3> polesOf(const std::vector<double>& knots, const std::vector<Vec3>& points,
                          const std::vector<Vec3>& rates);

}  // namespace hoopwright
