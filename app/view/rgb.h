// Colours of the scene as Qt has them, and back.
#pragma once

#include <QColor>

#include "render/colours.h"

namespace hoopwright {

inline QColor colourOf(const Rgb& rgb) {
    return QColor::fromRgbF(rgb.r, rgb.g, rgb.b);
}
inline Rgb toRgb(const QColor& colour) {
    return {static_cast<float>(colour.redF()), static_cast<float>(colour.greenF()),
            static_cast<float>(colour.blueF())};
}

}  // namespace hoopwright
