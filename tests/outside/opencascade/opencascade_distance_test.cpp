#include <gtest/gtest.h>

#include <BRepExtrema_DistShapeShape.hxx>

#include "core/geometry/distance.h"
#include "tests/core/geometry/random_tubes.h"
#include "tests/outside/opencascade/shapes.h"

namespace hoopwright {
namespace {

// OpenCASCADE 7.6, BRepExtrema_DistShapeShape on wires of lines and arcs.
TEST(Outside_OpenCascade, FindsTheSameDistancesBetweenCentrelines) {
    std::mt19937_64 random(61);
    for (int i = 0; i < 80; ++i) {
        const Centreline a = randomTube(random), b = randomTube(random);
        const BRepExtrema_DistShapeShape other(wireOf(a), wireOf(b));
        ASSERT_TRUE(other.IsDone());
        EXPECT_NEAR(nearest(a, b).distance_mm, other.Value(), 1e-5);
    }
}

}  // namespace
}  // namespace hoopwright
