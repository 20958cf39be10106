// What a hand can take hold of on a cage, and what becomes of the cage when it is pulled somewhere.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "core/base/expected.h"
#include "core/model/cage_geometry.h"
#include "core/units/measure.h"

namespace hoopwright {

/// A place of a resolved bar or plate that can be moved in one way. Positions in car axes [mm].
struct Grip {
    enum class Kind {
        landing,  ///< where a bar lands: along the bar it lands on
        node,     ///< all that lands on a bar in one place, together along it
        corner,   ///< a bend or a free end: in the plane of its two neighbours, or any one way
        bar,      ///< a whole bar, parallel to itself: its ends along what they land on; of a tube bought
                  ///< bent that stands on plates two, the second (point 1) level
        lean,     ///< a hoop that stands on two feet, about the line through them
        plate     ///< a foot plate in its own face, with what stands on it
    };
    Kind kind = Kind::landing;
    std::string part;       ///< resolved id of the bar or plate
    std::size_t point = 0;  ///< landing, corner: of its path
    Vec3 at = Vec3::Zero();
    std::string host;             ///< landing, node: resolved id of the bar it slides along
    Vec3 normal = Vec3::UnitZ();  ///< corner, bar, plate: unit, of the plane through `at` it moves in; lean:
                                  ///< the axis it turns about
    Vec3 pivot = Vec3::Zero();    ///< lean: on that axis
    friend bool operator==(const Grip&, const Grip&) = default;
};

/// What can be taken hold of on a bar or plate; none of an id that resolves to nothing. A bar's order: points
/// of its path from its first end, nodes where others land on it, then the whole of it.
std::vector<Grip> gripsOf(const Job& job, const CageGeometry& now, std::string_view part);

/// The place a grip can go to that is nearest to a line of sight (`way` unit). A plane seen on edge and a way
/// seen end on give `grip.at`.
Vec3 placeUnder(const CageGeometry& now, const Grip& grip, const Vec3& from, const Vec3& way);

/// Where a grip is, in a number that can be typed. Of a landing what it says itself: a height, a distance, a
/// share of its host; of a corner or plate its coordinates; of a bar the way it was moved since the grip was
/// taken; of a lean the angle to upright, back positive.
struct GripNumber {
    std::string name;  ///< "height", "x", "lean"
    Dimension dimension = Dimension::length;
    double value = 0;  ///< mm, rad; a share has no dimension
};
/// @param at  where the grip is now; its own place if it has not been moved
std::vector<GripNumber> numbersOf(const Job& job, const CageGeometry& now, const Grip& grip, const Vec3& at);

/// The cage with the grip as near to `to` as its kind allows. `job` and `now` are those the grip was taken
/// from, so that a drag starts from them at every step. Landings keep the way they are said in; what cannot
/// be said so (a height the host passes twice) is said by distance. Values are rounded to `grain_mm`.
/// Refuses, with the reason, what would leave the host.
Expected<CageLayout> pulled(const Job& job, const CageGeometry& now, const Grip& grip, const Vec3& to,
                            double grain_mm = 0.1);
/// The same with one of numbersOf() typed.
Expected<CageLayout> typed(const Job& job, const CageGeometry& now, const Grip& grip, std::size_t number,
                           double value);

}  // namespace hoopwright
