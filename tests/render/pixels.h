// Reading drawn pictures: brightness, and where two of them differ.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "render/still.h"
#include "render/view.h"

namespace hoopwright::testing_render {

struct Pixel {
    int x = 0, y = 0;
};
inline Pixel pixelOf(const View& view, const Vec3& p, const Pixels& picture) {
    const Vec3 at = view.project(p, picture.width, picture.height);
    return {static_cast<int>(std::floor(at.x())), static_cast<int>(std::floor(at.y()))};
}

inline const std::uint8_t* at(const Pixels& picture, Pixel p) {
    p.x = std::clamp(p.x, 0, picture.width - 1);
    p.y = std::clamp(p.y, 0, picture.height - 1);
    return &picture.rgba[4 * (static_cast<std::size_t>(p.y) * static_cast<std::size_t>(picture.width) +
                              static_cast<std::size_t>(p.x))];
}
inline Rgb colourAt(const Pixels& picture, Pixel p) {
    const std::uint8_t* c = at(picture, p);
    return {static_cast<float>(c[0]) / 255, static_cast<float>(c[1]) / 255, static_cast<float>(c[2]) / 255};
}
/// 0 to 255.
inline double brightness(const Pixels& picture, Pixel p) {
    const std::uint8_t* c = at(picture, p);
    return 0.30 * c[0] + 0.59 * c[1] + 0.11 * c[2];
}
/// Of a square of 2 `reach` + 1 pixels a side.
inline double meanBrightness(const Pixels& picture, Pixel middle, int reach) {
    double sum = 0;
    for (int y = -reach; y <= reach; ++y)
        for (int x = -reach; x <= reach; ++x) sum += brightness(picture, {middle.x + x, middle.y + y});
    return sum / ((2 * reach + 1) * (2 * reach + 1));
}

/// Greatest difference of a channel.
inline int difference(const Pixels& a, const Pixels& b, Pixel p) {
    const std::uint8_t *c = at(a, p), *d = at(b, p);
    return std::max({std::abs(c[0] - d[0]), std::abs(c[1] - d[1]), std::abs(c[2] - d[2])});
}

/// Where two pictures differ by more than `least`.
struct Changed {
    int count = 0;
    int left = 1 << 30, right = -1, top = 1 << 30, bottom = -1;
    double x = 0, y = 0;  // middle of all that changed
};
inline Changed changed(const Pixels& a, const Pixels& b, int least = 2) {
    Changed all;
    for (int y = 0; y < a.height; ++y)
        for (int x = 0; x < a.width; ++x) {
            if (difference(a, b, {x, y}) <= least) continue;
            ++all.count;
            all.left = std::min(all.left, x), all.right = std::max(all.right, x);
            all.top = std::min(all.top, y), all.bottom = std::max(all.bottom, y);
            all.x += x + 0.5, all.y += y + 0.5;
        }
    if (all.count > 0) all.x /= all.count, all.y /= all.count;
    return all;
}

}  // namespace hoopwright::testing_render
