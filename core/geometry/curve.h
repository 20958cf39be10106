// Smooth curves through measured points.
#pragma once

#include <vector>

#include "core/geometry/vec.h"

namespace hoopwright {

/// Slopes at the knots of a curve y(x) through (x[i], y[i]) that never overshoots its points.
/// Method: F. N. Fritsch and J. Butland, SIAM J. Sci. Stat. Comput. 5 (1984), weighted harmonic means.
/// @pre x strictly growing, same size, at least 2.
std::vector<double> monotoneSlopes(const std::vector<double>& x, const std::vector<double>& y);
/// The cubic between knots i and i+1 at x.
double hermite(double x, double x0, double x1, double y0, double y1, double slope0, double slope1);

/// A centripetal Catmull-Rom curve through the points, `steps` stretches between neighbours; ends natural, or
/// closed (the first point then stands at the end again). Points where the path turns by more than
/// `corner_rad` stay corners.
std::vector<Vec3> smoothCurve(const std::vector<Vec3>& points, int steps, bool closed, double corner_rad = 4);

}  // namespace hoopwright
