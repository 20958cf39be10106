// A cage drawn as a line drawing, small enough for a list.
#pragma once

#include <QPixmap>

#include "app/view/palette.h"
#include "core/model/cage_geometry.h"

class QPainter;
class QRectF;

namespace hoopwright {

/// Its tubes as they are in space, seen from ahead, the left and above, as large as `in` lets them be.
void sketchCage(QPainter& painter, const QRectF& in, const CageGeometry& cage, const Palette& palette);
QPixmap cageSketch(const CageGeometry& cage, const QSize& size, double pixel_ratio, const Palette& palette);

}  // namespace hoopwright
