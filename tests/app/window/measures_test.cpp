#include "app/window/measures.h"

#include <gtest/gtest.h>

#include "app/window/fact_rows.h"

namespace hoopwright {
namespace {

using enum Dimension;

double read(const char* typed, UnitsShown units, Dimension dimension = length) {
    const auto value = readField(QString::fromUtf8(typed), dimension, units);
    EXPECT_TRUE(value) << typed;
    return value ? *value : -1;
}

TEST(Measures, ABareNumberIsInTheUnitOfThePerson) {
    EXPECT_DOUBLE_EQ(read("812.4", UnitsShown::mm), 812.4);
    EXPECT_DOUBLE_EQ(read("812.4", UnitsShown::both), 812.4);
    EXPECT_DOUBLE_EQ(read("10", UnitsShown::in), 254);
    EXPECT_DOUBLE_EQ(read("1 in", UnitsShown::mm), 25.4);
}

TEST(Measures, AFractionIsInchesWhateverTheUnit) {
    // 31-63/64 in = 812.403125 mm: 1 in is 25.4 mm exactly (international yard and pound agreement, 1959).
    for (const UnitsShown units : {UnitsShown::mm, UnitsShown::in, UnitsShown::both}) {
        EXPECT_NEAR(read("31 63/64", units), 812.403125, 1e-9);
        EXPECT_NEAR(read("1-5/8\"", units), 41.275, 1e-9);
    }
}

TEST(Measures, PlusAddsAndLessTakesAway) {
    const auto change = [](const char* typed) {
        return *readChange(QString::fromUtf8(typed), 100, length, UnitsShown::mm);
    };
    EXPECT_DOUBLE_EQ(change("+1/16"), 101.5875);
    EXPECT_DOUBLE_EQ(change("+ 5"), 105);
    EXPECT_DOUBLE_EQ(change("less 3"), 97);
    EXPECT_DOUBLE_EQ(change("Less 1 in"), 74.6);
    EXPECT_DOUBLE_EQ(change("-3"), -3);
}

TEST(Measures, AWrongEntrySaysWhatWasTyped) {
    const auto wrong = readField(QStringLiteral("8l2"), length, UnitsShown::mm);
    ASSERT_FALSE(wrong);
    EXPECT_NE(wrong.reason().find("l2"), std::string::npos);
}

TEST(Measures, WhatAFieldShowsReadsBackAsTheSameValue) {
    for (const UnitsShown units : {UnitsShown::mm, UnitsShown::in, UnitsShown::both}) {
        for (const double mm : {0.0, 1.0, 812.4, -76.2, 41.275, 0.125, 2540.0}) {
            EXPECT_NEAR(*readField(fieldText(mm, length, units), length, units), mm, 5e-4) << mm;
        }
        EXPECT_NEAR(*readField(fieldText(0.3839724354387525, angle, units), angle, units), 0.3839724354387525,
                    1e-5);
    }
}

TEST(Measures, NoMoreDecimalsThanTheValueHas) {
    EXPECT_EQ(fieldText(812.4, length, UnitsShown::mm), QStringLiteral("812.4"));
    EXPECT_EQ(fieldText(812, length, UnitsShown::mm), QStringLiteral("812.0"));
    EXPECT_EQ(fieldText(41.275, length, UnitsShown::mm), QStringLiteral("41.275"));
    EXPECT_EQ(fieldText(25.4, length, UnitsShown::in), QStringLiteral("1.000"));
    EXPECT_EQ(fieldText(3, none, UnitsShown::mm), QStringLiteral("3"));
}

TEST(Measures, BothShowsTheFractionBeside) {
    EXPECT_EQ(besideText(41.275, length, UnitsShown::both), QStringLiteral("1-5/8\""));
    EXPECT_EQ(besideText(41.275, length, UnitsShown::mm), QString());
    EXPECT_EQ(measureText(41.275, length, UnitsShown::both), QStringLiteral("41.3 mm, 1-5/8\""));
    EXPECT_EQ(measureText(2.46, length, UnitsShown::mm), QStringLiteral("2.46 mm"));
}

TEST(Facts, AreReadAsWhatTheyAre) {
    EXPECT_EQ(readFact(QStringLiteral("yes")), (Fact{true, none}));
    EXPECT_EQ(readFact(QStringLiteral("2")), (Fact{2.0, none}));
    EXPECT_EQ(readFact(QStringLiteral("1080 kg")), (Fact{1080.0, mass}));
    EXPECT_EQ(readFact(QStringLiteral("2004-05-01")), (Fact{std::string("2004-05-01"), none}));
    EXPECT_EQ(readFact(QStringLiteral("closed")), (Fact{std::string("closed"), none}));
    EXPECT_EQ(factText(readFact(QStringLiteral("1080 kg")), UnitsShown::mm), QStringLiteral("1080.0 kg"));
}

}  // namespace
}  // namespace hoopwright
