#include "core/edit/grip.h"

#include <gtest/gtest.h>

#include <numbers>
#include <random>
#include <set>

#include "core/edit/bar_track.h"
#include "core/edit/cage_edits.h"
#include "core/files/job_file.h"
#include "core/model/resolve.h"
#include "tests/core/edit/demo_job.h"

namespace hoopwright {
namespace {

using Kind = Grip::Kind;
constexpr double kGrain_mm = 0.1;
const char* const kDemos[] = {"hillclimb_saloon.yaml", "mile_pickup.yaml"};

struct Held {
    Job job;
    CageGeometry now;
    explicit Held(const char* cage = kDemos[0]) : job(demoJobValue(cage)), now(resolve(job)) {}
    explicit Held(Job of) : job(std::move(of)), now(resolve(job)) {}
    const ResolvedMember& bar(const std::string& id) const {
        return now.members.at(static_cast<std::size_t>(now.member(id)));
    }
    std::vector<Grip> all() const {
        std::vector<Grip> out;
        for (const ResolvedMember& member : now.members)
            for (Grip& grip : gripsOf(job, now, member.id)) out.push_back(std::move(grip));
        for (const ResolvedPlate& plate : now.plates)
            for (Grip& grip : gripsOf(job, now, plate.id)) out.push_back(std::move(grip));
        return out;
    }
    Grip one(const std::string& part, Kind kind, std::size_t nth = 0) const {
        for (const Grip& grip : gripsOf(job, now, part))
            if (grip.kind == kind && nth-- == 0) return grip;
        ADD_FAILURE() << part << " has no such grip";
        return {};
    }
    Held with(const CageLayout& cage) const {
        Job next = job;
        next.cage = cage;
        return Held(std::move(next));
    }
};

/// Where the same grip is in another state of the cage.
Vec3 placeOf(const Held& held, const Grip& grip) {
    if (grip.kind == Kind::landing || grip.kind == Kind::corner)
        return pathPointAt(held.job, held.now, grip.part, grip.point);
    for (const Grip& other : gripsOf(held.job, held.now, grip.part))
        if (other.kind == grip.kind) return other.at;
    ADD_FAILURE() << grip.part;
    return Vec3::Zero();
}

/// Greatest way any end of any bar went.
double moved(const Held& a, const Held& b) {
    double most = 0;
    for (std::size_t i = 0; i < a.now.members.size(); ++i)
        for (std::size_t end = 0; end < 2; ++end)
            most = std::max(most, (a.now.members[i].ends[end].at - b.now.members[i].ends[end].at).norm());
    return most;
}

TEST(Grips, EveryKindIsThereOnTheDemos) {
    std::set<Kind> kinds;
    for (const char* demo : kDemos)
        for (const Grip& grip : Held(demo).all()) kinds.insert(grip.kind);
    EXPECT_EQ(kinds.size(), 6u);
}

TEST(Grips, PulledToWhereItIsNothingMoves) {
    for (const char* demo : kDemos) {
        const Held held(demo);
        for (const Grip& grip : held.all()) {
            const auto cage = pulled(held.job, held.now, grip, grip.at, kGrain_mm);
            ASSERT_TRUE(cage) << grip.part << ": " << cage.reason();
            EXPECT_LT(moved(held, held.with(*cage)), 8 * kGrain_mm) << grip.part << " " << int(grip.kind);
        }
    }
}

TEST(Grips, ALandingGoesAlongItsHostAndNowhereElse) {
    for (const char* demo : kDemos) {
        const Held held(demo);
        for (const Grip& grip : held.all()) {
            if (grip.kind != Kind::landing) continue;
            const Centreline& host = held.bar(grip.host).line;
            const double station = host.nearestStation(grip.at);
            const double to = station + (station > host.length_mm() / 2 ? -37.3 : 37.3);
            const Vec3 place = grip.at + host.point(to) - host.point(station);
            const auto cage = pulled(held.job, held.now, grip, place, kGrain_mm);
            ASSERT_TRUE(cage) << grip.part << ": " << cage.reason();
            const Held next = held.with(*cage);
            EXPECT_LT((placeOf(next, grip) - place).norm(), 6 * kGrain_mm) << grip.part;
            EXPECT_EQ(next.bar(grip.host).line.length_mm(), host.length_mm()) << grip.part;
        }
    }
}

TEST(Grips, ANumberTypedIsTheNumberThere) {
    for (const char* demo : kDemos) {
        const Held held(demo);
        for (const Grip& grip : held.all()) {
            const auto numbers = numbersOf(held.job, held.now, grip, grip.at);
            ASSERT_FALSE(numbers.empty()) << grip.part;
            for (std::size_t i = 0; i < numbers.size(); ++i) {
                const double step = numbers[i].dimension == Dimension::length ? 4 : 0.01;
                const double want =
                    numbers[i].value + (numbers[i].name == "share" && numbers[i].value > 0.5 ? -step : step);
                const auto cage = typed(held.job, held.now, grip, i, want);
                if (!cage) {
                    EXPECT_FALSE(cage.reason().empty());  // the end of its host
                    continue;
                }
                const Held next = held.with(*cage);
                if (grip.kind == Kind::bar || grip.kind == Kind::node) continue;  // below
                const auto there = numbersOf(next.job, next.now, grip, placeOf(next, grip));
                EXPECT_NEAR(there[i].value, want, 2e-3) << grip.part << " " << numbers[i].name;
            }
        }
    }
}

TEST(Grips, OnTheRightCopyBothSidesGoAlike) {
    const Held held;
    for (const Grip& grip : held.all()) {
        if (sideOf(grip.part) != Side::right) continue;
        Grip left = grip;
        for (const Grip& other : gripsOf(held.job, held.now, otherSide(grip.part)))
            if (other.kind == grip.kind && other.point == grip.point) left = other;
        if (grip.kind == Kind::node || left.part == grip.part) continue;
        const Vec3 by(11, 7, 5);
        const auto a = pulled(held.job, held.now, grip, grip.at + mirrored(by), kGrain_mm);
        const auto b = pulled(held.job, held.now, left, left.at + by, kGrain_mm);
        ASSERT_EQ(bool(a), bool(b)) << grip.part;
        if (!a) continue;
        EXPECT_LT(moved(held.with(*a), held.with(*b)), 8 * kGrain_mm) << grip.part << " " << int(grip.kind);
    }
}

TEST(Grips, ABarStaysParallel) {
    const Held held;
    int looked = 0;
    for (const Grip& grip : held.all()) {
        const ResolvedMember* bar = grip.kind == Kind::bar ? &held.bar(grip.part) : nullptr;
        if (!bar || bar->line.bendCount() > 0) continue;
        const auto cage = typed(held.job, held.now, grip, 0, 20);
        if (!cage) continue;
        const ResolvedMember after = held.with(*cage).bar(grip.part);
        const Vec3 was = (bar->line.end() - bar->line.start()).normalized();
        const Vec3 is = (after.line.end() - after.line.start()).normalized();
        // Hosts that do not lie in one plane let it turn a little.
        EXPECT_LT(was.cross(is).norm(), 0.04) << grip.part;
        EXPECT_GT((after.line.point(after.line.length_mm() / 2) - grip.at).norm(), 10) << grip.part;
        ++looked;
    }
    EXPECT_GT(looked, 8);
}

TEST(Grips, ABarFollowsTheHandFromEverySideItsWayIsSeenFrom) {
    const Held held;
    int looked = 0;
    for (const Grip& grip : held.all()) {
        if (grip.kind != Kind::bar || held.bar(grip.part).bought) continue;
        const Vec3 across = acrossBar(held.now, grip);
        const Vec3 want = grip.at + 30 * across;
        // Along the bar, square to its plane (on edge to neither), and one in between.
        const Vec3 along = across.cross(grip.normal);
        for (const Vec3& way :
             {along, grip.normal, Vec3((along + grip.normal - 0.3 * across).normalized())}) {
            EXPECT_LT((placeUnder(held.now, grip, want - 900 * way, way) - want).norm(), 1e-6) << grip.part;
            ++looked;
        }
        EXPECT_EQ(placeUnder(held.now, grip, want + 900 * across, across), grip.at) << "its way seen end on";
        // A hand that strays along the bar does not count.
        const Vec3 strayed = want + 40 * along;
        EXPECT_LT((placeUnder(held.now, grip, strayed - 900 * grip.normal, grip.normal) - want).norm(), 1e-6);
    }
    EXPECT_GT(looked, 30);
}

TEST(Grips, AHoopLeansAboutItsFeet) {
    const Held held;
    const Grip grip = held.one("main_hoop", Kind::lean);
    const auto lean = [](const ResolvedMember& hoop) {
        // Another way: from the middle of the feet to the middle of the top.
        const Vec3 feet = (hoop.line.start() + hoop.line.end()) / 2;
        const Vec3 top = hoop.line.point(hoop.line.length_mm() / 2);
        return std::atan2(feet.x() - top.x(), top.z() - feet.z());
    };
    const double before = lean(held.bar("main_hoop"));
    EXPECT_NEAR(numbersOf(held.job, held.now, grip, grip.at)[0].value, before, 1e-3);
    for (const double degrees : {-4.0, 3.0, 8.0}) {
        const double want = degrees * std::numbers::pi / 180;
        const auto cage = typed(held.job, held.now, grip, 0, want);
        ASSERT_TRUE(cage) << cage.reason();
        const ResolvedMember after = held.with(*cage).bar("main_hoop");
        EXPECT_NEAR(lean(after), want, 1e-3);
        EXPECT_LT((after.line.start() - held.bar("main_hoop").line.start()).norm(), 1e-6);
        EXPECT_NEAR(after.line.length_mm(), held.bar("main_hoop").line.length_mm(), 0.5);
    }
}

TEST(Grips, ANodeTakesAllThatMeetsThereAlong) {
    int looked = 0;
    for (const char* demo : kDemos) {
        const Held held(demo);
        for (const Grip& grip : held.all()) {
            if (grip.kind != Kind::node) continue;
            const Centreline& host = held.bar(grip.host).line;
            const double station = host.nearestStation(grip.at);
            const Vec3 to = host.point(station + (station > host.length_mm() / 2 ? -15 : 15));
            const auto cage = pulled(held.job, held.now, grip, to, kGrain_mm);
            if (!cage) continue;
            const Held next = held.with(*cage);
            const Vec3 by = to - grip.at;
            for (const int j : held.now.nodes[grip.point].joints) {
                const Joint& joint = held.now.joints[static_cast<std::size_t>(j)];
                if (held.now.members[static_cast<std::size_t>(joint.host)].id != grip.host) continue;
                const auto branch = static_cast<std::size_t>(joint.branch),
                           end = static_cast<std::size_t>(joint.end);
                if (!held.job.cage.members[static_cast<std::size_t>(held.now.members[branch].layout)]
                         .mirrored &&
                    sideOf(grip.host) != Side::centre)
                    continue;  // a pair's host moves its own side
                const Vec3 went =
                    next.now.members[branch].ends[end].at - held.now.members[branch].ends[end].at;
                EXPECT_LT((went - by).norm(), 3) << held.now.members[branch].id;
                ++looked;
            }
        }
    }
    EXPECT_GT(looked, 10);
}

TEST(Grips, APlateTakesItsFeetAlongInItsFace) {
    const Held held;
    const Grip grip = held.one(held.now.plates.front().id, Kind::plate);
    const ResolvedPlate& plate = held.now.plates.front();
    ASSERT_FALSE(plate.feet.empty());
    const Vec3 by = 12 * plate.axes.col(0) - 9 * plate.axes.col(1);
    const auto cage = pulled(held.job, held.now, grip, grip.at + by, kGrain_mm);
    ASSERT_TRUE(cage);
    const Held next = held.with(*cage);
    EXPECT_LT((next.now.plates.front().at - grip.at - by).norm(), 2 * kGrain_mm);
    for (const auto& [member, end] : plate.feet) {
        const auto m = static_cast<std::size_t>(member), e = static_cast<std::size_t>(end);
        EXPECT_LT((next.now.members[m].ends[e].at - held.now.members[m].ends[e].at - by).norm(),
                  2 * kGrain_mm);
    }
}

TEST(Grips, ThePlaceUnderTheHandIsOneItCanGoTo) {
    const Held held;
    std::mt19937 random(5);
    std::uniform_real_distribution<double> off(-60, 60);
    for (const Grip& grip : held.all()) {
        const Vec3 from = grip.at + Vec3(3000, 1800, 900);
        const Vec3 aimed = grip.at + Vec3(off(random), off(random), off(random));
        const Vec3 place = placeUnder(held.now, grip, from, (aimed - from).normalized());
        ASSERT_TRUE(place.allFinite());
        if (grip.kind == Kind::landing || grip.kind == Kind::node) {
            const Centreline& host = held.bar(grip.host).line;
            EXPECT_LT((host.point(host.nearestStation(place)) - place).norm(), 1e-3);
        } else if (grip.kind == Kind::lean) {
            EXPECT_NEAR((place - grip.pivot).norm(), (grip.at - grip.pivot).norm(), 1e-6);
        } else if (place != grip.at) {
            EXPECT_NEAR((place - grip.at).dot(grip.normal), 0, 1e-6);
        }
    }
}

TEST(Grips, WhateverIsPulledCanBeSavedAndReadBackAlike) {
    std::mt19937 random(20261126);
    for (const char* demo : kDemos) {
        Held held(demo);
        for (int step = 0; step < 120; ++step) {
            const std::vector<Grip> grips = held.all();
            const Grip& grip = grips[random() % grips.size()];
            std::uniform_real_distribution<double> off(-40, 40);
            const auto cage = pulled(held.job, held.now, grip,
                                     grip.at + Vec3(off(random), off(random), off(random)), kGrain_mm);
            if (!cage) {
                EXPECT_FALSE(cage.reason().empty());
                continue;
            }
            const Held next = held.with(*cage);
            const auto back = readCageText(writeCage(*cage), "cage.yaml");
            ASSERT_TRUE(back.value) << back.problems.front().text();
            Job again = held.job;
            again.cage = *back.value;
            const CageGeometry read = resolve(again);
            ASSERT_EQ(read.problems.size(), next.now.problems.size());
            for (std::size_t i = 0; i < read.problems.size(); ++i)
                EXPECT_EQ(read.problems[i].text, next.now.problems[i].text);
            held = next;
        }
    }
}

TEST(Grips, NothingIsTakenOfWhatIsNotThere) {
    const Held held;
    EXPECT_TRUE(gripsOf(held.job, held.now, "no_such_bar").empty());
    const Grip grip = held.one("belt_bar", Kind::landing);
    EXPECT_FALSE(typed(held.job, held.now, grip, 3, 100));
    EXPECT_FALSE(typed(held.job, held.now, grip, 0, std::nan("")));
    const auto off = typed(held.job, held.now, grip, 0, 9000);
    ASSERT_FALSE(off);
    EXPECT_NE(off.reason().find("main_hoop"), std::string::npos) << off.reason();
}

}  // namespace
}  // namespace hoopwright
