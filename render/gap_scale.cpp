#include "render/gap_scale.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace hoopwright {
namespace {

constexpr double kInch_mm = 25.4;
constexpr double kStretch_mm = 4, kRing_mm = 12;
constexpr int kMostStretches = 2048;  // every graphics card takes a texture so wide

/// Straight between stations, the nearest one beyond them.
double gapAt(const GapProfile& profile, double station_mm) {
    const auto& at = profile.stations_mm;
    const auto after = std::upper_bound(at.begin(), at.end(), station_mm) - at.begin();
    if (after == 0) return profile.gaps_mm.front();
    const auto i = static_cast<std::size_t>(after);
    if (i == at.size()) return profile.gaps_mm.back();
    const double share = (station_mm - at[i - 1]) / (at[i] - at[i - 1]);
    return std::lerp(profile.gaps_mm[i - 1], profile.gaps_mm[i], share);
}

double leastIn(const GapProfile& profile, double from_mm, double to_mm) {
    double least = std::min(gapAt(profile, from_mm), gapAt(profile, to_mm));
    const auto& at = profile.stations_mm;
    for (auto i = std::lower_bound(at.begin(), at.end(), from_mm); i != at.end() && *i <= to_mm; ++i)
        least = std::min(least, profile.gaps_mm[static_cast<std::size_t>(i - at.begin())]);
    return least;
}

}  // namespace

int GapScale::bandOf(double gap_mm) const {
    if (gap_mm <= 0) return 0;
    return 1 +
           static_cast<int>(std::upper_bound(edges_mm.begin(), edges_mm.end(), gap_mm) - edges_mm.begin());
}

const GapScale& gapScale(LengthUnit unit) {
    static const GapScale mm{{10, 25, 50, 100, 200}};
    static const GapScale in{{0.375 * kInch_mm, kInch_mm, 2 * kInch_mm, 4 * kInch_mm, 8 * kInch_mm}};
    return unit == LengthUnit::in ? in : mm;
}

// Held by tests/render to stay apart for every kind of colour sight, and in order on a grey print.
Rgb gapColour(int band) {
    constexpr std::array<Rgb, 7> kBands = {{{0.84f, 0.25f, 0.05f},
                                            {0.07f, 0.13f, 0.33f},
                                            {0.09f, 0.32f, 0.55f},
                                            {0.16f, 0.51f, 0.63f},
                                            {0.42f, 0.69f, 0.68f},
                                            {0.68f, 0.82f, 0.70f},
                                            {0.96f, 0.95f, 0.86f}}};
    return kBands[static_cast<std::size_t>(band)];
}

Rgb touchRingColour() {
    return {1.0f, 0.93f, 0.80f};
}

Rgb noGapColour() {
    return {0.57f, 0.49f, 0.43f};
}

std::vector<Rgb> gapStrip(const GapProfile& profile, double length_mm, const GapScale& scale) {
    const int count = std::clamp(static_cast<int>(std::ceil(length_mm / kStretch_mm)), 1, kMostStretches);
    std::vector<Rgb> strip;
    strip.reserve(static_cast<std::size_t>(count));
    for (int i = 0; i < count; ++i) {
        const double from = length_mm * i / count, to = length_mm * (i + 1) / count;
        const int band = scale.bandOf(leastIn(profile, from, to));
        const bool ring = band == 0 && std::fmod((from + to) / 2, 2 * kRing_mm) >= kRing_mm;
        strip.push_back(ring ? touchRingColour() : gapColour(band));
    }
    return strip;
}

}  // namespace hoopwright
