// A tube bought bent, as taped: it is placed in the car, sawn and coped, and never bent again.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "core/base/expected.h"
#include "core/geometry/centreline.h"
#include "core/units/measure.h"

namespace hoopwright {

/// One bend of it.
struct TapedBend {
    double angle_rad = 0;  ///< (0, pi)
    /// Of the bend's plane since the bend before, right-handed about the way from its first end to its last.
    /// Of the first bend: 0.
    double rotation_rad = 0;
    friend bool operator==(const TapedBend&, const TapedBend&) = default;
};

/// Good where good() says so; both kinds of reader let nothing else pass.
struct BentShape {
    double bend_radius_mm = 0;         ///< of every bend, to the centreline: its own, not a die's of the shop
    std::vector<double> straights_mm;  ///< from its first end to its last; one more than there are bends
    std::vector<TapedBend> bends;
    friend bool operator==(const BentShape&, const BentShape&) = default;
    /// Has it a radius, a bend or more, and one straight more than it has bends, each >= 0?
    bool good() const;
    double developed_mm() const;  ///< length of its centreline
};

/// How much a path as laid may differ from what was taped: as well as a bent tube is taped. Common practice,
/// no source.
inline constexpr double kTaped_mm = 2, kTaped_rad = 0.5 * 3.14159265358979323846 / 180;

/// "900, 75, 1010, 75 @ 180, 900": straight, bend, straight ... in `unit` and degrees, first and last a
/// straight; behind @ the bend's rotation, 0 if not said. Refuses what is none of this with a sentence that
/// quotes it.
Expected<BentShape> readBentShape(std::string_view text, double bend_radius_mm, LengthUnit unit);
/// The same words, to a tenth of a millimetre (a thousandth of an inch) and a hundredth of a degree.
std::string shownBentShape(const BentShape& shape, LengthUnit unit);

/// What walkBendTable() makes it of. @pre shape.good()
BendTable bendTable(const BentShape& shape);
/// The other one of a mirrored pair.
BentShape mirrored(BentShape shape);

}  // namespace hoopwright
