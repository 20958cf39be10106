// A foot over the edge of its plate, and a tube that runs into itself.
#include <gtest/gtest.h>

#include <numbers>

#include "core/model/resolve.h"
#include "tests/core/model/cage_checks.h"
#include "tests/core/model/small_cage.h"

namespace hoopwright {
namespace {

using namespace testing;
using Kind = GeometryProblem::Kind;

Plate flatPlate(double length_mm, double width_mm) {
    Plate plate;
    plate.id = "foot";
    plate.at = FixedPoint{{0, 0, 0}};
    plate.normal = {0, 0, 1};
    plate.along = {1, 0, 0};
    plate.length_mm = length_mm;
    plate.width_mm = width_mm;
    plate.thickness_mm = 3;
    plate.material = "e355";
    return plate;
}

/// A 38 mm tube from `from` down to the plate at the origin.
CageGeometry standing(const Vec3& from, const Plate& plate, Vec2 offset = Vec2::Zero()) {
    Job job = emptyJob();
    job.cage.plates = {plate};
    job.cage.members = {
        bar("leg", {at(from.x(), from.y(), from.z()), onPlate("foot", offset.x(), offset.y())}, "38x2.5")};
    return resolve(job);
}

TEST(Feet, AnUprightTubeThatJustFitsIsFine) {
    EXPECT_EQ(allTexts(standing({0, 0, 500}, flatPlate(38, 38))), "");
    EXPECT_TRUE(has(standing({0, 0, 500}, flatPlate(37, 38)), Kind::foot_overhangs, "by 0.5 mm"));
}

TEST(Feet, ALeaningTubeNeedsItsFootprintAlongTheLean) {
    // At 60 degrees off the plate's face the cut is 38 / sin 60 = 43.9 mm long, and 38 mm wide.
    const Vec3 from(500 * std::cos(std::numbers::pi / 3), 0, 500 * std::sin(std::numbers::pi / 3));
    EXPECT_EQ(allTexts(standing(from, flatPlate(44, 38))), "");
    EXPECT_TRUE(has(standing(from, flatPlate(40, 38)), Kind::foot_overhangs, "Leg: overhangs its plate"));
    EXPECT_TRUE(has(standing(from, flatPlate(38, 44)), Kind::foot_overhangs, "by 2.9 mm"));
}

TEST(Feet, AFootMovedTowardsTheEdgeOverhangsByWhatItWasMovedTooFar) {
    EXPECT_EQ(allTexts(standing({31, 0, 500}, flatPlate(100, 80), {31, 0})), "");
    EXPECT_TRUE(has(standing({41, 0, 500}, flatPlate(100, 80), {41, 0}), Kind::foot_overhangs, "by 10.0 mm"));
    // All of it beside the plate.
    EXPECT_TRUE(has(standing({0, 90, 500}, flatPlate(100, 80), {0, 90}), Kind::foot_overhangs, "by 69.0 mm"));
}

TEST(Feet, ANotchInThePlateCounts) {
    Plate plate = flatPlate(0, 0);
    plate.outline = {{-50, -40}, {50, -40}, {50, 40}, {10, 40}, {10, 0}, {-10, 0}, {-10, 40}, {-50, 40}};
    EXPECT_TRUE(has(standing({0, 0, 500}, plate), Kind::foot_overhangs, "overhangs its plate"));
    EXPECT_EQ(allTexts(standing({0, -20, 500}, plate, {0, -20})), "");
}

CageGeometry bent(std::vector<MemberPoint> path) {
    Job job = emptyJob();
    job.cage.members = {bar("loop", std::move(path))};
    return resolve(job);
}

TEST(Tubes, ThatCrossTheirOwnWayRunIntoThemselves) {
    // Once round a square, over its own start.
    const CageGeometry cage =
        bent({at(0, 0, 0), at(900, 0, 0), at(900, 900, 0), at(300, 900, 0), at(300, -300, 0)});
    EXPECT_TRUE(has(cage, Kind::strikes_itself, "Loop: runs into itself, at x 300.0"));
}

TEST(Tubes, ThatPassTheirOwnWayClearDoNot) {
    // The last leg comes down past the first by a little more than a diameter, then by a little less.
    const auto passing = [](double above) {
        return bent(
            {at(0, 0, 0), at(900, 0, 0), at(900, 900, above), at(300, 900, above), at(300, -300, above)});
    };
    EXPECT_FALSE(has(passing(45.3), Kind::strikes_itself, ""));
    EXPECT_TRUE(has(passing(44.7), Kind::strikes_itself, ""));
}

TEST(Tubes, OfAHoopBentMoreThanHalfRoundAreNotTakenForAStrike) {
    const CageGeometry hoop = bent({at(0, 500, 0), at(0, 700, 600), at(0, 500, 1000), at(0, -500, 1000),
                                    at(0, -700, 600), at(0, -500, 0)});
    EXPECT_FALSE(has(hoop, Kind::strikes_itself, ""));
}

}  // namespace
}  // namespace hoopwright
