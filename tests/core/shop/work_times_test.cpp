// What entered times say, against means and deviations worked apart; and a quote that reckons with them.
#include "core/shop/work_times.h"

#include <gmock/gmock.h>

#include <cmath>
#include <random>

#include "core/files/job_file.h"
#include "core/model/resolve.h"
#include "core/shop/quote.h"
#include "tests/core/model/small_cage.h"

namespace hoopwright {
namespace {

using namespace hoopwright::testing;

WorkTime took(Operation operation, int count, double minutes) {
    return {"job", operation, count, minutes, ""};
}

TEST(WorkTimes, OfAsManyOnEachJobIsTheMeanAndTheSampleDeviation) {
    // 10, 12, 14, 20 minutes each: mean 14, sample standard deviation sqrt(56 / 3), by hand.
    std::vector<WorkTime> times;
    for (const double each : {10.0, 12.0, 14.0, 20.0}) times.push_back(took(Operation::cope, 8, 8 * each));
    times.push_back(took(Operation::bend, 1, 500));
    const LearnedTime said = learned(times, Operation::cope);
    EXPECT_EQ(said.times, 4);
    EXPECT_EQ(said.counted, 32);
    EXPECT_NEAR(said.minutes_each, 14, 1e-12);
    EXPECT_NEAR(*said.spread_minutes, std::sqrt(56.0 / 3), 1e-12);
    EXPECT_FALSE(learned(times, Operation::bend).spread_minutes) << "one entry has no spread";
    EXPECT_EQ(learned(times, Operation::fit).times, 0);
}

TEST(WorkTimes, FindTheTruthTheyWereDrawnFrom) {
    // Jobs of 30 copes each about 15 minutes, straying by 2 from job to job.
    std::mt19937 random(7);
    std::normal_distribution<double> each(15, 2);
    std::vector<WorkTime> times;
    for (int i = 0; i < 4000; ++i) times.push_back(took(Operation::cope, 30, 30 * each(random)));
    const LearnedTime said = learned(times, Operation::cope);
    EXPECT_NEAR(said.minutes_each, 15, 4 * 2 / std::sqrt(4000.0));
    EXPECT_NEAR(*said.spread_minutes, 2, 4 * 2 / std::sqrt(8000.0));
}

TEST(WorkTimes, StandAgainstTheBooksFigureFromThreeOn) {
    ShopBook book;
    book.minutes.bend = 9;
    book.times = {took(Operation::bend, 4, 48), took(Operation::bend, 4, 48), took(Operation::cope, 2, 30)};
    EXPECT_EQ(*timeFigure(book, Operation::bend).minutes_each, 9);
    EXPECT_EQ(timeFigure(book, Operation::bend).times, 0);
    EXPECT_EQ(*timeFigure(book, Operation::cope).minutes_each, 15) << "better than nothing, and said";
    EXPECT_EQ(timeFigure(book, Operation::cope).times, 1);
    EXPECT_FALSE(timeFigure(book, Operation::cope).spread_minutes);
    EXPECT_FALSE(timeFigure(book, Operation::fit).minutes_each);
    book.times.push_back(took(Operation::bend, 4, 48));
    EXPECT_EQ(*timeFigure(book, Operation::bend).minutes_each, 12);
    EXPECT_EQ(timeFigure(book, Operation::bend).times, 3);
    EXPECT_EQ(*timeFigure(book, Operation::bend).spread_minutes, 0);
}

TEST(WorkTimes, AreWhatAQuoteReckonsWithAndSaysSo) {
    Job job = hoopJob();
    auto book = std::make_shared<ShopBook>();
    book->minutes = {10.0, 20.0, 30.0, 15.0, 5.0};
    book->rate_per_hour = 60;
    book->times = {took(Operation::bend, 2, 20), took(Operation::bend, 2, 24), took(Operation::bend, 2, 28),
                   took(Operation::cope, 4, 80), took(Operation::cope, 4, 96), took(Operation::cope, 4, 112)};
    job.shop = book;
    const CageGeometry cage = resolve(job);
    const Expected<Quote> made = quote(job, cage, order(job, cage));
    ASSERT_TRUE(made);
    double squares = 0;
    for (const QuoteLine& line : made->lines) {
        if (line.what == "bends") {
            EXPECT_EQ(line.times, 3);
            EXPECT_NEAR(*line.minutes_each, 12, 1e-12);
            EXPECT_NEAR(*line.minutes, 2 * 12, 1e-12);
            EXPECT_NEAR(*line.spread_minutes, 2 * 2, 1e-12);  // 10, 12, 14 each: deviation 2
        } else if (line.what == "copes") {
            EXPECT_NEAR(*line.minutes, 4 * 24, 1e-12);
            EXPECT_NEAR(*line.spread_minutes, 4 * 4, 1e-12);
        } else if (line.minutes_each) {
            EXPECT_EQ(line.times, 0) << line.what << ": the book's own figure";
            EXPECT_FALSE(line.spread_minutes);
        }
        squares += std::pow(line.spread_minutes.value_or(0), 2);
    }
    EXPECT_NEAR(made->spread_minutes, std::sqrt(4.0 * 4 + 16.0 * 16), 1e-12);
    EXPECT_NEAR(made->spread_minutes, std::sqrt(squares), 1e-12);
    EXPECT_NEAR(made->spread_price, made->spread_minutes, 1e-12);  // a minute is one
}

// A light-class 4130 cage is commonly 1-5/8 in by 0.083 in, and a few optional bars of it (dash bar, far-side
// door bar, sill bar) add only a few pounds each: common practice, no source.
TEST(QuoteOptions, OfChromeMolyAddOnlyAFewPoundsEachAndAPairIsOne) {
    JobResult read = readJob(std::string(HOOPWRIGHT_SOURCE_DIR) + "/data/cages/mile_pickup.yaml");
    ASSERT_TRUE(read.job);
    Job& job = *read.job;
    for (Member& member : job.cage.members) {
        member.optional_bar =
            member.role == "dash_bar" || member.role == "door_bar" || member.role == "sill_bar";
        if (member.optional_bar) member.stock = "1.625x.083";
    }
    const CageGeometry cage = resolve(job);
    const Expected<Quote> made = quote(job, cage, order(job, cage));
    ASSERT_TRUE(made);
    ASSERT_GE(made->options.size(), 2u);
    constexpr double kg_per_lb = 0.45359237;
    for (const QuoteOption& option : made->options) {
        double mass = 0;
        for (const int member : option.members)
            mass += cage.members[static_cast<std::size_t>(member)].mass_kg;
        EXPECT_NEAR(option.mass_kg, mass, 1e-12);
        const double each = option.mass_kg / kg_per_lb / static_cast<double>(option.members.size());
        EXPECT_GT(each, 1) << option.name;
        EXPECT_LT(each, 8) << option.name;
        EXPECT_TRUE(option.price) << option.name;
        EXPECT_EQ(option.members.size() == 2, option.name.find(", both sides") != std::string::npos)
            << option.name;
    }
}

}  // namespace
}  // namespace hoopwright
