// Line drawings of a car of each kind, for paper: not of any car, and to no scale but their own.
#pragma once

#include <QColor>
#include <QPainterPath>
#include <vector>

#include "core/survey/measuring.h"

class QPainter;

namespace hoopwright {

/// One path of a drawing. Drawing coordinates are mm of the car as one looks at it: to the right and down.
struct SketchPath {
    enum class Look {
        body,    ///< filled, heavy outline
        glass,   ///< filled, light outline
        line,    ///< light outline
        hidden,  ///< dashed
        metal,   ///< filled grey: wheels, rails
        ground
    };
    QPainterPath path;
    Look look = Look::line;
};

struct CarSketch {
    std::vector<SketchPath> paths;
    MeasuringStage::View view = MeasuringStage::View::left;
    QRectF bounds() const;
    /// Where a place of the car is in the drawing.
    QPointF at(const Vec3& place) const;
};
CarSketch carSketch(Car::Body body, Car::Frame frame, MeasuringStage::View view);

/// What a sketch is drawn with; `outline` is how wide its heaviest line comes out.
struct SketchInk {
    QColor ink, soft, hair, fill, glass, metal;
    double outline = 0.42;
};
/// @param scale of the painter, so that lines keep their width
void drawSketch(QPainter& painter, const CarSketch& sketch, double scale, const SketchInk& with);

}  // namespace hoopwright
