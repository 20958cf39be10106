// What must not change a cage: where it stands, which way round it is seen, from which end a bar is drawn,
// in which order bars are declared, and in which unit a file says it.
#include <numeric>

#include "tests/core/model/any_cage.h"
#include "tests/core/model/cage_checks.h"
#include "tests/core/model/changed_job.h"
#include "tests/core/model/whole_cage.h"

namespace hoopwright {
namespace {

using namespace testing;

using Kind = GeometryProblem::Kind;

constexpr unsigned kCages = 60;

const ResolvedMember& likeIn(const CageGeometry& cage, const ResolvedMember& member) {
    return memberOf(cage, member.id);
}

/// Bars, joints and nodes are alike once `as` has been applied to every point of the first.
template <class As>
void expectAlike(const CageGeometry& before, const CageGeometry& after, As as) {
    ASSERT_EQ(before.members.size(), after.members.size());
    ASSERT_EQ(before.joints.size(), after.joints.size());
    ASSERT_EQ(before.nodes.size(), after.nodes.size());
    EXPECT_EQ(before.problems.size(), after.problems.size()) << allTexts(before) << "\n" << allTexts(after);
    for (const ResolvedMember& was : before.members) {
        const ResolvedMember& is = likeIn(after, was);
        EXPECT_NEAR(was.line.length_mm(), is.line.length_mm(), kExact_mm) << was.id;
        EXPECT_NEAR(was.mass_kg, is.mass_kg, 1e-5) << was.id;
        EXPECT_EQ(was.line.bendCount(), is.line.bendCount()) << was.id;
        for (const double share : {0.0, 0.2, 0.5, 0.7, 1.0}) {
            const double s = share * was.line.length_mm();
            EXPECT_TRUE(near(as(was.line.point(s)), is.line.point(s))) << was.id << " at " << s;
        }
        for (std::size_t e = 0; e < 2; ++e) {
            EXPECT_EQ(was.ends[e].on, is.ends[e].on) << was.id;
            EXPECT_NEAR(was.ends[e].host_station_mm, is.ends[e].host_station_mm, kExact_mm) << was.id;
            EXPECT_EQ(was.ends[e].also, is.ends[e].also) << was.id;
        }
    }
    for (std::size_t i = 0; i < before.joints.size(); ++i) {
        EXPECT_NEAR(before.joints[i].angle_rad, after.joints[i].angle_rad, 1e-9);
        EXPECT_NEAR(before.joints[i].offset_mm, after.joints[i].offset_mm, kExact_mm);
        EXPECT_EQ(before.joints[i].on_bend, after.joints[i].on_bend);
        EXPECT_TRUE(near(as(before.joints[i].at), after.joints[i].at));
    }
    for (std::size_t i = 0; i < before.nodes.size(); ++i) {
        EXPECT_NEAR(before.nodes[i].spread_mm, after.nodes[i].spread_mm, kExact_mm);
        EXPECT_EQ(before.nodes[i].members, after.nodes[i].members);
        EXPECT_TRUE(near(as(before.nodes[i].at), after.nodes[i].at));
    }
    EXPECT_NEAR(before.totals.tube_mass_kg, after.totals.tube_mass_kg, 1e-5);
    EXPECT_NEAR(before.totals.plate_mass_kg, after.totals.plate_mass_kg, 1e-9);
}

TEST(AnyCage, CanBeBuilt) {
    std::size_t joints = 0;
    for (unsigned seed = 1; seed <= kCages; ++seed) {
        const CageGeometry cage = resolve(AnyCage(seed).job());
        EXPECT_EQ(cage.members.size(), 8u) << seed << "\n" << allTexts(cage);
        joints += cage.joints.size();
        // Bars may come too near each other; but each finds its places and can be drawn.
        for (const GeometryProblem& problem : cage.problems) {
            EXPECT_NE(problem.kind, Kind::landing_misses) << problem.text;
            EXPECT_NE(problem.kind, Kind::landing_ambiguous) << problem.text;
            EXPECT_NE(problem.kind, Kind::path) << problem.text;
            EXPECT_NE(problem.kind, Kind::bad_value) << problem.text;
        }
    }
    EXPECT_GE(joints, 11u * kCages);
}

TEST(SameCage, MovedBodilyItIsTheSame) {
    for (unsigned seed = 1; seed <= kCages; ++seed) {
        SCOPED_TRACE(seed);
        const Job job = AnyCage(seed).job();
        const Vec3 by(317.25 + seed, 0, -212.5);
        expectAlike(resolve(job), resolve(movedAlong(job, by.x(), by.z())),
                    [&](const Vec3& p) -> Vec3 { return p + by; });
        if (HasFailure()) return;
    }
}

TEST(SameCage, SixtyTubesMovedBodilyAreTheSame) {
    const Job job = wholeCage();
    const Vec3 by(-450, 0, 96.4);
    expectAlike(resolve(job), resolve(movedAlong(job, by.x(), by.z())),
                [&](const Vec3& p) -> Vec3 { return p + by; });
}

TEST(SameCage, SeenInAMirrorItIsItsMirrorImage) {
    for (unsigned seed = 1; seed <= kCages; ++seed) {
        SCOPED_TRACE(seed);
        const Job job = AnyCage(seed).job();
        expectAlike(resolve(job), resolve(inTheMirror(job)), [](const Vec3& p) { return mirrored(p); });
        if (HasFailure()) return;
    }
}

TEST(SameCage, SeenInAMirrorTwiceItIsItself) {
    for (unsigned seed = 1; seed <= 10; ++seed) {
        const Job job = AnyCage(seed).job();
        EXPECT_EQ(inTheMirror(inTheMirror(job)), job);
        EXPECT_EQ(turnedEndForEnd(turnedEndForEnd(job)).cage.members.size(), job.cage.members.size());
    }
}

TEST(SameCage, DrawnFromTheOtherEndABarIsTheSameTube) {
    for (unsigned seed = 1; seed <= kCages; ++seed) {
        SCOPED_TRACE(seed);
        const Job job = AnyCage(seed).job();
        const CageGeometry one = resolve(job), other = resolve(turnedEndForEnd(job));
        ASSERT_EQ(one.members.size(), other.members.size());
        for (const ResolvedMember& was : one.members) {
            const ResolvedMember& is = likeIn(other, was);
            const double length = was.line.length_mm();
            EXPECT_NEAR(length, is.line.length_mm(), kExact_mm) << was.id;
            for (const double share : {0.0, 0.3, 0.6, 1.0}) {
                EXPECT_TRUE(near(was.line.point(share * length), is.line.point((1 - share) * length)))
                    << was.id;
            }
            for (std::size_t e = 0; e < 2; ++e) {
                EXPECT_EQ(was.ends[e].host, is.ends[1 - e].host) << was.id;
                EXPECT_TRUE(near(was.ends[e].outward, is.ends[1 - e].outward, 1e-9)) << was.id;
            }
        }
        EXPECT_EQ(one.problems.size(), other.problems.size()) << allTexts(one) << "\n" << allTexts(other);
        if (HasFailure()) return;
    }
}

// Build order decides who is cut for whom, not where anything is.
TEST(SameCage, DeclaredInAnyOrderEveryBarLiesWhereItLay) {
    std::mt19937 random(5);
    for (unsigned seed = 1; seed <= kCages; ++seed) {
        SCOPED_TRACE(seed);
        const Job job = AnyCage(seed).job();
        Job shuffled = job;
        for (std::size_t i = shuffled.cage.members.size(); i > 1; --i)
            std::swap(shuffled.cage.members[i - 1], shuffled.cage.members[random() % i]);
        const CageGeometry one = resolve(job), other = resolve(shuffled);
        ASSERT_EQ(one.members.size(), other.members.size());
        for (std::size_t i = 0; i < other.members.size(); ++i)
            EXPECT_EQ(other.members[i].id, shuffled.cage.members[i].id) << "build order is as declared";
        for (const ResolvedMember& was : one.members) {
            const ResolvedMember& is = likeIn(other, was);
            EXPECT_NEAR(was.line.length_mm(), is.line.length_mm(), kExact_mm) << was.id;
            EXPECT_TRUE(near(was.line.start(), is.line.start())) << was.id;
            EXPECT_TRUE(near(was.line.end(), is.line.end())) << was.id;
        }
        EXPECT_EQ(one.joints.size(), other.joints.size());
        EXPECT_NEAR(one.totals.tube_length_mm, other.totals.tube_length_mm, kExact_mm);
        if (HasFailure()) return;
    }
}

TEST(SameCage, DeclaredInAnyOrderSixtyTubesMeetInTheSamePlaces) {
    std::mt19937 random(11);
    const Job job = wholeCage();
    const CageGeometry one = resolve(job);
    for (int round = 0; round < 8; ++round) {
        Job shuffled = job;
        for (std::size_t i = shuffled.cage.members.size(); i > 1; --i)
            std::swap(shuffled.cage.members[i - 1], shuffled.cage.members[random() % i]);
        const CageGeometry other = resolve(shuffled);
        EXPECT_EQ(one.members.size(), other.members.size());
        EXPECT_EQ(one.joints.size(), other.joints.size());
        EXPECT_NEAR(one.totals.tube_length_mm, other.totals.tube_length_mm, 1e-6);
        for (const ResolvedMember& was : one.members)
            EXPECT_TRUE(near(was.line.start(), likeIn(other, was).line.start())) << was.id;
        if (HasFailure()) return;
    }
}

// A plate is not a member: the order of plates is nobody's build order.
TEST(SameCage, PlatesMayBeDeclaredInAnyOrder) {
    Job job = wholeCage();
    const CageGeometry one = resolve(job);
    std::reverse(job.cage.plates.begin(), job.cage.plates.end());
    const CageGeometry other = resolve(job);
    ASSERT_EQ(one.plates.size(), other.plates.size());
    for (const ResolvedPlate& was : one.plates) {
        const ResolvedPlate& is = other.plates[static_cast<std::size_t>(other.plate(was.id))];
        EXPECT_TRUE(near(was.at, is.at)) << was.id;
        EXPECT_EQ(was.feet, is.feet) << was.id;
    }
}

// The job is a value: resolving it leaves it as it was and gives the same again.
TEST(SameCage, ResolvedTwiceIsTheSameToTheLastBit) {
    const Job job = wholeCage();
    const Job before = job;
    const CageGeometry one = resolve(job), again = resolve(job);
    EXPECT_EQ(job, before);
    for (std::size_t i = 0; i < one.members.size(); ++i) {
        EXPECT_EQ(one.members[i].line.end(), again.members[i].line.end());
        EXPECT_EQ(one.members[i].mass_kg, again.members[i].mass_kg);
    }
}

/// One bar of a cage taken away: what landed on it is a problem, all else stays.
TEST(SameCage, ABarTakenAwayLeavesTheRestWhereItWas) {
    const Job whole = wholeCage();
    const CageGeometry before = resolve(whole);
    for (const std::size_t gone : {std::size_t{0}, std::size_t{7}, std::size_t{20}}) {
        Job job = whole;
        const std::string id = job.cage.members[gone].id;
        job.cage.members.erase(job.cage.members.begin() + static_cast<std::ptrdiff_t>(gone));
        const CageGeometry after = resolve(job);
        for (const ResolvedMember& is : after.members) {
            EXPECT_TRUE(near(is.line.start(), likeIn(before, is).line.start())) << is.id;
            EXPECT_TRUE(near(is.line.end(), likeIn(before, is).line.end())) << is.id;
        }
        // What landed on it, and what landed on that.
        for (const GeometryProblem& problem : after.problems) {
            const bool told = problem.text.find(id) != std::string::npos ||
                              problem.text.find("which has no shape of its own") != std::string::npos;
            EXPECT_TRUE(told) << problem.text;
        }
        if (HasFailure()) return;
    }
}

}  // namespace
}  // namespace hoopwright
