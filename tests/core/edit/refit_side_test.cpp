#include "core/edit/refit_side.h"

#include <gtest/gtest.h>

#include "core/mesh/scan_mesh.h"
#include "core/mesh/tube_gap.h"
#include "core/model/resolve.h"
#include "tests/core/edit/plain_job.h"

namespace hoopwright {
namespace {

/// A car of two walls and a roof, its right wall 25 mm farther out than its left.
Job leaningCar() {
    Job job = plainHoop();
    job.cage.members.clear();
    ReadMesh read;
    const auto sheet = [&](const Vec3& a, const Vec3& b, const Vec3& c, const Vec3& d) {
        const auto first = static_cast<std::uint32_t>(read.mesh.vertices.size());
        for (const Vec3& p : {a, b, c, d}) read.mesh.vertices.push_back(p);
        read.mesh.triangles.push_back({first, first + 1, first + 2});
        read.mesh.triangles.push_back({first, first + 2, first + 3});
    };
    sheet({-500, 700, -100}, {1500, 700, -100}, {1500, 560, 1000}, {-500, 560, 1000});
    sheet({-500, -725, -100}, {1500, -725, -100}, {1500, -585, 1000}, {-500, -585, 1000});
    CarScan scan;
    scan.file = "walls.stl";
    scan.unit = ScanUnit::mm;
    job.car.scans.push_back(scan);
    job.scan_meshes["walls.stl"] = std::make_shared<const ScanMesh>(std::move(read));
    addBar(job, "side", "side_bar",
           {FixedPoint{{0, 520, 900}}, FixedPoint{{500, 520, 880}}, FixedPoint{{1000, 610, 300}},
            FixedPoint{{1050, 630, 0}}});
    job.cage.members.back().mirrored = true;
    return job;
}

double leastGap(const FitCar& car, const CageGeometry& cage, const std::string& id) {
    const ResolvedMember& bar = cage.members.at(static_cast<std::size_t>(cage.member(id)));
    return gapAlong(bar.line, bar.radius_mm(), car.meshes())->least_mm;
}

TEST(RefittingASide, TheRightBarKeepsOffItsOwnWallAsTheLeftDoesOffIts) {
    Job job = leaningCar();
    const FitCar car(job.car, job.scan_meshes);
    const CageGeometry before = resolve(job);
    const double left = leastGap(car, before, "side.left"), mirrored = leastGap(car, before, "side.right");
    ASSERT_GT(left, 0);
    EXPECT_GT(mirrored, left) << "the wall is farther out there";
    const auto refit = refitRightSide(job, before, car, "side");
    ASSERT_TRUE(refit) << refit.reason();
    EXPECT_NEAR(refit->gap_mm, left, 1e-9);
    const CageGeometry after = resolve(job);
    EXPECT_FALSE(job.cage.member("side")->mirrored);
    EXPECT_NEAR(leastGap(car, after, "side"), left, 1e-9) << "the left one stays";
    // Its ends stay where they were mirrored to, so that they may hold it off; its bends go outwards.
    EXPECT_LT(refit->fit.bar.after.mean_mm, refit->fit.bar.before.mean_mm - 5);
    EXPECT_GE(leastGap(car, after, refit->right), left - 2 * kFitError_mm);
}

TEST(RefittingASide, RefusesWhatHasNoOtherSide) {
    Job job = leaningCar();
    const FitCar car(job.car, job.scan_meshes), none(Car{}, {});
    addBar(job, "single", "floor_bar", {FixedPoint{{0, 0, 0}}, FixedPoint{{500, 0, 0}}});
    const Job before = job;
    const CageGeometry now = resolve(job);
    EXPECT_FALSE(refitRightSide(job, now, car, "single"));
    EXPECT_FALSE(refitRightSide(job, now, car, "nothing"));
    EXPECT_FALSE(refitRightSide(job, now, none, "side"));
    EXPECT_EQ(job, before);
}

}  // namespace
}  // namespace hoopwright
