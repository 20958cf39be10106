#include "render/kept_part.h"

namespace hoopwright {
namespace {

/// The stretch from `low` to `high` that is kept; false if nothing is.
bool keepStretch(double& low, double& high, const SectionCut& cut) {
    double& end = cut.keep_high ? low : high;
    end = cut.keep_high ? std::max(low, cut.at_mm) : std::min(high, cut.at_mm);
    return low < high;
}

}  // namespace

std::vector<ShadeRod> keptRods(std::vector<ShadeRod> rods, const std::optional<SectionCut>& cut) {
    if (!cut) return rods;
    std::erase_if(rods, [&](ShadeRod& rod) {
        const bool first = cut->keeps(rod.from.cast<double>()), last = cut->keeps(rod.to.cast<double>());
        if (!first && !last) return true;
        if (first && last) return false;
        const float at = static_cast<float>(cut->at_mm), begin = rod.from[cut->axis], end = rod.to[cut->axis];
        const Vec3f cut_at = rod.from + (at - begin) / (end - begin) * (rod.to - rod.from);
        (first ? rod.to : rod.from) = cut_at;
        return false;
    });
    return rods;
}

std::vector<Footprint> keptFootprints(std::vector<Footprint> prints, const std::optional<SectionCut>& cut,
                                      double ground_z_mm) {
    if (!cut) return prints;
    std::erase_if(prints, [&](Footprint& print) {
        if (cut->axis == 0) return !keepStretch(print.x0, print.x1, *cut);
        if (cut->axis == 1) return !keepStretch(print.y0, print.y1, *cut);
        return !cut->keeps({0, 0, ground_z_mm + print.height_mm});
    });
    return prints;
}

}  // namespace hoopwright
