// Our shapes in OpenCASCADE's terms.
#pragma once

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <TopoDS_Wire.hxx>
#include <gp_Ax2.hxx>
#include <gp_Ax3.hxx>
#include <gp_Circ.hxx>

#include "core/geometry/centreline.h"

namespace hoopwright {

inline gp_Pnt point(const Vec3& v) {
    return {v.x(), v.y(), v.z()};
}
inline gp_Dir direction(const Vec3& v) {
    return {v.x(), v.y(), v.z()};
}

/// The centreline as a wire of lines and arcs.
inline TopoDS_Wire wireOf(const Centreline& line) {
    BRepBuilderAPI_MakeWire wire;
    for (const Piece& piece : line.pieces()) {
        if (piece.kind == Piece::Kind::straight) {
            wire.Add(BRepBuilderAPI_MakeEdge(point(piece.start), point(piece.end())));
            continue;
        }
        const gp_Ax2 frame(point(piece.centre), direction(piece.axis), direction(piece.start - piece.centre));
        wire.Add(BRepBuilderAPI_MakeEdge(gp_Circ(frame, piece.radius_mm), 0, piece.angle_rad));
    }
    return wire.Wire();
}

}  // namespace hoopwright
