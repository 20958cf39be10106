// The colours of the picture: what stands for a place in the car, for a result, and for what is selected.
#pragma once

#include <optional>

#include "core/model/role.h"

namespace hoopwright {

/// sRGB, each 0 to 1.
struct Rgb {
    float r = 0, g = 0, b = 0;
    friend bool operator==(const Rgb&, const Rgb&) = default;
};

/// State a result colouring needs: one entry per resolved member.
enum class Mark { none, meets, fails, ask, cannot_tell };

/// What a bar of a group wears: one colour, and rings of another where colours alone are too few.
struct BarPaint {
    Rgb colour{0.76f, 0.765f, 0.775f};
    std::optional<Rgb> rings;
    friend bool operator==(const BarPaint&, const BarPaint&) = default;
};
/// The n-th of a row of groups. The first eight differ in lightness first and hue second, for every kind of
/// colour sight; the next sixteen are the same with pale and with dark rings; then they repeat.
BarPaint groupPaint(int n);

/// Working colour of a place in the car: distinct for colour-blind eyes, never a result colour.
Rgb placeColour(Place place);
Rgb markColour(Mark mark);
/// Colour of the n-th tube of a stock list, for a colouring by stock; repeats after eight.
Rgb stockColour(int stock);
/// Tape yellow: what is selected.
Rgb selectedColour();

}  // namespace hoopwright
