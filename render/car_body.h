// The car round the cage, drawn from its measured stations, lines, rails and wheels.
#pragma once

#include <vector>

#include "core/model/car.h"
#include "core/skin/shell.h"
#include "render/mesh.h"

namespace hoopwright {

/// The skin: a smooth surface through the stations, mirrored, closed at both ends; one closed shell. Empty
/// with fewer than two usable stations. Stations may stand in any order of x.
Mesh bodyShell(const std::vector<ShellStation>& stations);

/// Closed lines of a kind, filled: the panes of glass, the floors.
Mesh panes(const std::vector<SmoothLine>& lines, CarLine::Kind kind);
/// Box-section rails with mitred corners; wall and hollow ends.
Mesh railMesh(const FrameRail& rail);
/// Tyre and rim of a wheel, axle along y; the dished side looks away from the car.
Mesh wheelMesh(const Wheel& wheel);

}  // namespace hoopwright
