// The card a legend stands on, in the lower right corner of a picture.
#pragma once

#include "app/view/overlay.h"

namespace hoopwright {

inline constexpr double kLegendSide = 12;  ///< from the card's edge to what is on it, before scaling

/// @param width, height  of what is on it [px], its sides and 9 px above and below not counted. Above the
/// scale bar where there is one.
QRectF legendPlace(const OverlayScene& scene, double width, double height);
void paintLegendCard(QPainter& painter, const OverlayScene& scene, const QRectF& place);

}  // namespace hoopwright
