#include "app/view/bar_gaps.h"

#include <algorithm>

namespace hoopwright {
namespace {

/// The stations measured, and the nearest place between them.
GapProfile profileOf(const TubeGap& gap) {
    GapProfile profile{gap.stations_mm, gap.gaps_mm};
    const auto at =
        std::lower_bound(profile.stations_mm.begin(), profile.stations_mm.end(), gap.least_station_mm);
    const auto i = at - profile.stations_mm.begin();
    if (at != profile.stations_mm.end() && *at == gap.least_station_mm) {
        profile.gaps_mm[static_cast<std::size_t>(i)] = gap.least_mm;
        return profile;
    }
    profile.stations_mm.insert(at, gap.least_station_mm);
    profile.gaps_mm.insert(profile.gaps_mm.begin() + i, gap.least_mm);
    return profile;
}

}  // namespace

BarGaps barGaps(const CageGeometry& cage, const CarSkin& skin,
                const std::vector<std::optional<GapToSkin>>& gaps) {
    BarGaps out;
    out.missing = skin.missing();
    for (std::size_t i = 0; i < gaps.size(); ++i) {
        out.along.push_back(gaps[i] ? profileOf(gaps[i]->gap) : GapProfile{});
        if (!gaps[i] || (out.least_mm && *out.least_mm <= gaps[i]->gap.least_mm)) continue;
        out.least_mm = gaps[i]->gap.least_mm;
        out.least_bar = cage.members[i].name;
        out.least_part = gaps[i]->part;
    }
    return out;
}

}  // namespace hoopwright
