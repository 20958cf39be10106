// A bar drawn place by place: where a click lands it or bends it, and the bar that makes.
#pragma once

#include <span>
#include <string>

#include "core/model/cage_geometry.h"

namespace hoopwright {

/// A place of a bar that is being drawn.
struct DrawnPlace {
    enum class On { bar, plate, car_point, nothing };
    On on = On::nothing;
    std::string id;          ///< resolved id of the bar or plate, name of the car point; empty on nothing
    Vec3 at = Vec3::Zero();  ///< on the bar's centreline, the plate's upper face
};

/// What a click that looked along a line (`way` unit) means: the bar it hits first, within `reach_mm` of its
/// outside; else the plate; else the car point already found there (may be empty); else the place where the
/// line comes through that plane through the last place which faces the person most, of the car's three; the
/// first place lies in the car's middle or, seen from above or below, at the height of the floor the car's
/// plates stand on (0 without any). All to the grain of the job's
/// unit (hand_grain.h).
DrawnPlace drawnAt(const Job& job, const CageGeometry& now, const Vec3& from, const Vec3& way,
                   double reach_mm, const std::string& car_point, std::span<const DrawnPlace> before);

/// The bar through these places, two or more: bends at those between the ends. A pair if none is on the right
/// and one is on the left. Not yet in the layout.
Member drawnBar(const Job& job, const CageGeometry& now, const std::string& role,
                std::span<const DrawnPlace> places);

}  // namespace hoopwright
