// Places a hand likes to let go at, and why.
#pragma once

#include <optional>
#include <string>

#include "core/edit/grip.h"

namespace hoopwright {

struct Snap {
    Vec3 at = Vec3::Zero();
    std::string why;  ///< "level", "square to Main hoop", "where Belt bar lands": goes on after a dash
};

/// The nearest of the places within `reach_mm` of `place` where the grip makes something come out even:
/// where another bar lands, the middle of a straight, the end of a bend, the car's middle, level, plumb,
/// straight along or square across the car, square to what it lands on, parallel to a bar of its role, alike
/// on both sides, upright, over a rail, in line with another plate. `place` is one the grip can go to, and so
/// is what comes back, to a tenth of a millimetre.
std::optional<Snap> snapped(const Job& job, const CageGeometry& now, const Grip& grip, const Vec3& place,
                            double reach_mm);

}  // namespace hoopwright
