// Where things of the car stand in a picture, in logical pixels.
#pragma once

#include <QPointF>
#include <QSize>
#include <optional>
#include <vector>

#include "app/view/label_layout.h"
#include "core/model/cage_geometry.h"
#include "render/view.h"

namespace hoopwright {

/// A view on a picture of a size. Points are in mm in car axes.
class Projection {
public:
    Projection(View view, QSize size) : view_(std::move(view)), size_(size) {}

    const View& view() const { return view_; }
    QSize size() const { return size_; }
    /// Nothing for a point behind the camera.
    std::optional<QPointF> at(const Vec3& p) const;
    /// Depth along the line of sight [mm]; negative behind the camera.
    double depth(const Vec3& p) const;
    /// Size of a millimetre at that point, across the line of sight.
    double pixelsPerMm(const Vec3& p) const;
    /// Ray through a pixel: a point and a unit direction.
    std::pair<Vec3, Vec3> ray(const QPointF& pixel) const;

    /// A polyline of `half_mm` half width as it is seen; in pieces where it passes behind the camera.
    std::vector<Stroke> strokes(const std::vector<Vec3>& points, double half_mm) const;
    std::vector<Stroke> strokes(const ResolvedMember& member) const;
    std::vector<Stroke> strokes(const ResolvedPlate& plate) const;

private:
    View view_;
    QSize size_;
};

}  // namespace hoopwright
