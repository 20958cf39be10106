// Triangles on their way to the graphics card or to a file. No OpenGL here.
#pragma once

#include <cstdint>
#include <vector>

#include "core/geometry/vec.h"
#include "render/colours.h"

namespace hoopwright {

using Vec3f = Eigen::Vector3f;

/// One corner of a surface, in car axes [mm].
struct MeshCorner {
    Vec3f at = Vec3f::Zero();
    Vec3f normal = Vec3f::UnitZ();  ///< unit, out of the material
    float light = 1;                ///< share of the surroundings it sees, 0 to 1 (baked ambient shadow)
    float weld_mm = 1000;           ///< distance along the surface to the nearest weld or cut
    float around = 0;  ///< tubes: angle round the tube [rad]; weld beads: distance along the bead [mm]
    float along = 0;   ///< tubes: share of the centreline's length, 0 to 1
};

/// Triangles run counter-clockwise seen from outside.
struct Mesh {
    std::vector<MeshCorner> corners;
    std::vector<Rgb> colours;  ///< one a corner, or none: then the part has one colour
    std::vector<std::uint32_t> triangles;
    std::uint32_t outer_triangles =
        0;  ///< the first so many indices are skin; the rest is bore and cut faces

    std::uint32_t add(const MeshCorner& corner) {
        corners.push_back(corner);
        return static_cast<std::uint32_t>(corners.size() - 1);
    }
    void triangle(std::uint32_t a, std::uint32_t b, std::uint32_t c) {
        triangles.insert(triangles.end(), {a, b, c});
    }
    void quad(std::uint32_t a, std::uint32_t b, std::uint32_t c, std::uint32_t d) {
        triangle(a, b, c);
        triangle(a, c, d);
    }
    std::size_t triangleCount() const { return triangles.size() / 3; }
    void append(const Mesh& other);
    /// Everything in one colour (where some parts of a mesh have colours, all must).
    void paint(Rgb colour) { colours.assign(corners.size(), colour); }
    Box bounds() const;
};

/// A grid of corners rows x columns, already in `mesh` from `first` on, joined by triangles; rows grow along
/// `a`, columns along `b`, and a x b points outward.
void joinGrid(Mesh& mesh, std::uint32_t first, int rows, int columns);
/// Normals of a grid from its neighbours, for surfaces with no formula for them.
void gridNormals(Mesh& mesh, std::uint32_t first, int rows, int columns);

}  // namespace hoopwright
