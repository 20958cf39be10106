#include "core/units/measure.h"

#include <gmock/gmock.h>

#include <numbers>
#include <random>
#include <set>

#include "tests/degrees.h"

namespace hoopwright {
namespace {

using testing::AllOf;
using testing::HasSubstr;

Unit unit(std::string_view word) {
    return *unitNamed(word);
}

std::string whyNot(std::string_view text, std::string_view bare = "mm") {
    const auto value = readMeasure(text, unit(bare));
    return value ? "read as a value" : value.reason();
}

TEST(Measure, ReadsInchesAsTheShopWritesThem) {
    for (const char* text :
         {"1-5/8\"", "1 5/8 in", "1-5/8 inch", "1.625\"", "1.625 in", "1 5/8 IN", "  1-5/8”  "}) {
        const auto value = readMeasure(text, unit("mm"));
        ASSERT_TRUE(value) << text << ": " << value.reason();
        EXPECT_DOUBLE_EQ(*value, 41.275) << text;
    }
    EXPECT_DOUBLE_EQ(*readMeasure("1.625", unit("in")), 41.275);
    EXPECT_DOUBLE_EQ(*readMeasure("1-5/8", unit("in")), 41.275);
    EXPECT_DOUBLE_EQ(*readMeasure("3/16", unit("in")), 4.7625);
    EXPECT_DOUBLE_EQ(*readMeasure(".095", unit("in")), 2.413);
    EXPECT_DOUBLE_EQ(*readMeasure("-1-5/8\"", unit("in")), -41.275);
}

TEST(Measure, ReadsFeetAndInches) {
    for (const char* text :
         {"5' 4-1/2\"", "5'4-1/2\"", "5'-4 1/2\"", "5 ft 4.5 in", "5' 4-1/2", "64.5 in", "5.375 ft"}) {
        const auto value = readMeasure(text, unit("mm"));
        ASSERT_TRUE(value) << text << ": " << value.reason();
        EXPECT_DOUBLE_EQ(*value, 1638.3) << text;
    }
}

TEST(Measure, ReadsMetricLengths) {
    EXPECT_EQ(*readMeasure("41.3 mm", unit("in")), 41.3);
    EXPECT_EQ(*readMeasure("41.3mm", unit("mm")), 41.3);
    EXPECT_EQ(*readMeasure("41.3", unit("mm")), 41.3);
    EXPECT_EQ(*readMeasure("4.2 cm", unit("mm")), 42.0);
    EXPECT_EQ(*readMeasure("1.2 m", unit("mm")), 1200.0);
    EXPECT_EQ(*readMeasure("-12", unit("mm")), -12.0);
    EXPECT_EQ(*readMeasure("1e3 mm", unit("mm")), 1000.0);
}

TEST(Measure, RefusesWhatLosesDigitsNearZero) {
    EXPECT_EQ(*readMeasure("1e-300 mm", unit("in")), 1e-300);
    EXPECT_EQ(*readMeasure("0.000 mm", unit("in")), 0.0);
    EXPECT_EQ(whyNot("2e-323 mm"),
              "'2e-323 mm' is too near zero: write 0, or a length such as 41.3 mm or 1-5/8\"");
    EXPECT_THAT(whyNot("3e-308 deg", "deg"), HasSubstr("is too near zero"));  // 5e-310 rad
}

TEST(Measure, ReadsTheOtherDimensions) {
    EXPECT_DOUBLE_EQ(*readMeasure("30°", unit("deg")), 30 * kDegree);
    EXPECT_DOUBLE_EQ(*readMeasure("30 deg", unit("rad")), 30 * kDegree);
    EXPECT_DOUBLE_EQ(*readMeasure("30", unit("degrees")), 30 * kDegree);
    EXPECT_DOUBLE_EQ(*readMeasure("18.6 in2", unit("mm2")), 18.6 * 645.16);
    EXPECT_DOUBLE_EQ(*readMeasure("18.6 in²", unit("mm2")), 18.6 * 645.16);
    EXPECT_DOUBLE_EQ(*readMeasure("18.6 in^2", unit("mm2")), 18.6 * 645.16);
    EXPECT_DOUBLE_EQ(*readMeasure("1040 kg", unit("lb")), 1040);
    EXPECT_DOUBLE_EQ(*readMeasure("2300 lbs", unit("kg")), 2300 * 0.45359237);
    EXPECT_DOUBLE_EQ(*readMeasure("350 N/mm2", unit("MPa")), 350);
    EXPECT_DOUBLE_EQ(*readMeasure("36 km/h", unit("mph")), 10);
    EXPECT_DOUBLE_EQ(*readMeasure("7", unit("")), 7);
}

TEST(Measure, SaysWhatIsWrongAndWhatToWrite) {
    EXPECT_EQ(whyNot(""), "nothing is written: write a length such as 41.3 mm or 1-5/8\"");
    EXPECT_EQ(whyNot("1,5"), "'1,5' has a comma: write 1.5 with a point");
    EXPECT_EQ(whyNot("1,5 mm"), "'1,5 mm' has a comma: write 1.5 mm with a point");
    EXPECT_EQ(whyNot("1,200.5"),
              "'1,200.5' has a comma: write the number without commas, with a point for decimals");
    EXPECT_EQ(whyNot("010"), "'010' starts with a zero: write 10");
    EXPECT_EQ(whyNot("00"), "'00' starts with a zero: write 0");
    EXPECT_EQ(whyNot("0x1F"), "'0x1F' is a hexadecimal number: write it as a decimal number such as 31");
    EXPECT_EQ(whyNot("nan"), "'nan' is not a length: write a length such as 41.3 mm or 1-5/8\"");
    EXPECT_EQ(whyNot("-inf"), "'-inf' is not a length: write a length such as 41.3 mm or 1-5/8\"");
    EXPECT_EQ(whyNot("inf", "deg"), "'inf' is not an angle: write an angle such as 30 deg");
    EXPECT_EQ(whyNot("1.5.2"), "'1.5.2' has two points: write a number such as 1.5");
    EXPECT_EQ(whyNot("+3"), "'+3' has a plus sign: leave it out");
    EXPECT_EQ(whyNot("1e999"), "'1e999' is not a number this can hold: write a plain number such as 1.5");
    EXPECT_EQ(whyNot("3 mn"),
              "'mn' is not a unit: write one of mm, cm, m, in, ft, deg, kg, lb, MPa and the like");
    EXPECT_EQ(whyNot("350 Mpsa", "MPa"), "'Mpsa' is not a unit: did you mean MPa?");
    EXPECT_EQ(whyNot("1-5/8"),
              "'1-5/8' has a fraction, which is read for inches only: write it as 1-5/8\" or with a point");
}

TEST(Measure, RefusesAnotherDimension) {
    EXPECT_EQ(whyNot("3 kg"), "'3 kg' is a mass, not a length: write a length such as 41.3 mm or 1-5/8\"");
    EXPECT_EQ(whyNot("3 mm", ""), "'3 mm' is a length, not a plain number: write a plain number such as 1.5");
    EXPECT_EQ(whyNot("3 mm", "deg"), "'3 mm' is a length, not an angle: write an angle such as 30 deg");
}

TEST(Measure, RefusesWhatGoesOnAfterTheMeasure) {
    for (const char* text :
         {"5' 4\" 3", "5 mm 3 in", "5' 14\"", "5' 3 mm", "1-5/8-3", "12 in 3", "5' -", "1 2 3", "3 mm x",
          "12-", "1.5-1/2\"", "1-9/8\"", "1/0\"", "9/8\"", "1-5/ 8\"", "1e5e5", "5' 4' "}) {
        const auto value = readMeasure(text, unit("in"));
        ASSERT_FALSE(value) << text << " read as " << *value;
        EXPECT_THAT(value.reason(), AllOf(HasSubstr("'"), HasSubstr(":"))) << text;
    }
    EXPECT_THAT(whyNot("5' 14\""), HasSubstr("feet with fewer than 12 inches such as 5' 4-1/2\""));
}

TEST(Measure, NeverReadsRandomBytesAsAnythingButAFiniteValue) {
    std::mt19937 random(7);
    const std::string_view letters = "0123456789.-/'\" mincftdeg,x+e\xc2\xb0";
    std::uniform_int_distribution<size_t> letter(0, letters.size() - 1);
    std::uniform_int_distribution<int> length(0, 9);
    int read = 0;
    for (int i = 0; i < 200000; ++i) {
        std::string text;
        for (int n = length(random); n > 0; --n) text += letters[letter(random)];
        const auto value = readMeasure(text, unit("in"));
        if (value) {
            EXPECT_TRUE(std::isfinite(*value)) << text;
            ++read;
        } else {
            EXPECT_FALSE(value.reason().empty()) << text;
        }
    }
    EXPECT_GT(read, 1000);
}

TEST(Units, EveryWordNamesItselfAndNoTwoDifferByCaseOnly) {
    std::set<std::string> lower;
    for (const Unit& each : units()) {
        EXPECT_EQ(unit(each.word), each);
        std::string word = each.word;
        for (char& c : word) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
        EXPECT_TRUE(lower.insert(word).second) << each.word;
    }
}

TEST(Units, TheFirstOfADimensionIsItsBase) {
    EXPECT_EQ(baseUnit(Dimension::length).word, "mm");
    EXPECT_EQ(baseUnit(Dimension::angle).word, "rad");
    EXPECT_EQ(baseUnit(Dimension::none).word, "");
    for (const Unit& each : units()) EXPECT_EQ(baseUnit(each.dimension).to_base, 1) << each.word;
}

// NIST SP 811, appendix B.8 (from memory): 1 ksi = 6.894757 MPa; 1 in4 = 4.162314e-7 m4; 1 in3 = 1.638706e-5
// m3.
TEST(Units, FactorsAreThePublishedOnes) {
    EXPECT_NEAR(unit("ksi").to_base, 6.894757, 5e-7);
    EXPECT_NEAR(unit("in4").to_base * 1e-12, 4.162314e-7, 5e-14);
    EXPECT_NEAR(unit("in3").to_base * 1e-9, 1.638706e-5, 1e-11);
}

TEST(ShowMeasure, MillimetresAndInches) {
    EXPECT_EQ(showLength(812.4, {}), "812.4 mm");
    EXPECT_EQ(showLength(812.44, {.with_unit = false}), "812.4");
    EXPECT_EQ(showLength(812.4, {.unit = LengthUnit::in}), "31.984 in");
    EXPECT_EQ(showLength(812.4, {.unit = LengthUnit::in, .fraction = 64}), "31.984 in (31-63/64\")");
    EXPECT_EQ(showLength(812.4, {.unit = LengthUnit::in, .fraction = 16}), "31.984 in (32\" +0.016)");
    EXPECT_EQ(showLength(41.275, {.unit = LengthUnit::in, .fraction = 16}), "1.625 in (1-5/8\")");
    // Under half a sixteenth (0.794 mm) the nearest fraction is none.
    EXPECT_EQ(showLength(0.5, {.unit = LengthUnit::in, .fraction = 16}), "0.020 in");
    EXPECT_EQ(showLength(-0.7, {.unit = LengthUnit::in, .fraction = 16}), "-0.028 in");
    EXPECT_EQ(showLength(0.8, {.unit = LengthUnit::in, .fraction = 16}), "0.031 in (1/16\" +0.031)");
    EXPECT_EQ(showLength(-0.01, {}), "0.0 mm");
}

TEST(ShowMeasure, NearestFractionIsInLowestTermsWithItsError) {
    EXPECT_EQ(nearestFraction(41.275, 64).text, "1-5/8\"");
    EXPECT_EQ(nearestFraction(-4.7625, 16).text, "-3/16\"");
    EXPECT_EQ(nearestFraction(0.1, 16).text, "0\"");
    EXPECT_EQ(nearestFraction(-0.1, 16).text, "0\"");
    EXPECT_EQ(nearestFraction(304.8, 32).text, "12\"");
    const InchFraction near = nearestFraction(31.984 * 25.4, 16);
    EXPECT_EQ(near.text, "32\"");
    EXPECT_NEAR(near.error_mm, 0.4064, 1e-9);
}

TEST(ShowMeasure, AnglesMassesAreas) {
    EXPECT_EQ(showAngle(30 * kDegree), "30.0°");
    EXPECT_EQ(showMass(2.331, LengthUnit::mm), "2.33 kg");
    EXPECT_EQ(showMass(2.331, LengthUnit::in), "5.14 lb");
    EXPECT_EQ(showArea(12000, LengthUnit::mm), "120.0 cm2");
    EXPECT_EQ(showArea(12000, LengthUnit::in), "18.60 in2");
}

TEST(ShowMeasure, ReadsBackToHalfOfItsLastPlace) {
    std::mt19937_64 random(11);
    std::uniform_real_distribution<double> length(-4000, 4000);
    for (int i = 0; i < 5000; ++i) {
        const double mm = length(random);
        EXPECT_NEAR(*readMeasure(showLength(mm, {}), unit("in")), mm, 0.0500001);
        EXPECT_NEAR(*readMeasure(showLength(mm, {.unit = LengthUnit::in}), unit("mm")), mm, 0.0005001 * 25.4);
        EXPECT_NEAR(*readMeasure(nearestFraction(mm, 32).text, unit("mm")), mm, 25.4 / 64 + 1e-9);
        EXPECT_NEAR(*readMeasure(nearestFraction(mm, 32).text, unit("mm")) - mm,
                    nearestFraction(mm, 32).error_mm, 1e-9);
    }
}

}  // namespace
}  // namespace hoopwright
