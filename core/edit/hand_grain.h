// To what a place is rounded that a hand picked or pulled.
#pragma once

#include <cmath>

#include "core/geometry/vec.h"
#include "core/units/inch.h"
#include "core/units/measure.h"

namespace hoopwright {

/// A tenth of a millimetre; in inches the sixty-fourth a shop's rule is divided in (common practice, no
/// source).
constexpr double handGrain_mm(LengthUnit unit) {
    return unit == LengthUnit::in ? kInch_mm / 64 : 0.1;
}
/// The whole number of grains nearest to it. @pre grain_mm > 0
inline double toGrain(double mm, double grain_mm) {
    // Tenths are divided by ten: so many tenths times 0.1 would not be the number one reads.
    return grain_mm == 0.1 ? std::round(mm * 10) / 10 : std::round(mm / grain_mm) * grain_mm;
}
inline Vec3 toGrain(const Vec3& at, double grain_mm) {
    return {toGrain(at.x(), grain_mm), toGrain(at.y(), grain_mm), toGrain(at.z(), grain_mm)};
}

}  // namespace hoopwright
