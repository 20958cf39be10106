// Lines, planes, angles and bands that show a measurement, drawn over the picture.
#pragma once

#include <osg/Group>
#include <vector>

#include "core/geometry/shown_shape.h"
#include "render/colours.h"

namespace hoopwright {

/// Replaces what `into` (CageScene::evidence()) shows. Lines are about `size_mm` thick, with a pale edge so
/// that they stand out on light and dark alike; planes and bands are see-through.
void drawEvidence(osg::Group& into, const std::vector<ShownShape>& shapes, Rgb colour, double size_mm);

}  // namespace hoopwright
