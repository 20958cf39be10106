// A picture without a display: our own OpenGL context (EGL, surfaceless), nothing of X.
#pragma once

#include <cstdint>
#include <vector>

#include "core/base/expected.h"
#include "core/base/progress.h"
#include "render/scene.h"

namespace hoopwright {

struct Pixels {
    int width = 0, height = 0;
    std::vector<std::uint8_t> rgba;  ///< rows from the top, 4 bytes a pixel
};
/// The largest side of a still.
inline constexpr int kMostSide_px = 16384;
/// Draws the scene at full quality, 4x multisampled and `supersample` times larger in each direction, then
/// averaged; on a renderer that cannot multisample, larger still instead. In parts, so that no renderer's
/// limit counts. The reason says what the machine lacks, that a side is longer than kMostSide_px, or that
/// `progress`, asked on another thread before each part, wanted no more.
Expected<Pixels> still(CageScene& scene, const View& view, int width, int height, int supersample = 2,
                       const WorkProgress& progress = {});

}  // namespace hoopwright
