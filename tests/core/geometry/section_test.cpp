#include "core/geometry/section.h"

#include <gtest/gtest.h>

#include <limits>
#include <numbers>

namespace hoopwright {
namespace {

TEST(TubeSection, KnowsWhatATubeIs) {
    EXPECT_TRUE((TubeSection{45, 2.5}.valid()));
    EXPECT_FALSE((TubeSection{45, 0}.valid()));
    EXPECT_FALSE((TubeSection{45, -2.5}.valid()));
    EXPECT_FALSE((TubeSection{45, 22.5}.valid()));
    EXPECT_FALSE((TubeSection{std::numeric_limits<double>::infinity(), 2.5}.valid()));
    EXPECT_FALSE((TubeSection{45, std::numeric_limits<double>::quiet_NaN()}.valid()));
}

// A thin wall tends to pi D t, pi D^3 t / 8 and D^2 t (limits of the closed forms).
TEST(TubeSection, TendsToTheThinWallForms) {
    const TubeSection thin{100, 1e-6};
    EXPECT_NEAR(thin.area_mm2() / (std::numbers::pi * 100 * 1e-6), 1, 1e-7);
    EXPECT_NEAR(thin.inertia_mm4() / (std::numbers::pi * 1e6 * 1e-6 / 8), 1, 1e-6);
    EXPECT_NEAR(thin.plastic_modulus_mm3() / (1e4 * 1e-6), 1, 1e-6);
}

TEST(TubeSection, OfNothingHasNothing) {
    const TubeSection none;
    EXPECT_EQ(none.area_mm2(), 0);
    EXPECT_EQ(none.elastic_modulus_mm3(), 0);
    EXPECT_EQ(none.mass_kg_per_m(), 0);
}

}  // namespace
}  // namespace hoopwright
