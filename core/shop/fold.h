// What a fold takes of a flat sheet.
#pragma once

#include <optional>

#include "core/base/expected.h"
#include "core/model/shop_book.h"
#include "core/units/measure.h"

namespace hoopwright {

/// One fold by an angle. Lengths over the outside run to the line where the outer faces of the two legs would
/// meet; lengths over the inside to the line where the inner faces would.
/// Source: bend allowance as the machinery handbooks have it (from memory): the arc of radius r + k t.
struct Fold {
    double angle_rad = 0;  ///< the leg is turned by, (0, pi)
    double thickness_mm = 0, radius_mm = 0, k = 0;
    double allowance_mm() const;        ///< of flat sheet, from where the fold begins to where it ends
    double outside_setback_mm() const;  ///< from where it begins to the outer line: (r + t) tan(angle / 2)
    double inside_setback_mm() const;   ///< to the inner line: r tan(angle / 2)
    /// What the flat is shorter than the two legs over the outside: 2 outside_setback - allowance.
    double deduction_mm() const { return 2 * outside_setback_mm() - allowance_mm(); }
};

/// By the book's figures of that thickness. The reason says which figure the book lacks.
Expected<Fold> foldOf(const ShopBook* book, double thickness_mm, double angle_rad,
                      LengthUnit unit = LengthUnit::mm);
/// Inside radius of a fold in that sheet; nothing if the book does not have it.
std::optional<double> foldRadius_mm(const ShopBook* book, double thickness_mm);
/// Two thicknesses are the same sheet.
inline constexpr double kSameThickness_mm = 0.05;

}  // namespace hoopwright
