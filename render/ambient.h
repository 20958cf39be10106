// Soft shadow worked out once on the processor: how much light tubes take from each other and from the
// ground.
#pragma once

#include <cstdint>
#include <vector>

#include "core/geometry/centreline.h"
#include "render/mesh.h"

namespace hoopwright {

/// A straight stretch of something round that shades what is near.
struct ShadeRod {
    Vec3f from = Vec3f::Zero(), to = Vec3f::Zero();
    float radius_mm = 0;
    int owner = -1;  ///< does not shade the mesh with this number
    friend bool operator==(const ShadeRod&, const ShadeRod&) = default;
};
/// Capsules along a centreline; arcs in stretches of about 20 degrees.
std::vector<ShadeRod> shadeRodsOf(const Centreline& line, double radius_mm, int owner);

/// Beyond this distance a tube's shade on another is not felt [mm].
inline constexpr float kShadeReach_mm = 240;

/// Writes MeshCorner::light of the skin (not the bore) from the capsules and the ground below.
/// Method: each capsule taken as the sphere at its nearest point; form factor of a sphere, cos(angle) (r/d)^2
/// (handbook of radiative heat transfer).
void shade(Mesh& mesh, std::uint32_t first_corner, std::uint32_t corners, int owner,
           const std::vector<ShadeRod>& near, double ground_z_mm);

/// The shadow on the ground as a picture: two channels, 255 = full light.
struct GroundShadow {
    int width = 0, height = 0;
    double x_mm = 0, y_mm = 0, length_mm = 0, breadth_mm = 0;  ///< the rectangle it covers
    std::vector<std::uint8_t> pixels;  ///< key light, surroundings; row by row from y_mm up
};
/// A body near the ground, by its plan: dims the ground under it.
struct Footprint {
    double x0 = 0, x1 = 0, y0 = 0, y1 = 0, height_mm = 0;
    double strength = 0.5;
    friend bool operator==(const Footprint&, const Footprint&) = default;
};
/// Penumbrae grow with height, as under a lamp 24 degrees wide from `light` (unit, towards the lamp).
GroundShadow groundShadow(const std::vector<ShadeRod>& capsules, const std::vector<Footprint>& footprints,
                          double ground_z_mm, const Vec3& light);

}  // namespace hoopwright
