#include "render/colours.h"

#include <array>

namespace hoopwright {
namespace {

constexpr Rgb hex(unsigned rgb) {
    const auto part = [rgb](int shift) { return static_cast<float>((rgb >> shift) & 0xFFu) / 255.0f; };
    return {part(16), part(8), part(0)};
}

}  // namespace

// Chosen so that neighbours differ in lightness first and hue second: they stay apart for every kind of
// colour sight, and on a grey print. tests/render holds them to that.
Rgb placeColour(Place place) {
    switch (place) {
        case Place::hoops_and_sides:
            return hex(0x1F3F93);
        case Place::across_the_hoop:
            return hex(0x6CBCF0);
        case Place::roof:
            return hex(0xA83A86);
        case Place::doors_and_sills:
            return hex(0x8C7AE6);
        case Place::to_the_back:
            return hex(0xF0907A);
        case Place::feet_and_returns:
            return hex(0x4A4744);
        case Place::other:
            break;
    }
    return hex(0xE0DBCF);
}

Rgb markColour(Mark mark) {
    switch (mark) {
        case Mark::meets:
            return hex(0x12876F);
        case Mark::fails:
            return hex(0xC03F22);
        case Mark::ask:
            return hex(0xC48A14);
        case Mark::cannot_tell:
            return hex(0x8E9197);
        case Mark::none:
            break;
    }
    return hex(0xDAD6CC);
}

Rgb stockColour(int stock) {
    static constexpr std::array<Rgb, 8> kColours = {hex(0x1F3F93), hex(0x6CBCF0), hex(0xF0907A),
                                                    hex(0x8C7AE6), hex(0xA83A86), hex(0x4A4744),
                                                    hex(0xE0DBCF), hex(0x5F7D8C)};
    if (stock < 0) return hex(0xB5B0A6);
    return kColours[static_cast<std::size_t>(stock) % kColours.size()];
}

BarPaint groupPaint(int n) {
    static constexpr std::array<Rgb, 8> kColours = {hex(0x1F3F93), hex(0x6CBCF0), hex(0xF0907A),
                                                    hex(0x8C7AE6), hex(0xA83A86), hex(0xE0DBCF),
                                                    hex(0x4A4744), hex(0x4B8B1E)};
    BarPaint paint;
    paint.colour = kColours[static_cast<std::size_t>(n) % kColours.size()];
    // Rings that would not show on the colour are of the other kind.
    const float light = 0.3f * paint.colour.r + 0.6f * paint.colour.g + 0.1f * paint.colour.b;
    const int round = n / static_cast<int>(kColours.size()) % 3;
    const Rgb pale = light > 0.62f ? hex(0x9A4F3C) : hex(0xF4F0E6),
              dark = light < 0.3f ? hex(0xB99A4A) : hex(0x1A1D22);
    if (round == 1) paint.rings = pale;
    if (round == 2) paint.rings = dark;
    return paint;
}

Rgb selectedColour() {
    return hex(0xF2BE3E);
}

}  // namespace hoopwright
