// Every piece of a cage as a solid, finished as it goes into the car.
#pragma once

#include <string>
#include <vector>

#include "core/base/progress.h"
#include "core/model/cage_geometry.h"
#include "core/solid/solid.h"

namespace hoopwright {

struct CagePiece {
    enum class Kind { tube, plate, backing, riser, gusset };
    Kind kind = Kind::tube;
    int index = -1;  ///< into members, plates or gussets
    std::string id, name;
    SolidBody solid;
    /// Of the finished piece, by the core's own copes, areas and thicknesses; not from the solid.
    double volume_mm3 = 0, mass_kg = 0;
    bool exact = true;  ///< false: an end's face is a spline through the cut, see tube_solid.h
};
std::string pieceWord(CagePiece::Kind kind);  ///< "tube", "plate", "backing", "riser", "gusset"

struct CageSolids {
    std::vector<CagePiece> pieces;  ///< tubes in build order, then plates with what is under them, gussets
    std::vector<std::string> left_out;  ///< pieces there is no solid of, and why: sentences
    std::vector<std::string> notes;     ///< ends cut square though they land on something
    bool stopped = false;               ///< `progress` said so; the rest is missing
};
CageSolids cageSolids(const Job& job, const CageGeometry& cage, const WorkProgress& progress = {});
/// The same pieces by their figures alone: tubes have no solid here, and none is left out for want of one.
CageSolids cagePieces(const Job& job, const CageGeometry& cage);

}  // namespace hoopwright
