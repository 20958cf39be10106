// Ties to a frame that the body lifts off, and risers under plates.
#include <gtest/gtest.h>

#include "core/model/resolve.h"
#include "tests/core/model/cage_checks.h"
#include "tests/core/model/small_cage.h"

namespace hoopwright {
namespace {

using namespace testing;

Plate plateAt(const std::string& id, const Vec3& at, const std::string& rail,
              Fixing fixing = Fixing::welded) {
    Plate plate;
    plate.id = id;
    plate.at = FixedPoint{at};
    plate.length_mm = 120;
    plate.width_mm = 100;
    plate.thickness_mm = 4;
    plate.rail = rail;
    plate.fixing = fixing;
    return plate;
}

/// A leg that stands on the body's floor, and a return from it to the frame.
Job tied(Fixing fixing, Car::Frame frame = Car::Frame::ladder) {
    Job job = emptyJob();
    job.car.frame = frame;
    job.car.rails = {{"frame.left", {{-1000, 400, -200}, {1000, 400, -200}}, 80, 150, 4},
                     {"frame.right", {{-1000, -400, -200}, {1000, -400, -200}}, 80, 150, 4},
                     {"sill.left", {{-1000, 700, -50}, {1000, 700, -50}}, 80, 100, 1},
                     {"sill.right", {{-1000, -700, -50}, {1000, -700, -50}}, 80, 100, 1}};
    job.cage.plates = {plateAt("foot", {0, 600, 0}, "sill.left"),
                       plateAt("tie", {-200, 400, -125}, "frame.left", fixing)};
    job.cage.members = {pair("leg", {at(0, 600, 800), onPlate("foot")}),
                        pair("tie_bar", {onBy("leg", Landing::By::height, 120), onPlate("tie")})};
    for (Plate& plate : job.cage.plates) plate.mirrored = true;
    return job;
}

TEST(Ties, AWeldedOneToAFrameTheBodyLiftsOffIsSaidAndABoltedOneNot) {
    const CageGeometry welded = resolve(tied(Fixing::welded));
    ASSERT_EQ(welded.notes.size(), 1u) << "a pair is said once";
    EXPECT_EQ(welded.notes[0].text,
              "Tie, left and right: are welded to the frame, and the bars on them stand on the body too, so "
              "the body does not come off its frame again.");
    EXPECT_EQ(welded.notes[0].plate, "tie");
    EXPECT_EQ(welded.notes[0].member, "tie_bar");
    EXPECT_TRUE(near(welded.notes[0].at, {-200, 400, -125}));
    const CageGeometry bolted = resolve(tied(Fixing::bolted));
    EXPECT_TRUE(bolted.notes.empty());
    for (const CageGeometry* cage : {&welded, &bolted})
        for (const ResolvedPlate& plate : cage->plates)
            EXPECT_EQ(plate.must_be_bolted, plate.id.starts_with("tie")) << plate.id;
}

TEST(Ties, AreNoMatterWhereTheBodyIsTheFrameOrShallStayOnIt) {
    EXPECT_TRUE(resolve(tied(Fixing::welded, Car::Frame::unibody)).notes.empty());
    EXPECT_EQ(resolve(tied(Fixing::welded, Car::Frame::perimeter)).notes.size(), 1u);
    Job job = tied(Fixing::welded);
    job.cage.body_stays = true;
    EXPECT_TRUE(resolve(job).notes.empty());
    for (const ResolvedPlate& plate : resolve(job).plates) EXPECT_FALSE(plate.must_be_bolted);
}

TEST(Ties, OfBarsThatStandOnTheFrameAloneMayBeWelded) {
    Job job = tied(Fixing::welded);
    job.cage.members[1].path.front() = at(-200, 400, 600);  // not on the leg any more
    EXPECT_TRUE(resolve(job).notes.empty());
    // Through a third bar it hangs together with the leg again.
    job.cage.members.push_back(
        pair("link", {onBy("leg", Landing::By::height, 500), onBy("tie_bar", Landing::By::height, 300)}));
    EXPECT_EQ(resolve(job).notes.size(), 1u);
}

TEST(Ties, TheCarSaysOfWhatARailIsPartWhereItsNameDoesNot) {
    Job job = tied(Fixing::welded);
    for (FrameRail& rail : job.car.rails)
        if (rail.name.starts_with("frame")) rail.of = FrameRail::Of::body;
    EXPECT_TRUE(resolve(job).notes.empty());
    for (FrameRail& rail : job.car.rails) rail.of = FrameRail::Of::frame;
    EXPECT_TRUE(resolve(job).notes.empty()) << "then all of it stands on the frame";
    EXPECT_TRUE(job.car.isOfFrame({"outrigger", {}, 1, 1, 1}));
    EXPECT_FALSE(job.car.isOfFrame({"rocker.left", {}, 1, 1, 1}));
}

TEST(Risers, WeighAsTheirFourWallsEachCornerOnce) {
    Job job = tied(Fixing::bolted);
    const double plain = resolve(job).plates[0].mass_kg;
    job.cage.plates[0].riser = Riser{60, 2};
    const ResolvedPlate plate = resolve(job).plates[0];
    EXPECT_EQ(plate.riser_height_mm, 60);
    EXPECT_NEAR(plate.riser_area_mm2, 2 * (120 + 100) * 60.0, 1e-9);
    EXPECT_NEAR(plate.mass_kg - plain, (120 * 100 - 116 * 96) * 60.0 * 7850e-9, 1e-12);
    // The same rectangle as an outline of its own.
    job.cage.plates[0].outline = {{-60, -50}, {60, -50}, {60, 50}, {-60, 50}};
    EXPECT_NEAR(resolve(job).plates[0].riser_area_mm2, plate.riser_area_mm2, 1e-9);
    // A box so thick that nothing is left inside is solid.
    job.cage.plates[0].riser = Riser{60, 55};
    EXPECT_NEAR(resolve(job).plates[0].mass_kg - plain, 120 * 100 * 60.0 * 7850e-9, 1e-12);
    job.cage.plates[0].riser = Riser{0, 2};
    EXPECT_TRUE(has(resolve(job), GeometryProblem::Kind::bad_value, "has a riser with no size"));
}

}  // namespace
}  // namespace hoopwright
