// Corners of hoops and side bars in one car, by core/fit. Not for use outside core/starter.
#pragma once

#include <map>
#include <vector>

#include "core/fit/bar_fit.h"
#include "core/starter/car_places.h"

namespace hoopwright::starting {

/// What corners are rounded to: a whole millimetre, or a sixteenth of an inch.
double tidyStep_mm(LengthUnit unit);
double tidied(double mm, LengthUnit unit);

/// A bar as it was fitted, its corners tidied.
struct Fitted {
    std::vector<Vec3> path;  ///< ends and corners
    FitGoodness gap;         ///< of that path; zeros where the car has no skin
    std::vector<FitLimit> limits;
    std::string trouble;  ///< why it does not keep the gap; else empty
};

struct HowFitted {
    double gap_mm = 0;  ///< at least, to the skin
    LengthUnit unit = LengthUnit::mm;
    bool roughly = false;  ///< by the car's points alone, no gap held to
};

/// What it has fitted it keeps: every option of a starter asks for the same bars again. One thread at a time.
class BarFitter {
public:
    /// `places` must outlive it. @pre places.missing() is empty
    explicit BarFitter(const CarPlaces& places) : places_(places) {}

    /// The main hoop across the car, plumb over its feet: left foot, waist, top, and the right side.
    const Fitted& hoop(const FitTube& tube, const Vec3& left_foot, const HowFitted& how);
    /// From `before` under the roof's front corner, down the left pillar to a knee at the dash, and to the
    /// foot: `before`, top, knee, foot. Of `before` the last is moved in its own plane across the car where
    /// there are several, else it stays. The right bar, which follows the points of its own side, keeps the
    /// gap too.
    /// @param host_radius_mm  of what it starts on; 0: a plate
    const Fitted& side(const FitTube& tube, const std::vector<Vec3>& before, const Vec3& foot,
                       double host_radius_mm, const HowFitted& how);
    /// Left foot, knee, top, and the right side.
    const Fitted& frontHoop(const FitTube& tube, const Vec3& left_foot, const HowFitted& how);

private:
    template <class Fit>
    const Fitted& kept(int kind, const FitTube& tube, const std::vector<Vec3>& places,
                       std::vector<double> numbers, Fit&& fit);
    Fitted settled(const BarWish& wish, const Expected<BarFit>& fit, const std::vector<Vec3>& guess) const;

    const CarPlaces& places_;
    std::map<std::vector<double>, Fitted> kept_;
};

/// Setback of the bend at `corner`.
double setback(const Vec3& before, const Vec3& corner, const Vec3& after, double radius_mm);
Centreline bent(const std::vector<Vec3>& path, double radius_mm);

}  // namespace hoopwright::starting
