#include "render/pick.h"

#include <gtest/gtest.h>

#include <random>

#include "tests/render/small_cage.h"

namespace hoopwright {
namespace {

using testing_render::smallCage;

/// The slow way: walk along the ray in small steps and ask how far the centreline's nearest sample is.
double walked(const CageGeometry& cage, const Vec3& origin, const Vec3& direction, int member, double step) {
    const ResolvedMember& m = cage.members[static_cast<std::size_t>(member)];
    for (double t = 0; t < 6000; t += step) {
        const Vec3 p = origin + t * direction;
        if ((p - m.line.point(m.line.nearestStation(p))).norm() <= m.radius_mm()) return t;
    }
    return 1e300;
}

TEST(Pick, FindsTheTubeThatWalkingAlongTheRayFinds) {
    const CageGeometry cage = smallCage();
    std::mt19937 random(17);
    std::uniform_real_distribution<double> out(-1, 1), share(0, 1), aside(-60, 60);
    int hits = 0, misses = 0;
    for (int i = 0; i < 250; ++i) {
        const Vec3 origin = 2500 * Vec3(out(random), out(random), out(random)).normalized() + Vec3(0, 0, 500);
        const auto& aimed = cage.members[static_cast<std::size_t>(i) % cage.members.size()];
        const Vec3 target = aimed.line.point(share(random) * aimed.line.length_mm()) +
                            Vec3(aside(random), aside(random), aside(random));
        const Vec3 direction = (target - origin).normalized();
        const Picked picked = pick(cage, origin, direction);
        if (picked.plate >= 0) continue;
        double nearest = 1e300;
        int member = -1;
        constexpr double kStep = 0.5;
        for (int m = 0; m < static_cast<int>(cage.members.size()); ++m) {
            const double t = walked(cage, origin, direction, m, kStep);
            if (t < nearest) nearest = t, member = m;
        }
        if (member < 0) {
            // A walk in half-millimetre steps may step over a graze of this depth: r - sqrt(r^2 - (step/2)^2)
            // < 0.01 mm.
            if (picked) {
                const ResolvedMember& m = cage.members[static_cast<std::size_t>(picked.member)];
                const Vec3 deeper = picked.at + 0.25 * direction;
                EXPECT_GT((deeper - m.line.point(m.line.nearestStation(deeper))).norm(),
                          m.radius_mm() - 0.01);
            }
            ++misses;
            continue;
        }
        ++hits;
        ASSERT_TRUE(picked);
        const double t = (picked.at - origin).dot(direction);
        EXPECT_LE(t, nearest + 1e-5);
        EXPECT_GE(t, nearest - kStep - 1e-5);
        EXPECT_EQ(picked.member, member);
        const ResolvedMember& m = cage.members[static_cast<std::size_t>(member)];
        EXPECT_NEAR((picked.at - m.line.point(picked.station_mm)).norm(), m.radius_mm(), 1e-5);
    }
    EXPECT_GT(hits, 80);
    EXPECT_GT(misses, 20);
}

TEST(Pick, SlackCatchesARayThatPassesClose) {
    const CageGeometry cage = smallCage();
    const Vec3 origin(2000, 0, 600 + 20 + 5), direction(-1, 0, 0);
    EXPECT_FALSE(pick(cage, origin, direction));
    const Picked near = pick(cage, origin, 3 * direction, 8);
    EXPECT_EQ(near.member, 1);
    EXPECT_NEAR(near.station_mm, 600, 1e-3);
}

TEST(Pick, APlateIsMetOnItsFaceItsSideAndFromBelow) {
    const CageGeometry cage = smallCage();
    const Picked top = pick(cage, {40, 640, 500}, {0, 0, -1});
    EXPECT_EQ(top.plate, 0);
    EXPECT_EQ(top.member, -1);
    EXPECT_NEAR(top.at.z(), 0, 1e-9);
    const Picked below = pick(cage, {40, -640, -500}, {0, 0, 1});
    EXPECT_EQ(below.plate, 1);
    EXPECT_NEAR(below.at.z(), -3, 1e-9);
    const Picked side = pick(cage, {500, 640, -1.5}, {-1, 0, 0});
    EXPECT_EQ(side.plate, 0);
    EXPECT_NEAR(side.at.x(), 60, 1e-9);
    EXPECT_FALSE(pick(cage, {500, 661, -1.5}, {-1, 0, 0}));
}

TEST(Pick, WhatIsBehindTheEyeIsNotPicked) {
    const CageGeometry cage = smallCage();
    EXPECT_TRUE(pick(cage, {2000, 0, 600}, {-1, 0, 0}));
    EXPECT_FALSE(pick(cage, {2000, 0, 600}, {1, 0, 0}));
}

}  // namespace
}  // namespace hoopwright
