// Where along the car a main hoop stands for its door bars' sake.
#pragma once

#include "core/fit/member_fit.h"

namespace hoopwright {

/// Clear of the skin all round a weld, for torch, cup and hand. Common practice, no source.
inline constexpr double kTorchRoom_mm = 25;

struct HoopPlace {
    double x_mm = 0;    ///< of its feet, to 0.1 mm
    std::string holds;  ///< what keeps it from going nearer to the pillar, a sentence
    MemberFit fit;      ///< the hoop fitted there
};

/// The place nearest to the car's point `b_pillar_top` at which the hoop can be fitted as wished and the
/// welds of its door bars (role door_bar) keep `room_mm` to the skin all round. Looks from the pillar towards
/// where the hoop stands now, 400 mm at most; `wish.x_mm` is not read. @param cage  resolve(job) Refuses,
/// with a sentence: no such point, no door bar on it, no place that will do, and as fitMember().
Expected<HoopPlace> nearestToPillar(const Job& job, const CageGeometry& cage, const FitCar& car,
                                    const MemberWish& wish, double room_mm = kTorchRoom_mm);

}  // namespace hoopwright
