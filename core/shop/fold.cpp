#include "core/shop/fold.h"

#include <algorithm>
#include <cmath>

namespace hoopwright {

double Fold::allowance_mm() const {
    return angle_rad * (radius_mm + k * thickness_mm);
}
double Fold::outside_setback_mm() const {
    return (radius_mm + thickness_mm) * std::tan(angle_rad / 2);
}
double Fold::inside_setback_mm() const {
    return radius_mm * std::tan(angle_rad / 2);
}

namespace {

const SheetFold* findFold(const ShopBook& book, double thickness_mm) {
    const auto found = std::ranges::find_if(book.folds, [&](const SheetFold& one) {
        return std::abs(one.thickness_mm - thickness_mm) < kSameThickness_mm;
    });
    return found == book.folds.end() ? nullptr : &*found;
}

}  // namespace

std::optional<double> foldRadius_mm(const ShopBook* book, double thickness_mm) {
    const SheetFold* found = book ? findFold(*book, thickness_mm) : nullptr;
    return found ? std::optional(found->radius_mm) : std::nullopt;
}

Expected<Fold> foldOf(const ShopBook* book, double thickness_mm, double angle_rad, LengthUnit unit) {
    const std::string sheet = "sheet of " + showLength(thickness_mm, {unit, 2});
    if (!book) return Reason{"There is no shop's book, so what a fold in " + sheet + " takes is not known."};
    const SheetFold* found = findFold(*book, thickness_mm);
    if (!found)
        return Reason{"The shop's book has no fold in " + sheet +
                      ": fold a strip, measure it, and add radius and k."};
    if (!found->k)
        return Reason{"The shop's book has no k for " + sheet +
                      ": fold a strip of known length, and measure both legs."};
    return Fold{angle_rad, thickness_mm, found->radius_mm, *found->k};
}

}  // namespace hoopwright
