// What pinned dimensions read, against coordinates, closed forms and sampling.
#include "core/model/measure_dimension.h"

#include <gmock/gmock.h>

#include <cmath>
#include <numbers>

#include "tests/core/model/small_cage.h"

namespace hoopwright {
namespace {

using testing::at;
using testing::bar;
using ::testing::HasSubstr;
using Measured = PinnedDimension::Kind;

Place3 onBar(std::string host, Landing::By by, double value, bool last = false) {
    Landing landing;
    landing.host = std::move(host);
    landing.by = by;
    landing.value = value;
    landing.from_last_end = last;
    return landing;
}

PinnedDimension between(Place3 from, Place3 to, Measured kind = Measured::distance) {
    PinnedDimension pinned;
    pinned.id = "d";
    pinned.kind = kind;
    pinned.from = std::move(from);
    pinned.to = std::move(to);
    return pinned;
}

PinnedDimension ofBars(Measured kind, std::string a, std::string b) {
    PinnedDimension pinned;
    pinned.id = "d";
    pinned.kind = kind;
    pinned.bar_a = std::move(a);
    pinned.bar_b = std::move(b);
    return pinned;
}

MeasuredDimension read(const Job& job, const PinnedDimension& pinned) {
    return measureDimension(job, resolve(job), pinned);
}

/// The least distance of two bars from points every millimetre of both, then nearer and nearer.
double sampledCentres(const Centreline& a, const Centreline& b) {
    double sa = 0, sb = 0, best = 1e300;
    for (double s = 0; s <= a.length_mm(); s += 4)
        for (double t = 0; t <= b.length_mm(); t += 4)
            if (const double d = (a.point(s) - b.point(t)).norm(); d < best) best = d, sa = s, sb = t;
    for (double step = 4; step > 1e-7; step /= 2)
        for (int i = 0; i < 40; ++i) {
            const double before = best;
            for (const double ds : {-step, 0.0, step})
                for (const double dt : {-step, 0.0, step}) {
                    const double d = (a.point(sa + ds) - b.point(sb + dt)).norm();
                    if (d < best)
                        best = d, sa = std::clamp(sa + ds, 0.0, a.length_mm()),
                        sb = std::clamp(sb + dt, 0.0, b.length_mm());
                }
            if (best == before) break;
        }
    return best;
}

TEST(MeasureDimension, DistanceIsThatOfTheTwoPlaces) {
    Job job = testing::hoopJob();
    const MeasuredDimension found =
        read(job, between(FixedPoint{{0, 0, 0}}, OnPlate{"hoop_foot.left", {10, -20}}));
    ASSERT_TRUE(found) << found.trouble;
    // The plate lies flat at (-100, 600, 0), u along x and v along y.
    EXPECT_NEAR(found.value, std::sqrt(90.0 * 90 + 580 * 580), 1e-9);
    EXPECT_EQ(found.dimension, Dimension::length);
}

TEST(MeasureDimension, FollowsTheBarItIsPinnedTo) {
    Job job = testing::hoopJob();
    const PinnedDimension pinned =
        between(onBar("belt_bar", Landing::By::end, 0), onBar("belt_bar", Landing::By::end, 0, true));
    const double before = read(job, pinned).value;
    std::get<Landing>(job.cage.members[2].path[0].place).value = 650;
    std::get<Landing>(job.cage.members[2].path[1].place).value = 650;
    const CageGeometry now = resolve(job);
    const double after = measureDimension(job, now, pinned).value;
    EXPECT_NE(before, after);
    const Centreline& belt = now.members[std::size_t(now.member("belt_bar"))].line;
    EXPECT_NEAR(after, (belt.end() - belt.start()).norm(), 1e-9);
}

TEST(MeasureDimension, GapAndCentresAgreeWithSampling) {
    const Job job = testing::hoopJob();
    const CageGeometry now = resolve(job);
    for (const auto& [a, b] : {std::pair{"rear_brace.left", "belt_bar"},
                               {"rear_brace.right", "belt_bar"},
                               {"rear_brace.left", "rear_brace.right"}}) {
        const ResolvedMember &one = now.members[std::size_t(now.member(a))],
                             &other = now.members[std::size_t(now.member(b))];
        const double sampled = sampledCentres(one.line, other.line);
        const MeasuredDimension centres = measureDimension(job, now, ofBars(Measured::centres, a, b)),
                                gap = measureDimension(job, now, ofBars(Measured::gap, a, b));
        EXPECT_NEAR(centres.value, sampled, 1e-5);
        EXPECT_NEAR(gap.value, sampled - one.radius_mm() - other.radius_mm(), 1e-5);
        // The line drawn is as long as what is said.
        EXPECT_NEAR((gap.to - gap.from).norm(), gap.value, 1e-6);
        EXPECT_NEAR((centres.to - centres.from).norm(), centres.value, 1e-6);
    }
}

TEST(MeasureDimension, GapIsNegativeWhereTubesRunIntoEachOther) {
    Job job = testing::emptyJob();
    job.cage.members = {bar("a", {at(0, 0, 0), at(1000, 0, 0)}),
                        bar("b", {at(500, -500, 20), at(500, 500, 20)})};
    EXPECT_NEAR(read(job, ofBars(Measured::gap, "a", "b")).value, 20 - 45, 1e-9);
}

TEST(MeasureDimension, AngleIsTakenOnTheSideOfThePlaces) {
    // Two bars of a 3-4-5 triangle: the angle at the right corner's neighbour is atan(3/4).
    Job job = testing::emptyJob();
    job.cage.members = {bar("flat", {at(0, 0, 0), at(800, 0, 0)}),
                        bar("slope", {at(0, 0, 0), at(800, 0, 600)})};
    const auto angleAt = [&](double on_flat, double on_slope) {
        return read(job, between(onBar("flat", Landing::By::distance, on_flat),
                                 onBar("slope", Landing::By::distance, on_slope), Measured::angle))
            .value;
    };
    const double sharp = std::atan2(3, 4);
    EXPECT_NEAR(angleAt(700, 900), sharp, 1e-12);
    EXPECT_NEAR(angleAt(100, 100), sharp, 1e-12);
    // Crossing bars have a blunt side too.
    job.cage.members[1] = bar("slope", {at(0, 0, -300), at(800, 0, 300)});
    EXPECT_NEAR(angleAt(700, 900), sharp, 1e-12);
    EXPECT_NEAR(angleAt(700, 100), std::numbers::pi - sharp, 1e-12);
}

TEST(MeasureDimension, AngleOfBarsThatMissEachOtherByTheLawOfCosines) {
    Job job = testing::emptyJob();
    job.cage.members = {bar("a", {at(0, 0, 0), at(900, 120, 40)}),
                        bar("b", {at(300, -400, 200), at(420, 500, 260)})};
    const CageGeometry now = resolve(job);
    const MeasuredDimension found =
        measureDimension(job, now,
                         between(onBar("a", Landing::By::distance, 880),
                                 onBar("b", Landing::By::distance, 890), Measured::angle));
    // A triangle of two sides of length one along the bars and the third between their tips.
    const Vec3 u = now.members[0].line.tangent(10), v = now.members[1].line.tangent(10);
    const double third2 = (u - v).squaredNorm();
    EXPECT_NEAR(found.value, std::acos((2 - third2) / 2), 1e-12);
}

TEST(MeasureDimension, HeightOverGroundAndSill) {
    Job job = testing::hoopJob();
    job.car.ground_z_mm = -312.5;
    PinnedDimension pinned = between(onBar("belt_bar", Landing::By::fraction, 0.5), {}, Measured::height);
    EXPECT_NEAR(read(job, pinned).value, 600 + 312.5, 1e-6);
    pinned.over = PinnedDimension::Over::sill;
    EXPECT_NEAR(read(job, pinned).value, 600, 1e-6);
}

TEST(MeasureDimension, HeightOverASlopingFloor) {
    Job job = testing::hoopJob();
    const auto z = [](double x, double y) { return -80 + 0.03 * x - 0.02 * y; };
    CarLine floor;
    floor.name = "floor";
    floor.kind = CarLine::Kind::floor;
    floor.closed = true;
    for (const auto& [x, y] : {std::pair{-900.0, -500.0}, {900.0, -500.0}, {700.0, 500.0}, {-900.0, 450.0}})
        floor.points.push_back({x, y, z(x, y)});
    job.car.lines = {floor};
    PinnedDimension pinned = between(FixedPoint{{130, -210, 400}}, {}, Measured::height);
    pinned.over = PinnedDimension::Over::floor;
    EXPECT_NEAR(read(job, pinned).value, 400 - z(130, -210), 1e-9);
    pinned.from = FixedPoint{{130, 900, 400}};
    EXPECT_THAT(read(job, pinned).trouble, HasSubstr("No floor"));
}

TEST(MeasureDimension, SaysWhatIsGone) {
    Job job = testing::hoopJob();
    EXPECT_EQ(read(job, ofBars(Measured::gap, "main_hoop", "dash_bar")).trouble,
              "The bar dash_bar is not there any more, or has no shape.");
    EXPECT_THAT(read(job, ofBars(Measured::gap, "main_hoop", "rear_brace")).trouble,
                HasSubstr("say rear_brace.left"));
    EXPECT_THAT(read(job, between(AtCarPoint{"nowhere", Vec3::Zero()}, FixedPoint{})).trouble,
                HasSubstr("no point nowhere"));
    EXPECT_THAT(read(job, between(OnPlate{"gone", Vec2::Zero()}, FixedPoint{})).trouble,
                HasSubstr("plate gone"));
    EXPECT_THAT(read(job, between(onBar("belt_bar", Landing::By::distance, 99999), FixedPoint{})).trouble,
                HasSubstr("off its end"));
    EXPECT_THAT(read(job, between(FixedPoint{{1, 2, 3}}, FixedPoint{}, Measured::angle)).trouble,
                HasSubstr("between two bars"));
    EXPECT_THAT(read(job, ofBars(Measured::centres, "belt_bar", "belt_bar")).trouble, HasSubstr("itself"));
}

TEST(MeasureDimension, IsNamedByWhatItMeasures) {
    const Job job = testing::hoopJob();
    const CageGeometry now = resolve(job);
    EXPECT_EQ(shownName(ofBars(Measured::gap, "main_hoop", "belt_bar"), now), "Gap, main hoop to belt bar");
    PinnedDimension height = between(onBar("belt_bar", Landing::By::end, 0), {}, Measured::height);
    EXPECT_EQ(shownName(height, now), "Belt bar over the ground");
    height.name = "Harness height";
    EXPECT_EQ(shownName(height, now), "Harness height");
}

}  // namespace
}  // namespace hoopwright
