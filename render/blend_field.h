// Soft bodies: round-ended limbs melted into one skin, and that skin as triangles.
#pragma once

#include <vector>

#include "core/geometry/vec.h"
#include "render/mesh.h"

namespace hoopwright {

/// A limb: a cone with round ends of two radii [mm]. Where limbs meet, skins melt together over about
/// `blend_mm`.
struct Limb {
    Vec3 from = Vec3::Zero(), to = Vec3::Zero();
    double from_radius_mm = 0, to_radius_mm = 0;
    double blend_mm = 30;
    Rgb colour;
};

/// The melted union of limbs, as a distance-like function: negative inside, about true distance near the
/// skin.
class BlendField {
public:
    explicit BlendField(const std::vector<Limb>& limbs);
    double at(const Vec3& p) const;
    Vec3 gradient(const Vec3& p) const;  ///< unit, outward
    Rgb colour(const Vec3& p) const;     ///< of the nearest limb, blended over a short way
    Box bounds() const;
    /// The limbs that can matter within `radius_mm` of p: there both fields are the same.
    BlendField near(const Vec3& p, double radius_mm) const;
    /// The skin, from cells of `cell_mm`: normals exact, MeshCorner::light from how open the surface lies.
    Mesh mesh(double cell_mm) const;

private:
    /// A limb made ready for many questions.
    struct Cone {
        explicit Cone(const Limb& limb);
        double share(const Vec3& p) const;     ///< nearest point of the axis: 0 at its start, 1 at its end
        double distance(const Vec3& p) const;  ///< from the skin, negative inside
        Vec3 slope(const Vec3& p) const;       ///< how fast distance() grows along x, y and z

        Vec3 from, axis;
        double over_length2 = 0;  // 1 / length², 0 for a ball
        double from_radius_mm, taper_mm, blend_mm;
        Rgb colour;
    };
    BlendField() = default;

    std::vector<Cone> cones_;
};

}  // namespace hoopwright
