// Lines, planes, angles and bands that show a measurement, drawn over the picture.
#pragma once

#include <osg/Group>
#include <variant>
#include <vector>

#include "core/geometry/vec.h"
#include "render/scene.h"

namespace hoopwright {

/// Shapes to draw; the app fills these from a Finding (render knows no rules).
struct DrawnPoint { Vec3 at; };
struct DrawnLine { Vec3 from, to; bool dimension = false; };
struct DrawnAngle { Vec3 apex, from, to; };
struct DrawnPlane { Vec3 at, normal; double half_size_mm = 300; };
struct DrawnBand { Vec3 low, high, across; };
using DrawnShape = std::variant<DrawnPoint, DrawnLine, DrawnAngle, DrawnPlane, DrawnBand>;

void drawEvidence(osg::Group& into, const std::vector<DrawnShape>& shapes, Rgb colour, double size_mm);

}  // namespace hoopwright
