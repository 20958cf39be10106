#include "core/model/resolve.h"

#include <gtest/gtest.h>

#include "tests/core/model/small_cage.h"

namespace hoopwright {
namespace {

using namespace testing;

TEST(Resolve, AWholeHoopHasNoProblems) {
    const CageGeometry cage = resolve(hoopJob());
    EXPECT_EQ(allTexts(cage), "");
    ASSERT_EQ(cage.members.size(), 4u);
    EXPECT_EQ(cage.members[1].id, "rear_brace.left");
    EXPECT_EQ(cage.members[2].id, "rear_brace.right");
    EXPECT_EQ(cage.members[1].name, "Rear brace, left");
    EXPECT_EQ(cage.joints.size(), 4u);
    EXPECT_EQ(cage.totals.bends, 2);
}

}  // namespace
}  // namespace hoopwright
