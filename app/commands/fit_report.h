// A fitted bar as people read it and as programs do.
#pragma once

#include <iosfwd>

#include "core/fit/member_fit.h"

namespace hoopwright {

struct FitReport {
    const Job& job;
    const FitCar& car;
    const MemberWish& wish;
    const MemberFit& fit;
    std::string written;  ///< the cage file that was written; empty: none
    std::string stands;   ///< what keeps a hoop from standing nearer to the pillar; empty: not asked for
};

/// In the cage's own unit.
void writeFitText(std::ostream& out, const FitReport& report);
/// See app/commands/JSON.md.
void writeFitJson(std::ostream& out, const FitReport& report);

}  // namespace hoopwright
