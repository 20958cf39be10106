// The surfaces a measured car has of itself: its shell between the cross-sections, and its lines as smooth
// curves.
#pragma once

#include <vector>

#include "core/model/car.h"

namespace hoopwright {

/// Half an outline (y, z), from the sill's bottom to the roof's middle, at one x.
struct ShellSection {
    double x_mm = 0;
    std::vector<Vec2> half;
};
/// The shell as sections no farther apart than 40 mm, from the rear forward: smooth through the measured
/// points, without overshoot. All have the same number of points. Stations of another number of points than
/// the first one are left out; empty with fewer than two left. They may stand in any order of x.
std::vector<ShellSection> shellSections(const std::vector<ShellStation>& stations);

/// A line of the car as it is drawn and measured against, smooth through its points, corners kept.
struct SmoothLine {
    std::string name;
    CarLine::Kind kind = CarLine::Kind::body;
    std::vector<Vec3> points;  ///< a closed one repeats its first point
};
/// Lines of two points or more; one given for the left that stands for both sides comes twice.
std::vector<SmoothLine> smoothLines(const Car& car);
/// Does it end where it starts, and so bound a surface?
bool isRing(const SmoothLine& line);

}  // namespace hoopwright
