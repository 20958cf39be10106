// The figure against the rule text it is from. Formula SAE Rules 2024 v1.0 (1 September 2023), F.5.6.4 and
// F.5.6.5: a circle of 200 mm for the hips, of 200 mm for the shoulders, of 300 mm for the head with its
// helmet; 490 mm straight from the middle of the hips' to that of the shoulders', 280 mm on to that of the
// head's; the middle of the hips at least 915 mm from the rear face of the pedals. T.2.1: upright is 30
// degrees from vertical or less.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "core/driver/body.h"
#include "core/model/figure.h"
#include "tests/degrees.h"

namespace hoopwright {
namespace {

class Template : public testing::TestWithParam<double> {
protected:
    const Driver d_ = *driverFromFigure(*figureNamed("student_formula_95"),
                                        {{400, 0, 150}, GetParam() * kDegree, Driver::Occupant::driver, {}});
    /// Middle of the shoulders' circle: 490 from the hips' up the back.
    const Vec3 circle_ =
        d_.hip + 490 * Vec3(-std::sin(GetParam() * kDegree), 0, std::cos(GetParam() * kDegree));
};

TEST_P(Template, HeadIsACircleOf300) {
    EXPECT_EQ(d_.helmet.length_mm, 300);
    EXPECT_EQ(d_.helmet.width_mm, 300);
    EXPECT_EQ(d_.helmet.height_mm, 300);
}

TEST_P(Template, HeadIs280FromTheShouldersAnd490FromTheHips) {
    EXPECT_NEAR((d_.helmet.centre - circle_).norm(), 280, 1e-9);
    EXPECT_NEAR((circle_ - d_.hip).norm(), 490, 1e-9);
}

TEST_P(Template, ShoulderCircleTouchesTheStrapPoints) {
    // Seen from the side the strap bears on the circle of 200.
    const Vec3 top = d_.shoulders() - circle_;
    EXPECT_NEAR(std::hypot(top.x(), top.z()), 100, 1e-9);
}

TEST_P(Template, HipsAreACircleOf200) {
    const Solid hips = solidsOf(d_, BodyPart::hip)[0].solid;
    EXPECT_NEAR(support(hips, Vec3::UnitZ()).z() - support(hips, -Vec3::UnitZ()).z(), 200, 1e-9);
    EXPECT_NEAR(support(hips, Vec3::UnitX()).x() - d_.hip.x(), 100, 1e-9);
}

TEST_P(Template, PedalsAre915FromTheHips) {
    for (const Vec3& heel : {d_.heel_left, d_.heel_right})
        EXPECT_NEAR(std::hypot(heel.x() - d_.hip.x(), heel.z() - d_.hip.z()), 915, 1e-9);
}

TEST_P(Template, BackLeansAsAsked) {
    EXPECT_EQ(d_.back_angle_rad <= 30 * kDegree + 1e-12, GetParam() <= 30);
}

INSTANTIATE_TEST_SUITE_P(UprightToReclined, Template,
                         testing::Values(0.0, 15.0, 30.0, 30.1, 45.0, 60.0, 85.0));

}  // namespace
}  // namespace hoopwright
