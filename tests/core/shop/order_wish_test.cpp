// What is cut from the rack, spares, kerf, heats and certificates of an order.
#include <gmock/gmock.h>

#include <cmath>

#include "core/model/resolve.h"
#include "core/model/shop_book.h"
#include "core/shop/order.h"
#include "tests/core/model/cage_checks.h"
#include "tests/core/model/small_cage.h"

namespace hoopwright {
namespace {

using namespace hoopwright::testing;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

/// The small hoop cage in a shop with a rack.
struct RackedJob {
    Job job = hoopJob();
    ShopBook book;
    RackedJob() {
        for (TubeStock& tube : job.stock.tubes) tube.sticks = {{6000, 90}};
        book.rack = {{"38x2.5", 2500, "H1", "C1"}, {"45x2.5", 900, "H2", "C2"}, {"50x2", 3000, "H3", "C3"}};
        book.rack_from_mm = 400;
    }
    Order make(const OrderWishes& wishes = {}) {
        job.shop = std::make_shared<const ShopBook>(book);
        return order(job, resolve(job), wishes);
    }
};

const TubeSource& sourceOf(const Order& order, const CageGeometry& cage, const std::string& id,
                           int spare = 0) {
    for (const TubeSource& source : order.sources)
        if (cage.members[static_cast<std::size_t>(source.member)].id == id && source.spare == spare)
            return source;
    throw std::runtime_error("no source of " + id);
}

TEST(OrderWish, TheRackIsCutOnlyIfItIsWishedAndOnlyWhatIsOfThatTube) {
    RackedJob racked;
    const Order bought = racked.make();
    EXPECT_EQ(bought.off_cuts, 0);
    EXPECT_FALSE(bought.off_cuts_first);
    racked.book.off_cuts_first = true;
    const Order first = racked.make();
    EXPECT_TRUE(first.off_cuts_first);
    EXPECT_EQ(first.off_cuts, 1) << "the hoop is too long for its off-cut";
    EXPECT_LE(first.price, bought.price);
    OrderWishes no;
    no.off_cuts_first = false;
    EXPECT_EQ(racked.make(no).off_cuts, 0) << "said otherwise";
    const OrderTube& tube = first.tubes[1];
    const CutStick& stick = tube.nest.sticks.front();
    ASSERT_EQ(stick.owned, 0);
    EXPECT_EQ(tube.rack.at(0), 0);
    EXPECT_EQ(tube.stickLength_mm(stick), 2500);
    EXPECT_EQ(first.sticks, first.tubes[0].nest.bought() + first.tubes[1].nest.bought());
}

TEST(OrderWish, WhatIsLeftGoesBackToTheRackFromTheBooksLengthOn) {
    RackedJob racked;
    racked.book.off_cuts_first = true;
    const Order first = racked.make();
    std::size_t back = 0, cut = 0;
    for (const OrderTube& tube : first.tubes) {
        for (const CutStick& stick : tube.nest.sticks) {
            EXPECT_EQ(first.back(stick), stick.left_mm >= 400);
            back += first.back(stick) ? 1 : 0;
            cut += stick.owned >= 0 ? 1 : 0;
        }
    }
    EXPECT_EQ(first.rack_after.size(), racked.book.rack.size() - cut + back);
    // Nothing is made and nothing is lost: sticks and rack before are pieces, cuts, scrap and rack after.
    double before = 0, after = 0;
    for (const RackPiece& piece : racked.book.rack) before += piece.length_mm;
    for (const RackPiece& piece : first.rack_after) after += piece.length_mm;
    for (const OrderTube& tube : first.tubes) {
        before += tube.nest.bought_mm;
        for (const CutStick& stick : tube.nest.sticks) {
            after += first.back(stick) ? 0 : stick.left_mm;
            for (const int piece : stick.pieces)
                after += tube.pieces[static_cast<std::size_t>(piece)].cut.blank_mm + first.kerf_mm;
        }
    }
    EXPECT_NEAR(before, after, 1e-6);
    racked.book.rack_from_mm.reset();
    EXPECT_EQ(racked.make().rack_after.size(), racked.book.rack.size() - cut) << "nobody said what is kept";
}

TEST(OrderWish, ASpareIsCutAndBoughtButIsNotInTheCage) {
    RackedJob racked;
    const Order plain = racked.make();
    racked.job.cage.spares = {{"main_hoop", 2}};
    const Order more = racked.make();
    ASSERT_EQ(more.tubes[0].pieces.size(), 3u);
    const double hoop = plain.tubes[0].pieces[0].cut.blank_mm;
    EXPECT_NEAR(more.length_mm, plain.length_mm + 2 * hoop, 1e-9);
    EXPECT_EQ(more.mass_kg, plain.mass_kg);
    EXPECT_EQ(more.tubes[0].nest.bought(), 2) << "3 hoops of some 2.6 m in sticks of 6 m";
    const CageGeometry cage = resolve(racked.job);
    EXPECT_EQ(pieceName(cage, more.tubes[0].pieces[1]), "Main hoop, spare");
    EXPECT_EQ(pieceName(cage, more.tubes[0].pieces[2]), "Main hoop, spare 2");
    OrderWishes none;
    none.spares = false;
    EXPECT_EQ(racked.make(none).length_mm, plain.length_mm);
    racked.job.cage.spares = {{"lost_bar", 1}};
    EXPECT_THAT(racked.make().left_out,
                ElementsAre("A spare of 'lost_bar' is wanted, and the cage has no such bar."));
}

TEST(OrderWish, BendsAreLeftLongAndKerfLostAsTheBookSays) {
    RackedJob racked;
    const double plain = racked.make().tubes[0].pieces[0].cut.blank_mm;
    racked.book.bend_long_mm = 40;
    racked.book.kerf_at = KerfAt::every_cut;
    const Order longer = racked.make();
    EXPECT_NEAR(longer.tubes[0].pieces[0].cut.blank_mm, plain + 40, 1e-9);
    EXPECT_EQ(longer.kerf_at, KerfAt::every_cut);
    EXPECT_EQ(longer.kerf_mm, racked.job.stock.kerf_mm);
    OrderWishes said;
    said.bend_long_mm = 0;
    said.kerf_at = KerfAt::between_pieces;
    said.kerf_mm = 1.5;
    const Order other = racked.make(said);
    EXPECT_NEAR(other.tubes[0].pieces[0].cut.blank_mm, plain, 1e-9);
    EXPECT_EQ(other.kerf_at, KerfAt::between_pieces);
    EXPECT_EQ(other.kerf_mm, 1.5);
}

TEST(OrderWish, EveryPieceIsTracedToAHeatOrSaidToHaveNone) {
    RackedJob racked;
    racked.book.off_cuts_first = true;
    racked.job.cage.certificates = {{"main_hoop", "H9", "3.1-7", "2026-03-01"}};
    const Order traced = racked.make();
    const CageGeometry cage = resolve(racked.job);
    EXPECT_EQ(traced.sources.size(), cage.members.size());
    const TubeSource& hoop = sourceOf(traced, cage, "main_hoop");
    EXPECT_EQ(hoop.from, TubeSource::From::cage);
    EXPECT_EQ(hoop.heat, "H9");
    EXPECT_EQ(hoop.certificate, "3.1-7");
    EXPECT_EQ(hoop.when, "2026-03-01");
    int of_rack = 0, open = 0;
    for (const TubeSource& source : traced.sources) {
        const OrderTube& tube = traced.tubes[static_cast<std::size_t>(source.tube)];
        const CutStick& stick = tube.nest.sticks[static_cast<std::size_t>(source.stick)];
        of_rack += source.from == TubeSource::From::rack ? 1 : 0;
        open += source.from == TubeSource::From::nowhere ? 1 : 0;
        if (source.from == TubeSource::From::rack) {
            EXPECT_EQ(source.heat, "H1");
            EXPECT_EQ(source.certificate, "C1");
            EXPECT_GE(stick.owned, 0);
        }
        EXPECT_EQ(source.heat.empty(), source.from == TubeSource::From::nowhere);
    }
    EXPECT_GT(of_rack, 0);
    EXPECT_EQ(of_rack + open + 1, static_cast<int>(cage.members.size()));
    // What is left of the hoop's stick keeps its heat.
    EXPECT_THAT(traced.rack_after, ::testing::Contains(::testing::Field(&RackPiece::heat, "H9")));
    // The certificates say another heat than the rack it would be cut from.
    const int piece = traced.tubes[1].nest.sticks.front().pieces.front();
    const int member = traced.tubes[1].pieces[static_cast<std::size_t>(piece)].member;
    const std::string id = cage.members[static_cast<std::size_t>(member)].id;
    racked.job.cage.certificates.push_back({id, "H8", "", ""});
    EXPECT_THAT(sourceOf(racked.make(), cage, id).trouble,
                HasSubstr("would be cut from heat H1 of the rack, and the cage's certificates say H8"));
}

TEST(OrderWish, BarsThatMustNotShareAHeatComeFromOtherSticks) {
    RackedJob racked;
    const CageGeometry cage = resolve(racked.job);
    std::vector<std::string> of;
    for (const ResolvedMember& bar : cage.members)
        if (bar.section.od_mm == 38) of.push_back(bar.id);
    ASSERT_EQ(of.size(), 3u);
    EXPECT_EQ(racked.make().tubes[1].nest.bought(), 1);
    racked.job.cage.apart = {{of, "three casts"}};
    const Order apart = racked.make();
    EXPECT_EQ(apart.tubes[1].nest.bought(), 3);
    ASSERT_EQ(apart.apart.size(), 1u);
    EXPECT_EQ(apart.apart[0].trouble, "");
    EXPECT_THAT(apart.apart[0].says, HasSubstr("Each of another heat: "));
    EXPECT_THAT(apart.apart[0].says, HasSubstr("stick 3 of 38x2.5"));
    EXPECT_TRUE(apart.whole());
    racked.job.cage.certificates = {{of[0], "H7", "", ""}, {of[2], "H7", "", ""}};
    const Order same = racked.make();
    EXPECT_THAT(same.apart[0].trouble, HasSubstr("must not share a heat, and both are of H7."));
    EXPECT_FALSE(same.whole());
    racked.job.cage.apart = {{{of[0], "lost_bar"}, ""}};
    EXPECT_THAT(racked.make().left_out,
                ElementsAre("'lost_bar' must not share a heat with others, and the cage has no such bar."));
}

TEST(OrderWish, SaysPlainlyWhatIsWrong) {
    RackedJob racked;
    racked.job.stock.tubes[0].sticks = {{6000, -4}};
    EXPECT_EQ(racked.make().tubes[0].trouble,
              "A stick has a price below zero; put it right in the stock list.");
    racked.job.stock.tubes[0].sticks = {{1000, 4}};
    EXPECT_THAT(racked.make().tubes[0].trouble,
                HasSubstr("the longest stick is 1000.0 mm; get longer sticks."));
    OrderWishes first;
    first.off_cuts_first = true;
    racked.job.shop = nullptr;
    const Order none = order(racked.job, resolve(racked.job), first);
    EXPECT_THAT(none.left_out, ElementsAre(HasSubstr("there is no rack to cut from; add shop: FILE.")));
    EXPECT_FALSE(none.off_cuts_first);
}

TEST(OrderWish, OfMoreThanTwoHundredLengthsSaysThatTheBestCutIsNotSearchedFor) {
    Job job = emptyJob();
    for (int i = 0; i < 201; ++i)
        job.cage.members.push_back(
            bar("bar_" + std::to_string(i), {at(0, 100.0 * i, 0), at(500 + i, 100.0 * i, 0)}));
    const Order many = order(job, resolve(job));
    ASSERT_EQ(many.tubes.size(), 1u);
    EXPECT_EQ(many.tubes[0].note,
              "There are 201 different lengths of 45x2.5; past 200 the best cut is not searched for.");
    EXPECT_EQ(many.tubes[0].trouble, "");
    EXPECT_EQ(many.sources.size(), 201u) << "each is cut all the same";
}

}  // namespace
}  // namespace hoopwright
