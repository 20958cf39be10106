// Tube the shop can buy, and the dies it can bend it with.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/geometry/section.h"

namespace hoopwright {

/// How the tube was made: rule books name these.
enum class TubeForm { seamless, drawn_over_mandrel, welded };
std::string_view formWord(TubeForm form);

/// A grade and condition. Strengths are the guaranteed least [MPa]; absent = not stated.
struct Material {
    std::string id;      ///< "4130_normalised"
    std::string name;    ///< as sheets print it
    std::string family;  ///< "mild_steel", "chrome_moly", "alloy_steel", "aluminium": what rule books ask
    std::optional<double> yield_mpa;
    std::optional<double> tensile_mpa;
    std::optional<double> elongation_percent;
    std::optional<double> carbon_percent;
    double density_kg_per_m3 = 7850;
    std::string source;  ///< where the figures come from
    friend bool operator==(const Material&, const Material&) = default;
};

struct StickLength {
    double length_mm = 0;
    double price = 0;  ///< of one stick, in the stock list's currency; 0 = not stated
    friend bool operator==(const StickLength&, const StickLength&) = default;
};

struct TubeStock {
    std::string id;        ///< "45x2.5"
    TubeSection section;   ///< nominal
    std::string material;  ///< Material::id
    TubeForm form = TubeForm::seamless;
    std::vector<StickLength> sticks;
    std::optional<double> least_wall_mm;     ///< the mill's least wall, when the list states it
    std::optional<double> measured_wall_mm;  ///< gauged on the rack
    std::string note;
    std::string standard =
        {};  ///< what the tube is sold under: "ASTM A513", "ASTM A519", "EN 10305-1"; or empty
    friend bool operator==(const TubeStock&, const TubeStock&) = default;
};

struct StockList {
    std::string name;
    std::string currency;
    double kerf_mm = 3;  ///< lost at each saw cut between two pieces
    std::vector<Material> materials;
    std::vector<TubeStock> tubes;
    const TubeStock* find(std::string_view id) const;
    const Material* material(std::string_view id) const;
    friend bool operator==(const StockList&, const StockList&) = default;
};

/// A former for one OD. Lengths [mm].
struct Die {
    std::string id;
    double od_mm = 0;
    double radius_mm = 0;              ///< effective centreline radius
    double least_straight_mm = 0;      ///< clamp: between two bends, and before the first
    double least_end_straight_mm = 0;  ///< after the last bend
    double greatest_angle_rad = 3.14159265358979323846;
    std::optional<double> mark_to_tangent_mm =
        std::nullopt;  ///< from the die's mark to where the bend begins, along the tube
    std::optional<double> follower_mm = std::nullopt;  ///< length of the block or shoe that backs the tube up
    std::optional<double> clamp_mm = std::nullopt;     ///< length the clamp grips
    friend bool operator==(const Die&, const Die&) = default;
};
struct DieList {
    std::string name;
    std::vector<Die> dies;
    /// The first die for that OD (within 0.05 mm), or null.
    const Die* forOd(double od_mm) const;
    /// The die for that OD whose radius is within 0.5 mm, or null.
    const Die* forBend(double od_mm, double radius_mm) const;
    const Die* find(std::string_view id) const;
    friend bool operator==(const DieList&, const DieList&) = default;
};

}  // namespace hoopwright
