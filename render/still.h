// A picture without a display: our own OpenGL context (EGL, surfaceless), nothing of X.
#pragma once

#include <cstdint>
#include <vector>

#include "core/base/expected.h"
#include "render/scene.h"

namespace hoopwright {

struct Pixels {
    int width = 0, height = 0;
    std::vector<std::uint8_t> rgba;  ///< rows from the top, 4 bytes a pixel
};
/// Draws the scene at full quality, 4x multisampled and `supersample` times larger in each direction, then
/// averaged. The reason says what the machine lacks. At most 16384 pixels a side.
Expected<Pixels> still(CageScene& scene, const View& view, int width, int height, int supersample = 2);

}  // namespace hoopwright
