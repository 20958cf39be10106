// Sensible first shapes for bars and plates a person adds. Plain functions; no Qt.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/model/cage_geometry.h"

namespace hoopwright {

/// A place picked on a resolved member.
struct HostPick {
    std::string member;  ///< resolved id
    Vec3 at = Vec3::Zero();
};

/// How a fabricator would say the place on `host` nearest to `at`: by height on an upright, by where it
/// crosses y on a cross bar, by x on a bar that runs fore and aft, else by distance from the nearer end. The
/// one that reads back within 0.01 mm is chosen; distance always does. `from_mirrored`: the bar that lands is
/// given for the left and made for both, so a host of a pair is named without its side when it is on the
/// left. Rounded to `grain_mm` along the bar and in its words; of a place a hand picked, handGrain_mm() of
/// the job's unit (hand_grain.h).
Landing landingNear(const CageGeometry& now, std::string_view host, const Vec3& at, bool from_mirrored,
                    double grain_mm = 0.1);
/// Where a landing on a resolved member is, by the same rules as resolve(); nothing if it misses or is
/// ambiguous.
std::optional<Vec3> landingPoint(const CageGeometry& now, std::string_view host, const Landing& landing);

/// The tube most used for that role in the cage, else in the whole cage, else the first of the stock list;
/// may be "".
std::string usualStock(const Job& job, std::string_view role);

/// A new bar of `role` between two picked places; with one, to the same place on the other side of the car or
/// straight across; with none, 600 mm across the middle of the cage. Not yet in the layout. Mirrored when
/// both places are on one side of the car and at least one is off the centre plane.
Member newBar(const Job& job, const CageGeometry& now, const std::string& role,
              const std::vector<HostPick>& picks);

/// A new welded plate of the usual size, flat at `at` (a fixed point).
Plate newPlate(const Job& job, const Vec3& at);
/// A new gusset of the usual size in the corner of two bars (resolved ids).
Gusset newGusset(const Job& job, const std::string& one, const std::string& other);

/// The same place said another way: nothing moves. `now` is the geometry of `job`, `at` where the point is.
enum class PlaceKind { fixed, car_point, landing, plate };
PlaceKind kindOf(const Place3& place);
/// The reason says why there is no such way (no car point, no other bar, no plate).
Expected<Place3> saidAs(const Job& job, const CageGeometry& now, std::string_view resolved_member,
                        const Vec3& at, PlaceKind kind);

}  // namespace hoopwright
