// The shop's book: reads, refuses, reads back.
#include <gmock/gmock.h>

#include <numbers>

#include "core/files/shop_file.h"
#include "random_job.h"
#include "tests/degrees.h"

using namespace hoopwright;
using testing::HasSubstr;

namespace {

ShopBook randomBook(unsigned seed, LengthUnit unit) {
    RandomJob r(seed, unit);
    ShopBook b;
    b.name = r.text();
    if (r.coin()) b.words = r.text();
    if (r.coin()) b.mark = r.text();
    b.benders = r.several(3, [&](int i) {
        Bender one;
        one.id = r.name("bender", i);
        if (r.coin()) one.name = r.text();
        one.swings = static_cast<Bender::Swings>(r.below(3));
        one.height_mm = r.positive();
        if (r.coin()) one.tail_mm = r.positive();
        if (r.coin()) one.stroke_rad = 7 * kDegree;
        one.frame = r.several(2, [&](int) {
            const Vec3 low = r.point();
            return BenderBlock{r.coin() ? "ram" : "", low,
                               low + 25.4 * Vec3(1 + r.below(9), 1 + r.below(9), 1 + r.below(9))};
        });
        if (r.coin()) one.dies = {"d45", "d38"};
        return one;
    });
    b.samples = r.several(4, [&](int) {
        return BendSample{"45x2.5",
                          "d45",
                          (20 + r.below(70)) * kDegree,
                          (10 + r.below(10)) * kDegree,
                          r.coin() ? std::optional(r.positive()) : std::nullopt,
                          r.coin() ? "2026-02-10" : ""};
    });
    b.saws = r.several(2, [&](int i) {
        return Saw{r.name("saw", i), r.coin() ? r.text() : "", r.positive(), r.below(60) * kDegree};
    });
    b.hole_saws_mm = r.several(4, [&](int) { return r.positive(); });
    if (r.coin()) b.bend_long_mm = r.positive();
    if (r.coin()) b.paper_mm = 0.2;
    if (r.coin()) b.least_roundness = 0.9;
    if (r.coin()) b.clean_outside_mm = r.positive();
    if (r.coin()) b.clean_inside_mm = r.positive();
    if (r.coin()) b.weld = WeldUse{55, 9, 60};
    b.sheets = r.several(3, [&](int i) {
        return SheetStock{r.name("sheet", i), "s235",       r.positive(),
                          r.positive(),       r.positive(), r.coin() ? 31.5 : 0};
    });
    b.folds = r.several(3, [&](int i) {
        return SheetFold{1.0 + i, r.positive(), r.coin() ? std::optional(0.4) : std::nullopt,
                         r.coin() ? std::optional(r.positive()) : std::nullopt};
    });
    if (r.coin()) b.cutting_table = CuttingTable{1.5, r.positive(), 10};
    b.rack = r.several(3, [&](int) {
        return RackPiece{"45x2.5", r.positive(), r.coin() ? "H1" : "", r.coin() ? "C1" : ""};
    });
    b.kerf_at = r.coin() ? KerfAt::every_cut : KerfAt::between_pieces;
    b.off_cuts_first = r.coin();
    if (r.coin()) b.rack_from_mm = r.positive();
    b.times = r.several(4, [&](int i) {
        return WorkTime{r.name("job", i), static_cast<Operation>(r.below(5)),
                        1 + static_cast<int>(r.below(40)), r.positive(), r.coin() ? "2026-02-10" : ""};
    });
    if (r.coin()) b.minutes = {9.0, r.coin() ? std::optional(14.0) : std::nullopt, 22.5, {}, 0.0};
    if (r.coin()) b.rate_per_hour = 62;
    b.finishes = r.several(2, [&](int i) { return ShopFinish{r.name("coat", i), 28.0 * i}; });
    if (r.coin()) b.padding_price_per_m = 21;
    if (r.coin()) b.exclusions = {"Paint", r.text()};
    return b;
}

std::string problemsOfShop(const std::string& rest) {
    const auto read = readShopText("hoopwright: shop\nversion: 1\nunits: mm\nname: S\n" + rest, "shop.yaml");
    EXPECT_FALSE(read.value) << rest;
    std::string out;
    for (const Problem& problem : read.problems) out += problem.text() + "\n";
    return out;
}

TEST(ShopBookFile, ReadsBackAsWrittenInEitherUnitAndOverAnotherBook) {
    for (const LengthUnit unit : {LengthUnit::mm, LengthUnit::in}) {
        for (unsigned seed = 0; seed < 200; ++seed) {
            const ShopBook book = randomBook(seed, unit);
            const std::string text = writeShop(book, nullptr, unit);
            const auto read = readShopText(text, "shop.yaml");
            ASSERT_TRUE(read.value) << read.problems.front().text() << "\n" << text;
            EXPECT_TRUE(*read.value == book) << text;
            const ShopBook other = randomBook(seed + 1000, unit);
            const auto again = readShopText(writeShop(other, read.text), "shop.yaml");
            ASSERT_TRUE(again.value);
            EXPECT_TRUE(*again.value == other);
        }
    }
}

TEST(ShopBookFile, SaysWhatIsWrongWithItsPlace) {
    EXPECT_THAT(problemsOfShop("hole_saws: []\nrate_per_hour: -5\n"),
                HasSubstr("shop.yaml:6:16: rate_per_hour: '-5'"));
    EXPECT_THAT(problemsOfShop("hole_saws: [38, 0]\n"), HasSubstr("hole_saws, item 2: '0'"));
    EXPECT_THAT(problemsOfShop("hole_saws: []\nspringback: [{stock: a, die: d, dialled: 40, got: 41}]\n"),
                HasSubstr("got: more than was dialled: a tube springs back, never on"));
    EXPECT_THAT(problemsOfShop("hole_saws: []\nspringback: [{stock: a, die: d, dialled: 181, got: 170}]\n"),
                HasSubstr("dialled: half a turn or more"));
    EXPECT_THAT(problemsOfShop("hole_saws: []\nbenders:\n  - {id: b, height: 900, frame: [{low: [0, 0, 0], "
                               "high: [10, 0, 10]}]}\n"),
                HasSubstr("low is not below high in all three"));
    EXPECT_THAT(problemsOfShop("hole_saws: []\nsaws: [{id: s, kerf: 2, greatest_swing: 45}, {id: s, kerf: 2, "
                               "greatest_swing: 45}]\n"),
                HasSubstr("'s'"));
    EXPECT_THAT(problemsOfShop("hole_saws: []\nleast_roundness: 90\n"), HasSubstr("more than 1"));
    EXPECT_THAT(
        problemsOfShop("hole_saws: []\nweld: {filler_g_per_m: 1, gas_l_per_min: 2, speed_mm_per_min: 0}\n"),
        HasSubstr("speed_mm_per_min: '0'"));
    EXPECT_THAT(problemsOfShop("hole_saws: []\ntimes: [{job: J, operation: weld, count: 2, minutes: 9}]\n"),
                HasSubstr("shop.yaml:6:29: operation: 'weld'"));
    EXPECT_THAT(problemsOfShop("hole_saws: []\ntimes: [{job: J, operation: bend, count: 0, minutes: 9}]\n"),
                HasSubstr("count: '0'"));
    EXPECT_THAT(problemsOfShop("hole_saws: []\ntimes: [{job: J, operation: bend, count: 2, minutes: -9}]\n"),
                HasSubstr("minutes: '-9'"));
    EXPECT_THAT(problemsOfShop("hole_saws: []\nkerf_at: nowhere\n"), HasSubstr("kerf_at: 'nowhere'"));
    EXPECT_THAT(problemsOfShop("hole_saws: []\nrack_from: 0\n"), HasSubstr("rack_from: '0'"));
    EXPECT_THAT(problemsOfShop("hole_saw: [38]\n"), HasSubstr("did you mean 'hole_saws'?"));
}

TEST(ShopBookFile, OfTheDemosComesWithTheJob) {
    for (const std::string cage : {"hillclimb_saloon", "mile_pickup"}) {
        const JobResult read = readJob(HOOPWRIGHT_SOURCE_DIR "/data/cages/" + cage + ".yaml");
        ASSERT_TRUE(read.job) << read.problems.front().text();
        ASSERT_TRUE(read.job->shop);
        EXPECT_GE(read.job->shop->samples.size(), 4u);
        for (const BendSample& sample : read.job->shop->samples) {
            EXPECT_TRUE(read.job->stock.find(sample.stock)) << sample.stock;
            EXPECT_TRUE(read.job->dies.find(sample.die)) << sample.die;
        }
        for (const RackPiece& piece : read.job->shop->rack) EXPECT_TRUE(read.job->stock.find(piece.stock));
        for (const SheetStock& sheet : read.job->shop->sheets)
            EXPECT_TRUE(read.job->stock.material(sheet.material));
    }
}

}  // namespace
