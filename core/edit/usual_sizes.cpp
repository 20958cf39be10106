#include "core/edit/usual_sizes.h"

#include <numbers>

namespace hoopwright {

const UsualSizes& usualSizes(LengthUnit unit) {
    constexpr double kInch = 25.4;
    static const UsualSizes kMetric{120, 100, 3, 130, 80, 4, 80, 2, {50, 2}, {3, 8, "8.8"}, {3, 10, "8.8"}};
    static const UsualSizes kInches{5 * kInch,
                                    4 * kInch,
                                    kInch / 8,
                                    5 * kInch,
                                    3 * kInch,
                                    3 * kInch / 16,
                                    3 * kInch,
                                    0.083 * kInch,
                                    {2 * kInch, 0.083 * kInch},
                                    {3, 5 * kInch / 16, "grade 5"},
                                    {3, 3 * kInch / 8, "grade 5"}};
    return unit == LengthUnit::in ? kInches : kMetric;
}

Flap usualFlap(LengthUnit unit, PlateEdge edge) {
    return {edge, unit == LengthUnit::in ? 1.5 * 25.4 : 40, std::numbers::pi / 2};
}

}  // namespace hoopwright
