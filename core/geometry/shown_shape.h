// Shapes that show a measurement in space: what a finding points at and a picture draws. Car axes, mm.
#pragma once

#include <variant>

#include "core/geometry/vec.h"

namespace hoopwright {

struct ShownPoint {
    Vec3 at = Vec3::Zero();
};
struct ShownLine {
    Vec3 from = Vec3::Zero(), to = Vec3::Zero();
    bool dimension = false;  ///< drawn with ends and its length
};
/// An angle at `apex` between the legs to `from` and `to`.
struct ShownAngle {
    Vec3 apex = Vec3::Zero(), from = Vec3::Zero(), to = Vec3::Zero();
};
struct ShownPlane {
    Vec3 at = Vec3::Zero(), normal = Vec3::UnitZ();
    double half_size_mm = 300;
};
/// An allowed band from `low` to `high`, drawn along +-across.
struct ShownBand {
    Vec3 low = Vec3::Zero(), high = Vec3::Zero(), across = Vec3::UnitY() * 300;
};
using ShownShape = std::variant<ShownPoint, ShownLine, ShownAngle, ShownPlane, ShownBand>;

}  // namespace hoopwright
