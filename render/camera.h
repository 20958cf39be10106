// A View on an OpenSceneGraph camera.
#pragma once

#include <osg/Camera>

#include "render/view.h"

namespace hoopwright {

/// Sets view and projection for a picture of that shape. Near and far planes are chosen from `bounds` (of the
/// scene) and the ground round it, and do not jump with what is in sight.
void applyView(osg::Camera& camera, const View& view, const Box& bounds, double aspect);

}  // namespace hoopwright
