// Section properties of a round tube.
#pragma once

namespace hoopwright {

/// Round tube as bought: outside diameter and wall [mm]. Valid: 0 < wall < od / 2, both finite.
/// Source of the formulas: any strength-of-materials text; checked against AISC, EN 10305-1 and SAE rows in
/// tests/outside.
struct TubeSection {
    double od_mm = 0;
    double wall_mm = 0;

    bool valid() const;
    double bore_mm() const { return od_mm - 2 * wall_mm; }
    double area_mm2() const;             ///< metal
    double inertia_mm4() const;          ///< second moment about a diameter
    double torsion_mm4() const;          ///< polar second moment
    double elastic_modulus_mm3() const;  ///< I / (od/2)
    double plastic_modulus_mm3() const;
    double gyration_mm() const;
    double mass_kg_per_m(double density_kg_per_m3 = 7850) const;
    friend bool operator==(const TubeSection&, const TubeSection&) = default;
};

}  // namespace hoopwright
