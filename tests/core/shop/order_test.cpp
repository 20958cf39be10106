// Copes of a cage, cut lengths and what to buy.
#include "core/shop/order.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "core/model/resolve.h"
#include "tests/core/model/cage_checks.h"
#include "tests/core/model/small_cage.h"

namespace hoopwright {
namespace {

using namespace testing;

/// A 45 post and a 38 arm square on it, 600 long from axis to free end.
Job armJob() {
    Job job = emptyJob();
    job.cage.members = {bar("post", {at(0, 0, -500), at(0, 0, 500)}),
                        bar("arm", {onHeight("post", 0), at(600, 0, 0)}, "38x2.5")};
    return job;
}

TEST(TubeClock, OfAStraightTubeIsUpAndOfAnUprightOneIsForward) {
    const CageGeometry cage = resolve(armJob());
    EXPECT_TRUE(near(tubeClock(memberOf(cage, "arm").line, 0), {0, 0, 1}));
    EXPECT_TRUE(near(tubeClock(memberOf(cage, "arm").line, 1), {0, 0, 1}));
    EXPECT_TRUE(near(tubeClock(memberOf(cage, "post").line, 0), {1, 0, 0}));
}

TEST(TubeClock, OfABentTubeIsOutsideItsFirstBendAndIsCarriedAlong) {
    Job job = emptyJob();
    job.cage.members = {bar("s", {at(0, 0, 0), at(0, 0, 500), at(500, 0, 500), at(500, 500, 500)})};
    const CageGeometry cage = resolve(job);
    const Centreline& line = memberOf(cage, "s").line;
    // The first bend turns from up to forward, so its outside is at the back; after it, on top; the second
    // bend, to the left, turns about up and leaves it there.
    EXPECT_TRUE(near(tubeClock(line, 0), {-1, 0, 0}));
    EXPECT_TRUE(near(tubeClock(line, 1), {0, 0, 1}));
}

TEST(JointCope, OfASquareArmIsTheSaddleOfTheTwoRadii) {
    const CageGeometry cage = resolve(armJob());
    const Expected<CopeProfile> cope = jointCope(cage, 1, 0, 72);
    ASSERT_TRUE(cope) << cope.reason();
    // Crown R, flanks sqrt(R^2 - r^2): equal-angle case of intersecting cylinders.
    EXPECT_NEAR(cope->outer.greatest_mm, 22.5, 1e-9);
    EXPECT_NEAR(cope->outer.least_mm, std::sqrt(22.5 * 22.5 - 19 * 19), 1e-9);
    EXPECT_NEAR(cope->bore.least_mm, std::sqrt(22.5 * 22.5 - 16.5 * 16.5), 1e-9);
}

TEST(JointCope, OfAFreeEndOrATubelessMemberSaysWhy) {
    Job job = armJob();
    EXPECT_EQ(jointCope(resolve(job), 1, 1, 72).reason(),
              "Arm, last end: it lands on nothing, so it is cut square.");
    job.cage.members[1].stock = "none";
    EXPECT_EQ(jointCope(resolve(job), 1, 0, 72).reason(),
              "Arm, first end: it has no tube yet; choose one of the stock list.");
}

TEST(JointCope, TakesInTheMembersMetAtTheNode) {
    Job job = armJob();
    job.cage.members.push_back(bar("second", {onHeight("post", 10), at(600, 0, 500)}, "38x2.5"));
    const CageGeometry cage = resolve(job);
    ASSERT_EQ(cage.members[2].ends[0].also, std::vector<int>{1});
    const Expected<CopeProfile> both = jointCope(cage, 2, 0, 72);
    ASSERT_TRUE(both) << both.reason();
    CageGeometry alone = cage;
    alone.members[2].ends[0].also.clear();
    const Expected<CopeProfile> one = jointCope(alone, 2, 0, 72);
    ASSERT_TRUE(one);
    int deeper = 0;
    for (std::size_t i = 0; i < 72; ++i) {
        EXPECT_GE(both->outer.s_mm[i], one->outer.s_mm[i] - 1e-9);
        deeper += both->outer.s_mm[i] > one->outer.s_mm[i] + 1 ? 1 : 0;
    }
    EXPECT_GT(deeper, 5);
    EXPECT_LT(deeper, 67);
}

TEST(JointCope, OnALeaningPlateIsTheSlantedCut) {
    Job job = emptyJob();
    job.cage.plates = {footPlate("foot", 0, 0, 0, false)};
    job.cage.members = {bar("leg", {onPlate("foot"), at(0, 500, 500)})};
    const CageGeometry cage = resolve(job);
    const Expected<CopeProfile> cope = jointCope(cage, 0, 0, 72);
    ASSERT_TRUE(cope) << cope.reason();
    // 45 degrees: the cut rises by the radius either way.
    EXPECT_NEAR(cope->outer.greatest_mm, 22.5, 1e-9);
    EXPECT_NEAR(cope->outer.least_mm, -22.5, 1e-9);
}

TEST(CutLength, GoesFromLongPointToLongPoint) {
    const CageGeometry cage = resolve(armJob());
    const CutLength cut = cutLength(cage, 1);
    const double flank = std::sqrt(22.5 * 22.5 - 19 * 19);
    EXPECT_NEAR(cut.centre_mm, 600, 1e-9);
    EXPECT_NEAR(cut.long_to_long_mm, 600 - flank, 1e-9);
    EXPECT_NEAR(cut.short_to_short_mm, 600 - 22.5, 1e-9);
    EXPECT_EQ(cut.blank_mm, cut.long_to_long_mm);
    EXPECT_EQ(cut.trouble, "");
    EXPECT_GT(cut.mean_mm, cut.short_to_short_mm);
    EXPECT_LT(cut.mean_mm, cut.long_to_long_mm);
}

TEST(CutLength, OfABentTubeIsDevelopedThroughItsBends) {
    Job job = emptyJob();
    job.cage.members = {bar("hook", {at(0, 0, 0), at(0, 0, 500), at(500, 0, 500)})};
    const CutLength cut = cutLength(resolve(job), 0);
    // Two straights of 365 and a quarter turn of 135.
    EXPECT_NEAR(cut.blank_mm, 2 * 365 + 135 * std::numbers::pi / 2, 1e-9);
}

TEST(CutLength, WithoutACopeSaysSoAndRunsToTheHostsMiddle) {
    Job job = emptyJob();
    job.cage.members = {bar("post", {at(0, 0, -500), at(0, 0, 500)}),
                        bar("along", {onHeight("post", 0), at(0.5, 0, 700)}, "38x2.5")};
    const CutLength cut = cutLength(resolve(job), 1);
    EXPECT_NE(cut.trouble.find("Along, first end: "), std::string::npos);
    EXPECT_NEAR(cut.long_to_long_mm, cut.centre_mm, 1e-9);
}

TEST(Order, CountsEveryPieceByStockAndNestsIt) {
    const Job job = hoopJob();
    const CageGeometry cage = resolve(job);
    const Order wanted = order(job, cage);
    ASSERT_EQ(wanted.tubes.size(), 2u);
    EXPECT_EQ(wanted.tubes[0].stock, "45x2.5");
    EXPECT_EQ(wanted.tubes[0].pieces.size(), 1u);
    EXPECT_EQ(wanted.tubes[1].pieces.size(), 3u);
    EXPECT_EQ(wanted.tubes[1].nest.sticks.size(), 1u);
    EXPECT_TRUE(wanted.tubes[1].nest.proved);
    EXPECT_EQ(wanted.sticks, 2);
    EXPECT_TRUE(wanted.left_out.empty());
    double length = 0, mass = 0;
    for (const OrderTube& tube : wanted.tubes) {
        for (const OrderPiece& piece : tube.pieces) {
            length += piece.cut.blank_mm;
            mass += piece.mass_kg;
        }
    }
    EXPECT_NEAR(wanted.length_mm, length, 1e-9);
    EXPECT_NEAR(wanted.mass_kg, mass, 1e-12);
    EXPECT_LT(wanted.mass_kg, cage.totals.tube_mass_kg + 0.1);
}

TEST(Order, AllowanceIsForBentPiecesOnly) {
    const Job job = hoopJob();
    const CageGeometry cage = resolve(job);
    const Order plain = order(job, cage), longer = order(job, cage, 40);
    EXPECT_NEAR(longer.tubes[0].pieces[0].cut.blank_mm - plain.tubes[0].pieces[0].cut.blank_mm, 40, 1e-9);
    EXPECT_EQ(longer.tubes[1].pieces[0].cut.blank_mm, plain.tubes[1].pieces[0].cut.blank_mm);
}

TEST(Order, AFinishedSquareArmWeighsItsMetal) {
    const Job job = armJob();
    const Order wanted = order(job, resolve(job));
    const OrderPiece& arm = wanted.tubes[1].pieces[0];
    // Metal of the arm beyond the post, added up ring by ring: s = sqrt(R^2 - (q sin x)^2), the mean over the
    // section.
    double volume = 0;
    const int rings = 400, turns = 400;
    for (int i = 0; i < rings; ++i) {
        const double q = 16.5 + 2.5 * (i + 0.5) / rings;
        for (int k = 0; k < turns; ++k) {
            const double w = q * std::sin(2 * std::numbers::pi * (k + 0.5) / turns);
            volume +=
                (600 - std::sqrt(22.5 * 22.5 - w * w)) * q * (2.5 / rings) * (2 * std::numbers::pi / turns);
        }
    }
    EXPECT_NEAR(arm.mass_kg, volume * 7850e-9, 1e-6);
}

TEST(Order, SaysWhatIsLeftOutAndWhatCannotBeNested) {
    Job job = hoopJob();
    job.cage.members[2].stock = "gold";
    job.cage.members.push_back(bar("lost", {onHeight("nowhere", 3), at(0, 0, 0)}));
    job.stock.tubes[0].sticks = {{2000, 0}};
    job.stock.tubes[1].sticks.clear();
    const Order wanted = order(job, resolve(job));
    ASSERT_EQ(wanted.tubes.size(), 2u);
    EXPECT_NE(wanted.tubes[0].trouble.find("Main hoop is "), std::string::npos);
    EXPECT_EQ(wanted.tubes[1].trouble, "The stock list gives no stick length for 38x2.5; add one.");
    ASSERT_EQ(wanted.left_out.size(), 2u);
    EXPECT_EQ(wanted.left_out[0], "lost has no shape; see the problems of the layout.");
    EXPECT_EQ(wanted.left_out[1], "Belt bar has no tube; choose one of the stock list.");
}

TEST(Order, OfATubeBoughtBentIsNoStickButWhatToSawOffIt) {
    Job job = armJob();
    Member hoop = bar("main_hoop", {at(0, 600, 0), at(0, 600, 1000), at(0, -600, 1000), at(0, -600, 0)});
    job.cage.members.push_back(hoop);
    const Order bent_here = order(job, resolve(job));
    ASSERT_EQ(bent_here.tubes[0].pieces.size(), 2u);
    job.cage.members.back().bent =
        BentShape{135, {900, 930, 880}, {{std::numbers::pi / 2}, {std::numbers::pi / 2}}};
    const CageGeometry cage = resolve(job);
    EXPECT_EQ(allTexts(cage), "");
    const Order bought = order(job, cage);
    ASSERT_EQ(bought.bought.size(), 1u);
    ASSERT_EQ(bought.tubes[0].pieces.size(), 1u) << "the post is left to be sawn";
    EXPECT_TRUE(bought.whole());
    const OrderBought& one = bought.bought[0];
    EXPECT_EQ(one.stock, "45x2.5");
    EXPECT_NEAR(one.bought_mm, 900 + 930 + 880 + 135 * std::numbers::pi, 1e-9);
    // What is left when it is sawn is what the shop would have cut.
    const auto& saw = memberOf(cage, "main_hoop").bought->saw_mm;
    EXPECT_NEAR(saw[0], 35, 1e-6);
    EXPECT_NEAR(saw[1], 15, 1e-6);
    const OrderPiece& was = bent_here.tubes[0].pieces[1];
    EXPECT_NEAR(one.bought_mm - saw[0] - saw[1], was.cut.long_to_long_mm, 1e-6);
    EXPECT_NEAR(one.mass_kg, was.mass_kg, 1e-9);
    EXPECT_NEAR(bought.mass_kg + one.mass_kg, bent_here.mass_kg, 1e-9);

    job.cage.members.back().bent->straights_mm[0] = 850;
    EXPECT_FALSE(order(job, resolve(job)).whole()) << "a leg is too short";
    job.cage.members.back().bent->bends.pop_back();
    job.cage.members.back().bent->straights_mm.pop_back();
    const Order wrong = order(job, resolve(job));
    EXPECT_TRUE(wrong.bought.empty());
    ASSERT_EQ(wrong.left_out.size(), 1u);
    EXPECT_EQ(wrong.left_out[0], "Main hoop does not lie as it was bought; see the problems of the layout.");
}

}  // namespace
}  // namespace hoopwright
