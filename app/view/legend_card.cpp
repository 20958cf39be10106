#include "app/view/legend_card.h"

#include <QPainter>

namespace hoopwright {

QRectF legendPlace(const OverlayScene& scene, double width, double height) {
    constexpr double kFromEdge = 12, kAboveScaleBar = 46;
    const double k = scene.scale;
    width += 2 * kLegendSide * k;
    height += 18 * k;
    const double foot = scene.view.orthographic_height_mm > 0 ? kAboveScaleBar : kFromEdge;
    return {scene.size.width() - width - kFromEdge * k, scene.size.height() - height - foot * k, width,
            height};
}

void paintLegendCard(QPainter& painter, const OverlayScene& scene, const QRectF& place) {
    LabelBlock card;
    card.size = place.size();
    card.corner = 6 * scene.scale;
    paintBlock(painter, card, place.topLeft(), scene.palette);
}

}  // namespace hoopwright
