// Solids by their faces, as other programs take them: each face lies on an exact surface and is bounded by
// edges it shares with its neighbours.
#pragma once

#include <array>
#include <cstddef>
#include <variant>
#include <vector>

#include "core/geometry/vec.h"

namespace hoopwright {

// Directions are unit. mm, car axes.
struct PlaneSurface {
    Vec3 at = Vec3::Zero(), normal = Vec3::UnitZ();
};
/// `away`: square to the axis; where the surface's own seam is, so best where no face is.
struct CylinderSurface {
    Vec3 at = Vec3::Zero(), axis = Vec3::UnitZ(), away = Vec3::UnitX();
    double radius_mm = 0;
};
struct TorusSurface {
    Vec3 centre = Vec3::Zero(), axis = Vec3::UnitZ(), away = Vec3::UnitX();
    double ring_radius_mm = 0, tube_radius_mm = 0;
};
/// Bicubic pieces: along the first direction joined smoothly, or in a corner where a knot counts three times.
/// Knots are given once, with how often each counts; 4 at both ends.
struct KnotRow {
    std::vector<double> knots;
    std::vector<int> counts;
};
struct SplineSurface {
    std::vector<std::array<Vec3, 4>> poles;  ///< one row for each pole of the first direction
    KnotRow first;                           ///< the second has knots 0 and 1
};
using Surface = std::variant<PlaneSurface, CylinderSurface, TorusSurface, SplineSurface>;

struct StraightEdge {};
/// Right-handed about `axis`, from `towards` on.
struct CircleEdge {
    Vec3 centre = Vec3::Zero(), axis = Vec3::UnitZ(), towards = Vec3::UnitX();
    double radius_mm = 0;
};
struct EllipseEdge {
    Vec3 centre = Vec3::Zero(), axis = Vec3::UnitZ(), towards = Vec3::UnitX();  ///< to its farthest point
    double long_mm = 0, short_mm = 0;                                           ///< half its length and width
};
/// A cubic spline.
struct SplineEdge {
    std::vector<Vec3> poles;
    KnotRow row;
};
using EdgeCurve = std::variant<StraightEdge, CircleEdge, EllipseEdge, SplineEdge>;

/// From one corner to another along its curve.
struct SolidEdge {
    int from = -1, to = -1;
    EdgeCurve curve;
};
/// An edge walked forwards or backwards.
struct EdgeUse {
    int edge = -1;
    bool forward = true;
    EdgeUse reversed() const { return {edge, !forward}; }
    friend bool operator==(const EdgeUse&, const EdgeUse&) = default;
};
using EdgeLoop = std::vector<EdgeUse>;
EdgeLoop reversed(const EdgeLoop& loop);

/// Seen from outside the solid its first loop runs counter-clockwise, the loops of its holes clockwise.
struct SolidFace {
    Surface surface;
    bool along_normal =
        true;  ///< the surface's own normal (out of a cylinder or torus) points out of the solid
    std::vector<EdgeLoop> loops;
};

struct SolidBody {
    std::vector<Vec3> corners;
    std::vector<SolidEdge> edges;
    std::vector<SolidFace> faces;

    int corner(const Vec3& at);
    int edge(int from, int to, EdgeCurve curve);
};

/// Every edge is walked once forwards and once backwards, and every loop closes: the skin has no hole.
bool closed(const SolidBody& solid);

/// A body with flat faces.
class FlatSided {
public:
    int corner(const Vec3& at) { return solid_.corner(at); }
    /// Corners counter-clockwise as seen from outside; further loops are holes, clockwise. @pre not all on a
    /// line
    void face(const std::vector<std::vector<int>>& loops);
    /// @pre every edge has been given by two faces
    SolidBody take() { return std::move(solid_); }
    EdgeUse straight(int from, int to);
    SolidBody& solid() { return solid_; }

private:
    SolidBody solid_;
};

}  // namespace hoopwright
