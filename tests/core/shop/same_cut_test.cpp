// Cuts and lengths that must agree: of a pair, of a cage moved or seen in a mirror, of a bar drawn from its
// other end; and what an allowance, a kerf or a stock does to an order.
#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include "core/shop/order.h"
#include "tests/core/model/any_cage.h"
#include "tests/core/model/cage_checks.h"
#include "tests/core/model/changed_job.h"
#include "tests/core/model/whole_cage.h"

namespace hoopwright {
namespace {

using namespace testing;

constexpr unsigned kCages = 25;
constexpr int kStations = 24;

void expectSameLengths(const CutLength& a, const CutLength& b, const std::string& of) {
    // A cut with a kink is averaged over its stations, and the clock says where those are.
    EXPECT_NEAR(a.centre_mm, b.centre_mm, 1e-6) << of;
    EXPECT_NEAR(a.long_to_long_mm, b.long_to_long_mm, 1e-4) << of;
    EXPECT_NEAR(a.short_to_short_mm, b.short_to_short_mm, 1e-4) << of;
    EXPECT_NEAR(a.blank_mm, b.blank_mm, 1e-4) << of;
    EXPECT_NEAR(a.mean_mm, b.mean_mm, 0.3) << of;
    EXPECT_EQ(a.trouble.empty(), b.trouble.empty()) << of;
}

TEST(SameCut, TheTwoOfAPairAreCutAlike) {
    const CageGeometry cage = resolve(wholeCage());
    int pairs = 0;
    for (std::size_t m = 0; m < cage.members.size(); ++m) {
        const ResolvedMember& left = cage.members[m];
        if (left.side != Side::left) continue;
        const int right = cage.member(left.id.substr(0, left.id.size() - 4) + "right");
        ASSERT_GE(right, 0) << left.id;
        expectSameLengths(cutLength(cage, static_cast<int>(m)), cutLength(cage, right), left.id);
        for (int e = 0; e < 2; ++e) {
            const auto a = jointCope(cage, static_cast<int>(m), e, kStations);
            const auto b = jointCope(cage, right, e, kStations);
            ASSERT_EQ(static_cast<bool>(a), static_cast<bool>(b)) << left.id;
            if (!a) continue;
            EXPECT_NEAR(a->outer.least_mm, b->outer.least_mm, 1e-6) << left.id;
            EXPECT_NEAR(a->outer.greatest_mm, b->outer.greatest_mm, 1e-6) << left.id;
            EXPECT_NEAR(a->grind_mm, b->grind_mm, 1e-4) << left.id;
            EXPECT_NEAR(a->least_dihedral_rad, b->least_dihedral_rad, 1e-4) << left.id;
        }
        ++pairs;
    }
    EXPECT_GE(pairs, 15);
}

TEST(SameCut, OfACageMovedBodily) {
    for (unsigned seed = 1; seed <= kCages; ++seed) {
        SCOPED_TRACE(seed);
        const Job job = AnyCage(seed).job();
        const CageGeometry here = resolve(job), there = resolve(movedAlong(job, 411.5, -87.25));
        for (std::size_t m = 0; m < here.members.size(); ++m) {
            const int i = static_cast<int>(m);
            expectSameLengths(cutLength(here, i), cutLength(there, i), here.members[m].id);
            for (int e = 0; e < 2; ++e) {
                const auto a = jointCope(here, i, e, kStations), b = jointCope(there, i, e, kStations);
                ASSERT_EQ(static_cast<bool>(a), static_cast<bool>(b));
                if (!a) continue;
                for (std::size_t k = 0; k < kStations; ++k)
                    EXPECT_NEAR(a->outer.s_mm[k], b->outer.s_mm[k], 1e-4) << here.members[m].id << " " << k;
            }
        }
        if (HasFailure()) return;
    }
}

TEST(SameCut, InTheMirrorStationsRunTheOtherWayRound) {
    int compared = 0;
    for (unsigned seed = 1; seed <= kCages; ++seed) {
        SCOPED_TRACE(seed);
        const Job job = AnyCage(seed).job();
        const CageGeometry one = resolve(job), other = resolve(inTheMirror(job));
        for (std::size_t m = 0; m < one.members.size(); ++m) {
            const int i = static_cast<int>(m);
            expectSameLengths(cutLength(one, i), cutLength(other, i), one.members[m].id);
            for (int e = 0; e < 2; ++e) {
                const auto a = jointCope(one, i, e, kStations), b = jointCope(other, i, e, kStations);
                ASSERT_EQ(static_cast<bool>(a), static_cast<bool>(b));
                if (!a) continue;
                // Where up is, and where the outside of a bend is, the mirror keeps.
                for (std::size_t k = 0; k < kStations; ++k) {
                    EXPECT_NEAR(a->outer.s_mm[k], b->outer.s_mm[(kStations - k) % kStations], 1e-4)
                        << one.members[m].id << " " << k;
                    ++compared;
                }
            }
        }
        if (HasFailure()) return;
    }
    EXPECT_GE(compared, 1000);
}

TEST(SameCut, DrawnFromTheOtherEndTheEndsChangePlacesAndNothingElse) {
    for (unsigned seed = 1; seed <= kCages; ++seed) {
        SCOPED_TRACE(seed);
        const Job job = AnyCage(seed).job();
        const CageGeometry one = resolve(job), other = resolve(turnedEndForEnd(job));
        for (std::size_t m = 0; m < one.members.size(); ++m) {
            const int i = static_cast<int>(m);
            expectSameLengths(cutLength(one, i), cutLength(other, i), one.members[m].id);
            for (int e = 0; e < 2; ++e) {
                const auto a = jointCope(one, i, e, kStations), b = jointCope(other, i, 1 - e, kStations);
                ASSERT_EQ(static_cast<bool>(a), static_cast<bool>(b)) << one.members[m].id;
                if (!a) continue;
                EXPECT_NEAR(a->outer.greatest_mm, b->outer.greatest_mm, 1e-6) << one.members[m].id;
                EXPECT_NEAR(a->edge_length_mm, b->edge_length_mm, 2e-3 * a->edge_length_mm)
                    << one.members[m].id;
            }
        }
        if (HasFailure()) return;
    }
}

TEST(TubeClock, IsSquareToTheTubeAndCarriedWithoutTwist) {
    for (unsigned seed = 1; seed <= kCages; ++seed) {
        const CageGeometry cage = resolve(AnyCage(seed).job());
        for (const ResolvedMember& member : cage.members) {
            const Vec3 first = tubeClock(member.line, 0), last = tubeClock(member.line, 1);
            EXPECT_NEAR(first.norm(), 1, 1e-12) << member.id;
            EXPECT_NEAR(last.norm(), 1, 1e-9) << member.id;
            EXPECT_NEAR(first.dot(member.line.tangent(0)), 0, 1e-9) << member.id;
            EXPECT_NEAR(last.dot(member.line.tangent(member.line.length_mm())), 0, 1e-9) << member.id;
            if (member.line.bendCount() == 0) {
                EXPECT_TRUE(near(first, last, 1e-12)) << member.id;
            }
        }
    }
}

TEST(CutLength, LiesBetweenShortPointsAndLongPoints) {
    for (unsigned seed = 1; seed <= kCages; ++seed) {
        const CageGeometry cage = resolve(AnyCage(seed).job());
        for (std::size_t m = 0; m < cage.members.size(); ++m) {
            const CutLength cut = cutLength(cage, static_cast<int>(m));
            EXPECT_GT(cut.short_to_short_mm, 0) << cage.members[m].id;
            EXPECT_LE(cut.short_to_short_mm, cut.mean_mm) << cage.members[m].id;
            EXPECT_LE(cut.mean_mm, cut.long_to_long_mm + 1e-9) << cage.members[m].id;
            EXPECT_EQ(cut.blank_mm, cut.long_to_long_mm) << cage.members[m].id;
        }
    }
}

/// A post of 45 and an arm of the given stock on it at so many degrees, its free end 800 along.
Job leaningArm(double degrees, const std::string& stock) {
    Job job = emptyJob();
    const double a = degrees * std::numbers::pi / 180;
    job.cage.members = {
        bar("post", {at(0, 0, -900), at(0, 0, 900)}),
        bar("arm", {onHeight("post", 0), at(800 * std::sin(a), 0, 800 * std::cos(a))}, stock)};
    return job;
}

// Two straight tubes whose axes meet: the long point is at the heel, where
// s = (sqrt(R2 - r2 sin2 phi) - r cos phi cos theta) / sin theta is least; equal tubes, at the heel: s = R
// (1 - cos theta) / sin theta = R tan(theta / 2); at the toe R cot(theta / 2).
TEST(CutLength, OfAnEqualArmIsByTheHalfAngle) {
    for (const double degrees : {30.0, 45.0, 60.0, 75.0, 90.0}) {
        const CageGeometry cage = resolve(leaningArm(degrees, "45x2.5"));
        const double half = degrees * std::numbers::pi / 360;
        const CutLength cut = cutLength(cage, 1);
        EXPECT_NEAR(cut.centre_mm, 800, 1e-9);
        // The crown at the toe is the short point. The flanks, not the heel, are the long point of a square
        // arm.
        const auto cope = jointCope(cage, 1, 0, 72);
        ASSERT_TRUE(cope) << degrees;
        EXPECT_NEAR(cope->outer.greatest_mm, 22.5 / std::tan(half), 1e-6) << degrees;
        EXPECT_NEAR(cut.short_to_short_mm, 800 - 22.5 / std::tan(half), 1e-6) << degrees;
        EXPECT_NEAR(cope->outer.least_mm, 0, 1e-5) << degrees << ": the flanks touch the axis";
        EXPECT_NEAR(cope->least_dihedral_rad, 2 * half, 1e-6)
            << degrees << ": the heel is as sharp as the arm";
    }
}

TEST(CutLength, ADeeperOffsetTakesMoreOffOneSide) {
    Job job = leaningArm(90, "38x2.5");
    double before = 0;
    for (const double aside : {0.0, 1.0, 2.0, 3.0}) {
        std::get<Landing>(job.cage.members[1].path[0].place).offset = {0, aside, 0};
        std::get<FixedPoint>(job.cage.members[1].path[1].place).at = {800, aside, 0};
        const CageGeometry cage = resolve(job);
        const auto cope = jointCope(cage, 1, 0, 72);
        ASSERT_TRUE(cope);
        // Flanks at R and r: sqrt(R2 - (r + a)2) on the far side.
        EXPECT_NEAR(cope->outer.least_mm, std::sqrt(22.5 * 22.5 - (19 + aside) * (19 + aside)), 1e-6)
            << aside;
        EXPECT_EQ(cope->outer.missedCount(), 0);
        if (aside > 0) {
            EXPECT_LT(cope->outer.least_mm, before);
        }
        before = cope->outer.least_mm;
    }
    // Past flush the far flank misses the post.
    std::get<Landing>(job.cage.members[1].path[0].place).offset = {0, 5, 0};
    std::get<FixedPoint>(job.cage.members[1].path[1].place).at = {800, 5, 0};
    const auto past = jointCope(resolve(job), 1, 0, 72);
    ASSERT_TRUE(past);
    EXPECT_GT(past->outer.missedCount(), 0);
    EXPECT_EQ(past->bore.missedCount(), 0) << "16.5 + 5 is within 22.5";
}

TEST(Order, IsTheSumOfItsPieces) {
    for (unsigned seed = 1; seed <= kCages; ++seed) {
        const Job job = AnyCage(seed).job();
        const CageGeometry cage = resolve(job);
        const Order wanted = order(job, cage);
        double length = 0, mass = 0;
        int sticks = 0;
        std::vector<int> times(cage.members.size(), 0);
        for (const OrderTube& tube : wanted.tubes) {
            double of_tube = 0;
            for (const OrderPiece& piece : tube.pieces) {
                ++times.at(static_cast<std::size_t>(piece.member));
                const ResolvedMember& member = cage.members[static_cast<std::size_t>(piece.member)];
                EXPECT_EQ(job.stock.tubes[static_cast<std::size_t>(member.stock)].id, tube.stock);
                EXPECT_EQ(piece.bends, member.line.bendCount());
                EXPECT_NEAR(piece.mass_kg, piece.cut.mean_mm / 1000 * member.section.mass_kg_per_m(), 1e-5);
                of_tube += piece.cut.blank_mm;
                mass += piece.mass_kg;
            }
            EXPECT_NEAR(tube.length_mm, of_tube, 1e-9);
            EXPECT_GE(tube.nest.bought_mm, of_tube) << "no less can be bought than is cut";
            length += of_tube;
            sticks += static_cast<int>(tube.nest.sticks.size());
        }
        for (const int count : times) EXPECT_EQ(count, 1) << "each bar is ordered once";
        EXPECT_NEAR(wanted.length_mm, length, 1e-9);
        EXPECT_NEAR(wanted.mass_kg, mass, 1e-9);
        EXPECT_EQ(wanted.sticks, sticks);
        EXPECT_TRUE(wanted.left_out.empty());
    }
}

TEST(Order, GoesByTheStockListNotByTheCage) {
    Job job = hoopJob();
    std::swap(job.stock.tubes[0], job.stock.tubes[1]);
    const Order wanted = order(job, resolve(job));
    ASSERT_EQ(wanted.tubes.size(), 2u);
    EXPECT_EQ(wanted.tubes[0].stock, "38x2.5");
    EXPECT_EQ(wanted.tubes[1].stock, "45x2.5");
}

TEST(Order, ATubeNobodyUsesIsNotBought) {
    Job job = hoopJob();
    TubeStock idle = job.stock.tubes[0];
    idle.id = "60x3";
    idle.section = {60, 3};
    job.stock.tubes.insert(job.stock.tubes.begin(), idle);
    const Order wanted = order(job, resolve(job));
    for (const OrderTube& tube : wanted.tubes) EXPECT_NE(tube.stock, "60x3");
    EXPECT_EQ(wanted.sticks, order(hoopJob(), resolve(hoopJob())).sticks);
}

TEST(Order, PricesAddUpOverTheSticks) {
    Job job = wholeCage();
    job.stock.tubes[0].sticks = {{6000, 91.5}};
    job.stock.tubes[1].sticks = {{6000, 70.25}, {3000, 41}};
    const Order wanted = order(job, resolve(job));
    double price = 0;
    for (const OrderTube& tube : wanted.tubes) {
        double of_tube = 0;
        for (const CutStick& stick : tube.nest.sticks)
            of_tube += tube.sticks[static_cast<std::size_t>(stick.stick)].price;
        EXPECT_NEAR(tube.nest.price, of_tube, 1e-9);
        price += of_tube;
    }
    EXPECT_NEAR(wanted.price, price, 1e-9);
    EXPECT_GT(price, 0);
}

TEST(Order, AnAllowanceLengthensTheBlanksOfBentBarsAndTheirSumOnly) {
    const Job job = wholeCage();
    const CageGeometry cage = resolve(job);
    const Order plain = order(job, cage), longer = order(job, cage, 25);
    int bent = 0;
    for (std::size_t t = 0; t < plain.tubes.size(); ++t) {
        for (std::size_t i = 0; i < plain.tubes[t].pieces.size(); ++i) {
            const OrderPiece &was = plain.tubes[t].pieces[i], &is = longer.tubes[t].pieces[i];
            EXPECT_NEAR(is.cut.blank_mm - was.cut.blank_mm, was.bends > 0 ? 25 : 0, 1e-9);
            EXPECT_EQ(is.cut.long_to_long_mm, was.cut.long_to_long_mm) << "what is left after trimming";
            EXPECT_EQ(is.mass_kg, was.mass_kg) << "the finished piece weighs the same";
            bent += was.bends > 0;
        }
    }
    EXPECT_EQ(bent, 5);
    EXPECT_NEAR(longer.length_mm - plain.length_mm, 25 * bent, 1e-6);
    for (const double none : {0.0, -10.0, std::nan(""), HUGE_VAL})
        EXPECT_EQ(order(job, cage, none).length_mm, plain.length_mm) << none;
}

TEST(Order, AWiderSawCutNeverBuysLess) {
    Job job = wholeCage();
    const CageGeometry cage = resolve(job);
    int before = 0;
    for (const double kerf : {0.0, 1.5, 3.0, 6.0, 12.0, 40.0}) {
        job.stock.kerf_mm = kerf;
        const Order wanted = order(job, cage);
        EXPECT_GE(wanted.sticks, before) << kerf;
        before = wanted.sticks;
    }
}

TEST(Order, DensityIsThatOfTheMaterialAndOfSteelWhereNoneIsKnown) {
    Job job = hoopJob();
    const double steel = order(job, resolve(job)).mass_kg;
    job.stock.materials[0].density_kg_per_m3 = 2700;
    EXPECT_NEAR(order(job, resolve(job)).mass_kg, steel * 2700 / 7850, 1e-9);
    job.stock.materials.clear();
    EXPECT_NEAR(order(job, resolve(job)).mass_kg, steel, 1e-9);
}

TEST(Order, OneHalfOfAPairThatHasNoShapeIsNamed) {
    Job job = hoopJob();
    // The right-hand copy would land on a plate that is not there.
    job.cage.plates[1].mirrored = false;
    job.cage.plates[1].id = "brace_foot";
    job.cage.members[1].path[1] = onPlate("brace_foot");
    const CageGeometry cage = resolve(job);
    const Order wanted = order(job, cage);
    const bool both = cage.member("rear_brace.left") >= 0 && cage.member("rear_brace.right") >= 0;
    EXPECT_EQ(wanted.left_out.empty(), both);
    job.cage.members[1].path[0] = onHeight("nowhere", 100);
    const Order without = order(job, resolve(job));
    ASSERT_EQ(without.left_out.size(), 1u);
    EXPECT_EQ(without.left_out[0], "rear_brace has no shape; see the problems of the layout.");
}

TEST(Order, OfNothingIsNothing) {
    const Job job = emptyJob();
    const Order wanted = order(job, resolve(job));
    EXPECT_TRUE(wanted.tubes.empty());
    EXPECT_TRUE(wanted.left_out.empty());
    EXPECT_EQ(wanted.sticks, 0);
    EXPECT_EQ(wanted.length_mm, 0);
    EXPECT_EQ(wanted.mass_kg, 0);
    EXPECT_EQ(wanted.price, 0);
}

}  // namespace
}  // namespace hoopwright
