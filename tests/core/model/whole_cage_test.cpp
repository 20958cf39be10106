#include "tests/core/model/whole_cage.h"

#include <gtest/gtest.h>

#include "core/geometry/distance.h"
#include "tests/core/model/cage_checks.h"

namespace hoopwright {
namespace {

using namespace testing;

TEST(WholeCage, OfSixtyTubesHasNoProblemAndEveryEndMeetsSomething) {
    const CageGeometry cage = resolve(wholeCage());
    EXPECT_EQ(allTexts(cage), "");
    EXPECT_EQ(cage.members.size(), 61u);
    for (const ResolvedMember& member : cage.members) {
        for (const ResolvedEnd& end : member.ends) EXPECT_NE(end.on, ResolvedEnd::On::nothing) << member.id;
    }
}

/// Whether an end of `a` is coped to `b`, or the other way round.
bool joined(const CageGeometry& cage, int a, int b) {
    for (const auto& [one, two] : {std::pair{a, b}, std::pair{b, a}}) {
        for (const ResolvedEnd& end : cage.members[static_cast<std::size_t>(one)].ends) {
            if (end.host == two || std::find(end.also.begin(), end.also.end(), two) != end.also.end())
                return true;
        }
    }
    return false;
}

TEST(WholeCage, APushedBarClashesWithExactlyTheTubesItComesTooNear) {
    for (int push = 0; push < 12; ++push) {
        Job job = wholeCage();
        const double x = -1150.0 + 190 * push, y = 100.0 * (push % 5) - 150;
        job.cage.members.push_back(crossBar("rod", {at(x, y, 200), at(x + 260, y + 90, 1200)}));
        const CageGeometry cage = resolve(job);
        const int rod = cage.member("rod");
        std::size_t expected = 0;
        for (int i = 0; i < rod; ++i) {
            const ResolvedMember& other = cage.members[static_cast<std::size_t>(i)];
            const double apart =
                nearest(cage.members[static_cast<std::size_t>(rod)].line, other.line).distance_mm;
            if (!joined(cage, rod, i) && apart < 19 + other.radius_mm() - 0.1) ++expected;
        }
        EXPECT_EQ(cage.problems.size(), expected) << allTexts(cage);
    }
}

}  // namespace
}  // namespace hoopwright
