#include "core/geometry/section.h"

#include <cmath>
#include <numbers>

namespace hoopwright {

using std::numbers::pi;

bool TubeSection::valid() const {
    return std::isfinite(od_mm) && std::isfinite(wall_mm) && wall_mm > 0 && 2 * wall_mm < od_mm;
}

double TubeSection::area_mm2() const {
    return pi * (od_mm - wall_mm) * wall_mm;
}

double TubeSection::inertia_mm4() const {
    // pi/64 (D^4 - d^4), with the difference of squares taken out so that thin walls lose no digits.
    const double bore = bore_mm();
    return area_mm2() * (od_mm * od_mm + bore * bore) / 16;
}

double TubeSection::torsion_mm4() const {
    return 2 * inertia_mm4();
}

double TubeSection::elastic_modulus_mm3() const {
    return od_mm > 0 ? 2 * inertia_mm4() / od_mm : 0;
}

double TubeSection::plastic_modulus_mm3() const {
    const double bore = bore_mm();
    return wall_mm * (od_mm * od_mm + od_mm * bore + bore * bore) / 3;  // (D^3 - d^3) / 6
}

double TubeSection::gyration_mm() const {
    return std::hypot(od_mm, bore_mm()) / 4;
}

double TubeSection::mass_kg_per_m(double density_kg_per_m3) const {
    return area_mm2() * 1e-6 * density_kg_per_m3;
}

}  // namespace hoopwright
