// The car round the cage, drawn from its measured stations, lines, rails and wheels.
#pragma once

#include <vector>

#include "core/model/car.h"
#include "render/mesh.h"

namespace hoopwright {

/// The skin: a smooth surface through the stations, mirrored, closed at both ends; one closed shell. Empty
/// with fewer than two usable stations. Stations may stand in any order of x.
Mesh bodyShell(const std::vector<ShellStation>& stations);

/// A line of the picture, a round curve through given points.
struct DrawnLine {
    CarLine::Kind kind = CarLine::Kind::body;
    std::vector<Vec3>
        points;  ///< already smooth and mirrored where it had to be; a closed one repeats its first point
};
std::vector<DrawnLine> drawnLines(const Car& car);

/// Panes: the closed lines of kind glass, filled.
Mesh glassPanes(const std::vector<DrawnLine>& lines);
/// Box-section rails with mitred corners; wall and hollow ends.
Mesh railMesh(const FrameRail& rail);
/// Tyre and rim of a wheel, axle along y; the dished side looks away from the car.
Mesh wheelMesh(const Wheel& wheel);

}  // namespace hoopwright
