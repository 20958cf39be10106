// Which piece is cut from which stick: exact.
#pragma once

#include <string>
#include <vector>

#include "core/base/expected.h"
#include "core/model/stock.h"

namespace hoopwright {

struct Piece1d {
    std::string name;
    double length_mm = 0;
};
struct CutStick {
    int stick = -1;           ///< index into the stick lengths asked for
    std::vector<int> pieces;  ///< indices into the pieces asked for
    double left_mm = 0;       ///< what is left over
};
struct NestPlan {
    std::vector<CutStick> sticks;
    double bought_mm = 0;
    double price = 0;     ///< 0 if no stick has a price
    int lower_bound = 0;  ///< sticks (one stick length), or price / length in hundredths with several: none
                          ///< can do with less
    bool proved = false;  ///< the plan is proved best
};

/// Fewest sticks (one length), or least price (all sticks priced), or least bought length (several unpriced).
/// Kerf is lost between two pieces, not after the last: sum + (n-1) kerf <= stick. Exact branch and bound
/// with column generation; gives up proving after `effort` nodes and then says so in `proved`. The reason
/// names a piece longer than every stick, or a length that is not positive.
Expected<NestPlan> nest(const std::vector<Piece1d>& pieces, const std::vector<StickLength>& sticks,
                        double kerf_mm, long effort = 2'000'000);

}  // namespace hoopwright
