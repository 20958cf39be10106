// How wide the gap from a bar to the car's skin is, as colour along the bar.
#pragma once

#include <vector>

#include "core/units/measure.h"
#include "render/colours.h"

namespace hoopwright {

/// Bands of gap, each of one colour. Band 0: touching the skin or through it; then band by band farther off,
/// the last one beyond every edge.
struct GapScale {
    std::vector<double> edges_mm;  ///< ascending, > 0: where band 1, 2 ... end
    int bands() const { return static_cast<int>(edges_mm.size()) + 2; }
    int bandOf(double gap_mm) const;
};
/// Edges are round figures of that unit, near the same in both: 10, 25, 50, 100, 200 mm; 3/8, 1, 2, 4, 8 in.
const GapScale& gapScale(LengthUnit unit);

/// Darker is nearer, in even steps of lightness; touching has a hue of its own. @pre 0 <= band < bands()
Rgb gapColour(int band);
/// The second colour of the rings that mark what touches, so that it is told without colour too.
Rgb touchRingColour();
/// Of a bar without a gap: the car has no skin, or it is not measured yet.
Rgb noGapColour();

/// The gap along one bar at ascending stations; empty: none.
struct GapProfile {
    std::vector<double> stations_mm, gaps_mm;
    friend bool operator==(const GapProfile&, const GapProfile&) = default;
};
/// Colours of equal stretches of a bar, from its first end. A stretch has the colour of the least gap in it.
/// @pre the profile is not empty, length_mm > 0
std::vector<Rgb> gapStrip(const GapProfile& profile, double length_mm, const GapScale& scale);

}  // namespace hoopwright
