// The gaps from the bars to the car's skin, as a picture shows them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/skin/gap_to_skin.h"
#include "render/gap_scale.h"

namespace hoopwright {

struct BarGaps {
    std::vector<GapProfile> along;   ///< per resolved member
    std::optional<double> least_mm;  ///< of all bars
    std::string least_bar, least_part;
    std::string missing;  ///< what of the skin is not there, a sentence; empty: nothing
    friend bool operator==(const BarGaps&, const BarGaps&) = default;
};
/// @pre one of `gaps` for each member
BarGaps barGaps(const CageGeometry& cage, const CarSkin& skin,
                const std::vector<std::optional<GapToSkin>>& gaps);

}  // namespace hoopwright
