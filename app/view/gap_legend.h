// What the colours of the gap mean, in a corner of the picture.
#pragma once

#include <QString>
#include <vector>

#include "app/view/bar_gaps.h"
#include "app/view/overlay.h"

namespace hoopwright {

/// "touching, or through it", "up to 10 mm", "10 to 25 mm" ... "over 200 mm": one a band.
std::vector<QString> gapBandWords(LengthUnit unit);
/// The label of a bar with its least gap in place of its tube, and the colour of that. @pre scene.gaps is set
ViewLabel withGap(ViewLabel label, const OverlayScene& scene);
/// Above the scale bar at the bottom right. @pre scene.gaps is set
QRectF gapLegendPlace(const OverlayScene& scene);
void paintGapLegend(QPainter& painter, const OverlayScene& scene);

}  // namespace hoopwright
