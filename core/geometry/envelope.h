// The sheet stretched over tubes: their convex envelope, to which a straightedge over any two of them lies.
#pragma once

#include <functional>
#include <span>
#include <utility>
#include <vector>

#include "core/geometry/centreline.h"
#include "core/geometry/distance.h"

namespace hoopwright {

struct EnvelopeTube {
    const Centreline* line = nullptr;  ///< not owned; must outlive the envelope
    double radius_mm = 0;
};

/// How deep something lies inside, along the outward normal where it is least deep. Negative: it pokes out.
struct EnvelopeDepth {
    double depth_mm = 0;
    Vec3 normal = Vec3::UnitZ();  ///< of the sheet there, outward
    Vec3 on_body = Vec3::Zero();  ///< the body's point nearest to the sheet
};

/// Convex envelope of the outside of bent tubes. The least depth is looked for from the faces of a rough
/// envelope of the centrelines and improved from there on the bends themselves. Source of the method: support
/// functions of convex bodies; a body inside another is as deep as the least difference of their supports,
/// any text on convex geometry.
class Envelope {
public:
    explicit Envelope(std::span<const EnvelopeTube> tubes);

    bool solid() const { return !faces_.empty(); }
    /// Directions n for which `allowed(n)` is false do not count: a floor, the back.
    /// `support`: the farthest point of a convex body in a direction.
    EnvelopeDepth depth(const std::function<Vec3(const Vec3&)>& support, bool (*allowed)(const Vec3&)) const;
    EnvelopeDepth depth(const Ellipsoid& body, bool (*allowed)(const Vec3&)) const;
    EnvelopeDepth depth(const Vec3& point, bool (*allowed)(const Vec3&)) const;

private:
    struct Knot {
        Vec3 at;
        double radius_mm;
    };
    std::vector<EnvelopeTube> tubes_;
    std::vector<Knot> knots_;  ///< corners of the envelope of points along the centrelines
    std::vector<std::pair<Vec3, double>>
        faces_;  ///< outward unit normals of its faces, and how far out they are

    double roughSupport(const Vec3& n) const;
    double support(const Vec3& n) const;
};

}  // namespace hoopwright
