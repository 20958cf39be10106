// Pinned dimensions as they are drawn over the picture.
#pragma once

#include <QPointF>
#include <QString>
#include <string>
#include <vector>

#include "app/view/label_layout.h"
#include "core/model/measure_dimension.h"

class QPainter;

namespace hoopwright {

struct OverlayScene;

struct DimensionSign {
    std::string id;
    QString name;
    PinnedDimension::Kind kind = PinnedDimension::Kind::distance;
    MeasuredDimension read;
    bool chosen = false;
};

/// One for each that reads something, in their order.
std::vector<DimensionSign> dimensionSigns(const Job& job, const CageGeometry& now,
                                          const std::string& chosen = {});

/// "812.4 mm", "47.3°".
QString dimensionText(const MeasuredDimension& read, const LengthStyle& style);

/// Not where a section takes both its ends away.
bool isDrawn(const DimensionSign& sign, const OverlayScene& scene);
/// The lines of a sign as they are seen, for labels to keep off; nothing where it is behind the eye.
std::vector<std::vector<QPointF>> dimensionLines(const DimensionSign& sign, const OverlayScene& scene);
/// Where its label points: the middle of its line or arc.
Vec3 dimensionMiddle(const DimensionSign& sign);

/// Dimension lines with arrow heads; where there is no room for them between the ends they stand outside and
/// point inwards. A height stands on its datum, an angle has two legs and an arc.
void paintDimensions(QPainter& painter, const OverlayScene& scene);

}  // namespace hoopwright
