// How the picture is to look: colours, what is shown, where it is cut.
#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/geometry/vec.h"
#include "core/units/measure.h"

namespace hoopwright {

/// Draft: no outline, no welds, fewer sides, no shell fill; for while something moves. Full: everything.
/// On a software renderer draw drafts into a target without multisampling: that is what keeps them under 35
/// ms.
enum class Quality { draft, full };
enum class Colouring { by_place, by_role, by_state, by_stock, by_result, by_gap, steel };

/// A plane square to one axis of the car; what lies on one side of it is taken away.
struct SectionCut {
    int axis = 0;            ///< 0 x, 1 y, 2 z
    double at_mm = 0;        ///< its place on that axis
    bool keep_high = false;  ///< what is beyond it is kept: else what is before it
    /// Unit, out of what is kept.
    Vec3 outward() const { return (keep_high ? -1.0 : 1.0) * Vec3::Unit(axis); }
    bool keeps(const Vec3& p) const { return keep_high ? p[axis] >= at_mm : p[axis] <= at_mm; }
    friend bool operator==(const SectionCut&, const SectionCut&) = default;
};

struct SceneLook {
    Colouring colouring = Colouring::by_place;
    LengthUnit unit = LengthUnit::mm;  ///< of the bands of Colouring::by_gap
    bool show_car = true, show_scans = true, show_drivers = true, show_plates = true, show_ground = true,
         dark = false;
    std::vector<std::string> hidden_members;
    /// Resolved ids of bars and plates: these alone are shown, without car, scans and drivers. Empty: all.
    std::vector<std::string> only;
    bool x_ray = false;  ///< tubes not selected are drawn see-through
    std::optional<SectionCut> section;

    bool shows(std::string_view id) const {
        const auto in = [&](const std::vector<std::string>& list) {
            return std::find(list.begin(), list.end(), id) != list.end();
        };
        return only.empty() ? !in(hidden_members) : in(only);
    }
};

}  // namespace hoopwright
