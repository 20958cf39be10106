// A quote is counts times the shop's own figures, and says what nobody gave it.
#include "core/shop/quote.h"

#include <gmock/gmock.h>

#include <cmath>
#include <numbers>

#include "core/model/resolve.h"
#include "core/model/shop_book.h"
#include "tests/core/model/small_cage.h"

namespace hoopwright {
namespace {

using namespace hoopwright::testing;
using std::numbers::pi;
using ::testing::HasSubstr;

std::shared_ptr<ShopBook> pricedBook() {
    auto book = std::make_shared<ShopBook>();
    book->minutes = {10.0, 20.0, 30.0, 15.0, 5.0};
    book->rate_per_hour = 60;
    book->sheets = {{"s", "s235", 3, 1000, 500, 50}};
    book->cutting_table = CuttingTable{1, 5, 10};
    book->finishes = {{"Clear coat", 20}};
    book->padding_price_per_m = 12;
    book->exclusions = {"Paint"};
    return book;
}

const QuoteLine& lineOf(const Quote& quote, const std::string& what) {
    for (const QuoteLine& line : quote.lines)
        if (line.what == what) return line;
    throw std::runtime_error("no line " + what);
}

/// A hoop of two bends on two plates, two braces, a belt bar: 4 bars, 8 ends, of them 4 on plates.
Job pricedJob() {
    Job job = hoopJob();
    job.shop = pricedBook();
    for (TubeStock& tube : job.stock.tubes) tube.sticks = {{6000, 90}};
    job.cage.members[2].optional_bar = true;
    job.cage.members[0].padding_mm = 20;
    return job;
}

TEST(Quote, IsCountsTimesTheShopsOwnMinutesAndPrices) {
    const Job job = pricedJob();
    const CageGeometry cage = resolve(job);
    ASSERT_EQ(cage.members.size(), 4u);
    const Order ordered = order(job, cage);
    const Expected<Quote> made = quote(job, cage, ordered);
    ASSERT_TRUE(made) << made.reason();
    const Quote& q = *made;
    EXPECT_EQ(lineOf(q, "bends").count, 2);
    EXPECT_EQ(*lineOf(q, "bends").minutes, 20);
    EXPECT_NEAR(*lineOf(q, "bends").price, 20, 1e-12);  // a minute is one
    EXPECT_EQ(lineOf(q, "copes").count, 4);
    EXPECT_EQ(lineOf(q, "joints").count, 8);
    EXPECT_EQ(lineOf(q, "plates and gussets").count, 4);
    EXPECT_EQ(lineOf(q, "bars to fit").count, 4);
    EXPECT_NEAR(q.minutes, 2 * 10 + 4 * 20 + 8 * 30 + 4 * 15 + 4 * 5, 1e-9);
    EXPECT_EQ(*lineOf(q, "tube").price, 90.0 * ordered.sticks);
    // Four plates of 150 by 120 go on one sheet of 1000 by 500 for 50, and it is paid whole.
    EXPECT_EQ(lineOf(q, "sheet for plates and gussets").count, 1);
    EXPECT_EQ(lineOf(q, "sheet for plates and gussets").unit, "sheets");
    EXPECT_EQ(*lineOf(q, "sheet for plates and gussets").price, 50);
    EXPECT_NEAR(q.price, q.minutes + 90.0 * ordered.sticks + 50, 1e-9);
    EXPECT_THAT(q.missing, ::testing::IsEmpty());
    EXPECT_THAT(q.exclusions, ::testing::ElementsAre("Paint"));
    double area_m2 = 0;
    for (int m = 0; m < 4; ++m)
        area_m2 +=
            pi * cage.members[static_cast<std::size_t>(m)].section.od_mm * cutLength(cage, m).mean_mm / 1e6;
    EXPECT_NEAR(*q.finishes[0].price, 20 * area_m2, 1e-9);
    EXPECT_NEAR(*q.padding->price, 12 * cage.members[0].line.length_mm() / 1000, 1e-9);
    ASSERT_EQ(q.options.size(), 1u);
    EXPECT_NEAR(*q.options[0].price, 90.0 / 6000 * cutLength(cage, 3).blank_mm + 2 * 20 + 2 * 30 + 5, 1e-9);
}

TEST(Quote, PaysForTheSheetsTheNestTakesAndForEachSizeOfThem) {
    Job job = pricedJob();
    auto book = pricedBook();
    // Two plates a sheet, by hand: 2 x 150 + 5 + 2 x 1 between, 1 + 10 at each edge: 329 by 142.
    book->sheets = {{"small", "s235", 3, 329, 142, 21.5}};
    job.shop = book;
    const CageGeometry cage = resolve(job);
    const Expected<Quote> two = quote(job, cage, order(job, cage));
    EXPECT_EQ(lineOf(*two, "sheet for plates and gussets").count, 2);
    EXPECT_EQ(*lineOf(*two, "sheet for plates and gussets").price, 2 * 21.5);
    // A millimetre less and each takes a sheet of its own.
    book->sheets[0].length_mm = 328;
    const Expected<Quote> four = quote(job, cage, order(job, cage));
    EXPECT_EQ(*lineOf(*four, "sheet for plates and gussets").price, 4 * 21.5);
    book->sheets[0].price = 0;
    const Expected<Quote> unpriced = quote(job, cage, order(job, cage));
    EXPECT_FALSE(lineOf(*unpriced, "sheet for plates and gussets").price);
    EXPECT_THAT(unpriced->missing, ::testing::Contains("There is no price for the sheet small."));
    book->cutting_table.reset();
    const Expected<Quote> unlaid = quote(job, cage, order(job, cage));
    EXPECT_FALSE(lineOf(*unlaid, "sheet for plates and gussets").price);
    EXPECT_THAT(unlaid->missing, ::testing::Contains(HasSubstr("no cutting table")));
}

TEST(Quote, SaysWhatNobodyGaveAPriceAndGuessesNothing) {
    Job job = pricedJob();
    auto book = pricedBook();
    book->minutes.cope.reset();
    book->sheets.clear();
    job.shop = book;
    job.stock.tubes[1].sticks = {{6000, 0}};
    const CageGeometry cage = resolve(job);
    const Expected<Quote> q = quote(job, cage, order(job, cage));
    ASSERT_TRUE(q);
    EXPECT_FALSE(lineOf(*q, "copes").minutes);
    EXPECT_FALSE(lineOf(*q, "copes").price);
    std::string said;
    for (const std::string& each : q->missing) said += each + "\n";
    EXPECT_THAT(said, HasSubstr("no minutes for copes"));
    EXPECT_THAT(said, HasSubstr("The shop's book has no sheet of 3.00 mm."));
    EXPECT_THAT(said, HasSubstr("There is no price for the sticks of 38x2.5."));
    EXPECT_FALSE(q->options[0].price);
    book->rate_per_hour.reset();
    const Expected<Quote> unpaid = quote(job, cage, order(job, cage));
    ASSERT_TRUE(unpaid);
    EXPECT_THAT(unpaid->missing, ::testing::Contains("The shop's book has no hourly rate."));
    job.shop = nullptr;
    EXPECT_THAT(quote(job, cage, order(job, cage)).reason(), HasSubstr("names no shop's book"));
}

}  // namespace
}  // namespace hoopwright
