#include "core/base/problem.h"

#include <gtest/gtest.h>

#include "core/base/expected.h"

namespace hoopwright {
namespace {

TEST(Problem, SaysWhereWhatAndWhatToDo) {
    const Problem problem{{"cage.yaml", 12, 9}, "wall: '2,5' is not a length", "write 2.5"};
    EXPECT_EQ(problem.text(), "cage.yaml:12:9: wall: '2,5' is not a length (write 2.5)");
}

TEST(Problem, LeavesOutWhatIsNotKnown) {
    EXPECT_EQ((Problem{{"cage.yaml"}, "the file is empty", ""}.text()), "cage.yaml: the file is empty");
    EXPECT_EQ((Problem{{}, "no file was named", "name one"}.text()), "no file was named (name one)");
}

TEST(Expected, HoldsAValueOrAReason) {
    const Expected<int> seven(7);
    ASSERT_TRUE(seven);
    EXPECT_EQ(*seven, 7);
    const Expected<int> none(Reason{"there is no seven"});
    ASSERT_FALSE(none);
    EXPECT_EQ(none.reason(), "there is no seven");
}

TEST(Expected, HoldsAStringWithoutTakingItForAReason) {
    const Expected<std::string> word(std::string("hoop"));
    ASSERT_TRUE(word);
    EXPECT_EQ(word->size(), 4u);
}

}  // namespace
}  // namespace hoopwright
