// What is named in the 3D view: only what matters to the step.
#pragma once

#include <vector>

#include "app/view/overlay.h"
#include "app/window/desk.h"
#include "app/window/step_rail.h"

namespace hoopwright {

/// What is chosen, or what a chosen finding is about, is named and the rest keeps quiet. With nothing chosen:
/// the car's points in its step; while the cage is laid the bars that carry others and those that fall short
/// or cannot be built; in the check only those; in the order every piece that will be cut.
std::vector<ViewLabel> stepLabels(const Desk& desk, Step step, LengthUnit unit);

}  // namespace hoopwright
