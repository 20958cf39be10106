// Places picked for a dimension, and dimensions through changes of the cage.
#include "core/edit/pin.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/edit/cage_edits.h"
#include "core/edit/pair_edits.h"
#include "core/model/measure_dimension.h"
#include "tests/core/model/small_cage.h"

namespace hoopwright {
namespace {

Vec3 placeOf(const Job& job, const CageGeometry& now, const Place3& place) {
    PinnedDimension pinned;
    pinned.from = place;
    pinned.to = FixedPoint{};
    const MeasuredDimension read = measureDimension(job, now, pinned);
    EXPECT_TRUE(read) << read.trouble;
    return read.from;
}

TEST(Pin, APickIsSaidToATenthWhereItWasTaken) {
    const Job job = testing::hoopJob();
    const CageGeometry now = resolve(job);
    const int hoop = now.member("main_hoop");
    const Centreline& line = now.members[std::size_t(hoop)].line;
    for (double s = 5; s < line.length_mm(); s += 37) {
        const Place3 place = placeOnBar(now, hoop, line.point(s), 30);
        const auto& landing = std::get<Landing>(place);
        const double off = (placeOf(job, now, place) - line.point(s)).norm();
        EXPECT_LE(off, landing.by == Landing::By::end ? 45 + 1e-6 : 0.06) << s;
    }
}

// Held against whole sixty-fourths of the inch, by dividing.
void expectSixtyFourths(double mm, const std::string& where) {
    const double parts = mm / 25.4 * 64;
    EXPECT_NEAR(parts, std::round(parts), 1e-6) << where << ": " << mm;
}

TEST(Pin, InAnInchJobAPickIsSaidInSixtyFourths) {
    const Job job = testing::hoopJob();
    const CageGeometry now = resolve(job);
    const int hoop = now.member("main_hoop");
    const Centreline& line = now.members[std::size_t(hoop)].line;
    int said = 0;
    for (double s = 5; s < line.length_mm(); s += 37) {
        const Place3 place = placeOnBar(now, hoop, line.point(s), 30, LengthUnit::in);
        const auto& landing = std::get<Landing>(place);
        if (landing.by == Landing::By::end) continue;
        ++said;
        expectSixtyFourths(landing.value, "along the bar");
        EXPECT_LE((placeOf(job, now, place) - line.point(s)).norm(), 25.4 / 128 + 1e-6) << s;
    }
    EXPECT_GT(said, 20);
    const int plate = now.plate("hoop_foot.right");
    const Vec3 middle = now.plates[std::size_t(plate)].at;
    const auto on = std::get<OnPlate>(placeOnPlate(now, plate, middle + Vec3(40, 30, 0), 15, LengthUnit::in));
    expectSixtyFourths(on.offset.x(), "on the plate");
    expectSixtyFourths(on.offset.y(), "on the plate");
}

TEST(Pin, APickNearANodeTakesTheEndOfTheBranchThatMeetsThere) {
    const Job job = testing::hoopJob();
    const CageGeometry now = resolve(job);
    const int hoop = now.member("main_hoop");
    const Joint& joint = now.joints[0];
    ASSERT_EQ(joint.host, hoop);
    const auto landing = std::get<Landing>(placeOnBar(now, hoop, joint.at + Vec3(0, 0, 12)));
    EXPECT_EQ(landing.by, Landing::By::end);
    EXPECT_EQ(landing.host, now.members[std::size_t(joint.branch)].id);
}

TEST(Pin, APlatesMiddleIsTakenNearIt) {
    const Job job = testing::hoopJob();
    const CageGeometry now = resolve(job);
    const int plate = now.plate("hoop_foot.right");
    const Vec3 middle = now.plates[std::size_t(plate)].at;
    EXPECT_EQ(std::get<OnPlate>(placeOnPlate(now, plate, middle + Vec3(5, 5, 0))).offset, Vec2(Vec2::Zero()));
    const Place3 aside = placeOnPlate(now, plate, middle + Vec3(40, 30, 0));
    EXPECT_NEAR((placeOf(job, now, aside) - middle).norm(), 50, 0.1);
}

Job withDimensions() {
    Job job = testing::hoopJob();
    PinnedDimension gap;
    gap.id = "gap";
    gap.kind = PinnedDimension::Kind::gap;
    gap.bar_a = "belt_bar";
    gap.bar_b = "rear_brace.right";
    PinnedDimension along;
    along.id = "along";
    Landing landing;
    landing.host = "rear_brace.right";
    landing.by = Landing::By::end;
    along.from = landing;
    along.to = OnPlate{"hoop_foot.left", Vec2::Zero()};
    job.cage.dimensions = {gap, along};
    return job;
}

std::vector<double> valuesOf(const Job& job) {
    std::vector<double> values;
    for (const MeasuredDimension& read : measureDimensions(job, resolve(job))) {
        EXPECT_TRUE(read) << read.trouble;
        values.push_back(read.value);
    }
    return values;
}

TEST(Pin, DimensionsFollowNewNamesAndBrokenAndMadePairs) {
    const Job job = withDimensions();
    const std::vector<double> were = valuesOf(job);
    Job next = job;
    renamePart(next, "rear_brace", "back_stay");
    renamePart(next, "hoop_foot", "pad");
    EXPECT_EQ(valuesOf(next), were);
    EXPECT_EQ(next.cage.dimensions[0].bar_b, "back_stay.right");
    next = job;
    breakPair(next, "rear_brace");
    const std::vector<double> broken = valuesOf(next);
    ASSERT_EQ(broken.size(), were.size());
    for (std::size_t i = 0; i < were.size(); ++i) EXPECT_NEAR(broken[i], were[i], 1e-9);
    next = job;
    breakPlatePair(next, "hoop_foot");
    EXPECT_NEAR(valuesOf(next)[1], were[1], 1e-9);
    next = job;
    next.cage.members.push_back(
        testing::bar("sill_bar", {testing::at(0, 500, 50), testing::at(600, 500, 50)}));
    next.cage.dimensions[0].bar_a = "sill_bar";
    const double before = valuesOf(next)[0];
    makePair(next, "sill_bar");
    EXPECT_EQ(next.cage.dimensions[0].bar_a, "sill_bar.left");
    EXPECT_NEAR(valuesOf(next)[0], before, 1e-9);
}

TEST(Pin, ADimensionOfADeletedBarStaysAndSaysSo) {
    Job job = withDimensions();
    deleteParts(job, resolve(job), {"belt_bar"}, Orphans::keep_in_place);
    ASSERT_EQ(job.cage.dimensions.size(), 2u);
    const auto read = measureDimensions(job, resolve(job));
    EXPECT_FALSE(read[0]);
    EXPECT_EQ(read[0].trouble, "The bar belt_bar is not there any more, or has no shape.");
    EXPECT_TRUE(read[1]);
}

TEST(Pin, IdsAreFree) {
    Job job = withDimensions();
    EXPECT_EQ(freeDimensionId(job.cage, "gap"), "gap_2");
    EXPECT_EQ(freeDimensionId(job.cage, "height"), "height");
    EXPECT_NE(findDimension(job.cage, "along"), nullptr);
    EXPECT_EQ(findDimension(job.cage, "nothing"), nullptr);
}

}  // namespace
}  // namespace hoopwright
