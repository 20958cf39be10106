#include "core/base/text.h"

#include <gmock/gmock.h>

#include <clocale>
#include <limits>
#include <locale>
#include <random>

namespace hoopwright {
namespace {

TEST(Text, ShortestIsWhatAPersonWouldWrite) {
    EXPECT_EQ(shortest(41.3), "41.3");
    EXPECT_EQ(shortest(1.0 / 3), "0.3333333333333333");
    EXPECT_EQ(shortest(-2500), "-2500");
    EXPECT_EQ(shortest(-0.0), "0");
}

TEST(Text, ShortestReadsBackAsTheSameDouble) {
    std::mt19937_64 random(20261125);
    std::uniform_real_distribution<double> digits(-1, 1);
    std::uniform_int_distribution<int> scale(-200, 200);
    for (int i = 0; i < 20000; ++i) {
        const double value = std::ldexp(digits(random), scale(random));
        EXPECT_EQ(plainNumber(shortest(value)), value);
    }
    EXPECT_EQ(plainNumber(shortest(std::numeric_limits<double>::max())), std::numeric_limits<double>::max());
    EXPECT_EQ(plainNumber(shortest(std::numeric_limits<double>::denorm_min())),
              std::numeric_limits<double>::denorm_min());
}

TEST(Text, FixedRoundsTheDecimalValueHalfAwayFromZero) {
    EXPECT_EQ(fixed(2.675, 2), "2.68");
    EXPECT_EQ(fixed(-2.675, 2), "-2.68");
    EXPECT_EQ(fixed(2.674999, 2), "2.67");
    EXPECT_EQ(fixed(0.5, 0), "1");
    EXPECT_EQ(fixed(2.5, 0), "3");
    EXPECT_EQ(fixed(9.996, 2), "10.00");
    EXPECT_EQ(fixed(999.95, 1), "1000.0");
    EXPECT_EQ(fixed(0.0499, 1), "0.0");
}

TEST(Text, FixedPadsAndNeverShowsMinusZero) {
    EXPECT_EQ(fixed(12, 1), "12.0");
    EXPECT_EQ(fixed(12, 0), "12");
    EXPECT_EQ(fixed(1.5, 3), "1.500");
    EXPECT_EQ(fixed(-0.04, 1), "0.0");
    EXPECT_EQ(fixed(-0.0, 2), "0.00");
    EXPECT_EQ(fixed(1e21, 1), "1000000000000000000000.0");
    EXPECT_EQ(fixed(1e-300, 2), "0.00");
}

TEST(Text, PlainNumberReadsDecimalNumbers) {
    EXPECT_EQ(plainNumber("41.3"), 41.3);
    EXPECT_EQ(plainNumber("-0.5"), -0.5);
    EXPECT_EQ(plainNumber(".095"), 0.095);
    EXPECT_EQ(plainNumber("5."), 5.0);
    EXPECT_EQ(plainNumber("1e-3"), 0.001);
    EXPECT_EQ(plainNumber("0"), 0.0);
    EXPECT_EQ(plainNumber("0.25"), 0.25);
}

TEST(Text, PlainNumberRefusesEverythingElse) {
    for (const char* text :
         {"",      "-",   ".",     "+1",     "010", "-010", "00",  "0x1F", "nan",   "inf", "-inf",
          "1e999", "1,5", "1.5.2", "1.5 mm", " 1",  "1 ",   "--1", "1e",   "1_000", "٣"}) {
        EXPECT_EQ(plainNumber(text), std::nullopt) << text;
    }
}

TEST(Text, DidYouMeanFindsTheNearestWord) {
    const std::vector<std::string> words = {"wall", "radius", "main_hoop", "belt_bar"};
    EXPECT_EQ(didYouMean("wal", words), "wall");
    EXPECT_EQ(didYouMean("raduis", words), "radius");
    EXPECT_EQ(didYouMean("MAIN_HOOP", words), "main_hoop");
    EXPECT_EQ(didYouMean("mainhop", words), "main_hoop");
    EXPECT_EQ(didYouMean("zebra", words), "");
    EXPECT_EQ(didYouMean("", words), "");
    EXPECT_EQ(didYouMean("xx", std::vector<std::string>{}), "");
}

/// A locale that writes 2,5 and 1.000, made here since none need be installed.
struct CommaNumbers : std::numpunct<char> {
    char do_decimal_point() const override { return ','; }
    char do_thousands_sep() const override { return '.'; }
    std::string do_grouping() const override { return "\3"; }
};

TEST(Text, ACommaLocaleChangesNothing) {
    const std::locale before = std::locale::global(std::locale(std::locale::classic(), new CommaNumbers));
    std::setlocale(LC_ALL, "de_DE.UTF-8");  // if it is installed, the C library too
    EXPECT_EQ(shortest(1234.5), "1234.5");
    EXPECT_EQ(fixed(1234.56, 1), "1234.6");
    EXPECT_EQ(plainNumber("1234.5"), 1234.5);
    EXPECT_EQ(plainNumber("1234,5"), std::nullopt);
    std::setlocale(LC_ALL, "C");
    std::locale::global(before);
}

}  // namespace
}  // namespace hoopwright
