#include <cmath>
#include <numbers>

#include "core/geometry/centreline.h"

namespace hoopwright {

Vec3 Piece::point(double along_mm) const {
    if (kind == Kind::straight) return start + along_mm * tangent;
    const double turned = along_mm / radius_mm;
    return centre + std::cos(turned) * (start - centre) + std::sin(turned) * radius_mm * tangent;
}

Vec3 Piece::tangentAt(double along_mm) const {
    if (kind == Kind::straight) return tangent;
    const double turned = along_mm / radius_mm;
    return std::cos(turned) * tangent - std::sin(turned) / radius_mm * (start - centre);
}

Vec3 Piece::end() const {
    return point(length_mm);
}
Vec3 Piece::endTangent() const {
    return tangentAt(length_mm);
}

Box Piece::bounds() const {
    Box box(start);
    box.extend(end());
    if (kind == Kind::straight) return box;
    const Vec3 spoke = start - centre;
    for (int i = 0; i < 3; ++i) {
        // A coordinate turns round where spoke cos a + radius tangent sin a does: at one a and half a turn
        // on.
        double turned = std::atan2(radius_mm * tangent[i], spoke[i]);
        if (turned < 0) turned += std::numbers::pi;
        if (turned < angle_rad) box.extend(point(turned * radius_mm));
    }
    return box;
}

}  // namespace hoopwright
