// A cage as the lines a draughtsman would draw: outlines, cuts and plates, what is hidden told apart.
#pragma once

#include <vector>

#include "core/drawing/line_view.h"
#include "core/model/cage_geometry.h"

namespace hoopwright {

/// A stretch of a line that is all seen or all hidden. Points in car axes [mm], two or more; chords stray
/// less than 0.05 mm from the true line.
struct CageLine {
    enum class Of { tube, plate, gusset };
    enum class Kind {
        outline,  ///< where the surface turns out of sight
        edge,     ///< a cut end, the seam with what it lands on, an edge of sheet
    };
    Of of = Of::tube;
    int index = -1;  ///< into CageGeometry::members, plates or gussets
    Kind kind = Kind::outline;
    bool hidden = false;
    std::vector<Vec3> points;
};

/// Tubes with their true arcs, cut to their copes; plates with their risers; gussets. Outlines are exact: a
/// tube's normal square to its centreline and to the view. Every line is split where it goes behind
/// something; split points are good to 0.1 mm along the line, and a hidden or seen stretch shorter than 2 mm
/// may be missed. Pads, driver and car are not drawn.
std::vector<CageLine> lineDrawing(const CageGeometry& cage, const LineView& view);

}  // namespace hoopwright
