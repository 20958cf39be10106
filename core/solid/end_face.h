// The edges and faces of a cut end. Used by tube_solid.cpp.
#pragma once

#include <vector>

#include "core/solid/end_cut.h"
#include "core/solid/solid.h"

namespace hoopwright {

/// A ring of edges round a tube's wall, in order of theta, from the seam on over a whole turn.
struct CutRing {
    struct Arc {
        double from_rad = 0, to_rad = 0;
        int edge = -1;
    };
    std::vector<Arc> arcs;
    /// Where a change falls on a corner of the ring.
    int cornerAt(const SolidBody& solid, double theta_rad) const;
    /// @pre both are corners of the ring; a turn on if `to` is not beyond `from`
    EdgeLoop between(double from_rad, double to_rad) const;
    EdgeLoop all() const;

private:
    std::size_t arcFrom(double theta_rad) const;
};

/// The edge of the cut on one wall; corners at the seam, opposite to it, at changes and at corners of the
/// cut.
CutRing cutRing(SolidBody& solid, const EndCut& cut, double seam_rad, std::size_t wall);
/// The face or faces between the rings of outside and bore. `first`: the end that the tube starts from. True:
/// all on their hosts' own surfaces.
bool addEndFace(SolidBody& solid, const EndCut& cut, double seam_rad, const CutRing& outer,
                const CutRing& bore, bool first);

}  // namespace hoopwright
