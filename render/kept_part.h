// What a section leaves of the things that throw shadow.
#pragma once

#include <optional>
#include <vector>

#include "render/ambient.h"
#include "render/look.h"

namespace hoopwright {

/// Rods cut at the plane; what lies beyond it is gone. No cut: all as they are.
std::vector<ShadeRod> keptRods(std::vector<ShadeRod> rods, const std::optional<SectionCut>& cut);
/// The same of what dims the ground; a cut square to z takes away what stands higher than it, or lower.
std::vector<Footprint> keptFootprints(std::vector<Footprint> prints, const std::optional<SectionCut>& cut,
                                      double ground_z_mm);

}  // namespace hoopwright
