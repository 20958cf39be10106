// What of a tube's nominal wall is sure to be there: the mill's tolerance, and what a bend leaves.
#pragma once

#include <optional>
#include <string>

#include "core/model/stock.h"

namespace hoopwright {

/// The least wall a mill may deliver.
struct LeastWall {
    double wall_mm = 0;
    std::string by;  ///< "the stock list", "EN 10305-1", "ASTM A519, from memory"
};

/// As the stock list states it; else by the standard it names; else by the one that form and size point to:
/// EN 10305-1 for seamless tube of millimetre sizes, ASTM A519 for seamless and ASTM A513 type 5 for
/// drawn-over-mandrel tube of inch sizes. Nothing where no tolerance is known (as-welded tube, walls A513 has
/// no row for here). Sources: EN 10305-1 wall +-10 % or 0.10 mm, the greater (a steel tube handbook, 2018, p.
/// 62); A513 type 5 walls (a stockist's copy of the table); A519 cold-worked walls, +-7.5 % from 1.5 in OD,
/// +-10 % below (from memory).
std::optional<LeastWall> leastWall(const TubeStock& stock);

/// Is OD a sixteenth of an inch (within 0.05 mm) and wall an inch gauge (within 0.03 mm)?
bool ofInchSize(const TubeSection& section);

/// What a bend leaves of a wall on its outside: t R / (R + D/2), the centreline's fibre unstretched and the
/// metal's volume kept. Any text on tube bending. @pre radius_mm > 0
double bentWall_mm(double wall_mm, double od_mm, double radius_mm);

}  // namespace hoopwright
