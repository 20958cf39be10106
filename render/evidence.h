// Lines, planes, angles and bands that show a measurement, drawn over the picture.
#pragma once

#include <osg/Group>
#include <vector>

#include "core/geometry/shown_shape.h"
#include "render/scene.h"

namespace hoopwright {

/// Lines are given a thickness of about `size_mm`; drawn over everything, see-through planes and bands.
void drawEvidence(osg::Group& into, const std::vector<ShownShape>& shapes, Rgb colour, double size_mm);

}  // namespace hoopwright
