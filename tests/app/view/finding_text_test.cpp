#include "app/view/finding_text.h"

#include <gtest/gtest.h>

namespace hoopwright {
namespace {

const LengthStyle kMetric{LengthUnit::mm, 1, 0, true}, kInches{LengthUnit::in, 1, 0, true};
const Unit kMm{"mm", Dimension::length, 1}, kIn{"in", Dimension::length, 25.4};

Finding tooHigh() {
    Finding finding;
    finding.title = "Belt bar height against shoulder";
    finding.answer = Answer::fails;
    finding.dimension = Dimension::length;
    finding.unit = kMm;
    finding.value = 131, finding.limit = 100, finding.margin = -31;
    finding.limit_text = "0 to 100 mm";
    finding.clause = "C 2.6", finding.edition = "2026";
    return finding;
}

TEST(FindingText, IsInThePersonsUnit) {
    EXPECT_EQ(valueText(tooHigh(), kMetric), "131 mm");
    EXPECT_EQ(valueText(tooHigh(), kInches), "5.157 in");  // 131 / 25.4 = 5.15748
    EXPECT_EQ(limitText(tooHigh(), kMetric), "0 to 100 mm");
    EXPECT_EQ(limitText(tooHigh(), kInches), "0 to 100 mm (3.937 in)");
}

TEST(FindingText, SaysWhichWayItIsOut) {
    Finding finding = tooHigh();
    EXPECT_EQ(marginText(finding, kMetric), "31 mm too much");
    finding.value = 69, finding.limit = 100;
    EXPECT_EQ(marginText(finding, kMetric), "31 mm short");
    finding.margin = 12;
    EXPECT_EQ(marginText(finding, kMetric), "12 mm to spare");
    finding.margin.reset();
    EXPECT_EQ(marginText(finding, kMetric), "");
}

TEST(FindingText, SaysWhatWasMeasuredWhatIsMissingOrWhatToAsk) {
    Finding finding = tooHigh();
    EXPECT_EQ(outcomeText(finding, kMetric), "131 mm; wanted: 0 to 100 mm");
    finding.answer = Answer::cannot_tell;
    finding.missing = "the measured wall of 45x2.5";
    EXPECT_EQ(outcomeText(finding, kMetric), "Missing: the measured wall of 45x2.5");
    finding.answer = Answer::ask_person;
    finding.missing = "Is the weld whole all round?";
    EXPECT_EQ(outcomeText(finding, kMetric), "Is the weld whole all round?");
    Finding bare;
    bare.sentence = "A main hoop is fitted.";
    EXPECT_EQ(outcomeText(bare, kMetric), "A main hoop is fitted.");
}

TEST(FindingText, SaysWhatToBewareOf) {
    Finding finding;
    EXPECT_EQ(bewareText(finding), "");
    finding.beware = "0.120 in nominal meets; the mill may deliver 0.108 in.";
    EXPECT_EQ(bewareText(finding), "Beware: 0.120 in nominal meets; the mill may deliver 0.108 in.");
}

TEST(FindingText, NamesTheClauseAndWhatIsNotConfirmed) {
    Finding finding = tooHigh();
    EXPECT_EQ(clauseText(finding), "C 2.6, edition 2026");
    finding.confirmed = false;
    EXPECT_EQ(clauseText(finding), "C 2.6, edition 2026 (limit not confirmed)");
}

TEST(FindingText, ShowsEveryDimension) {
    EXPECT_EQ(
        showQuantity(0.5235987755982988, Dimension::angle, {"deg", Dimension::angle, 0.0174533}, kMetric),
        "30.0°");
    EXPECT_EQ(showQuantity(12000, Dimension::area, {"cm2", Dimension::area, 100}, kMetric), "120.0 cm2");
    EXPECT_EQ(showQuantity(4, Dimension::none, {}, kMetric), "4");
    EXPECT_EQ(showQuantity(1.25, Dimension::none, {}, kMetric), "1.25");
    EXPECT_EQ(showQuantity(350, Dimension::stress, {"MPa", Dimension::stress, 1}, kMetric), "350.0 MPa");
    EXPECT_EQ(showQuantity(2.33, Dimension::mass, {"kg", Dimension::mass, 1}, kMetric), "2.33 kg");
}

TEST(FindingText, SmallLengthsKeepWhatTellsThemFromTheirLimit) {
    const auto said = [](double mm) { return showQuantity(mm, Dimension::length, kMm, kMetric); };
    EXPECT_EQ(said(2.5), "2.5 mm");
    EXPECT_EQ(said(1.95), "1.95 mm");  // a wall under a limit of 2
    EXPECT_EQ(said(0.004), "0.004 mm");
    EXPECT_EQ(said(812.44), "812.4 mm");
    EXPECT_EQ(said(-3), "-3 mm");
    EXPECT_EQ(said(0), "0 mm");
}

TEST(FindingText, MeasuredWantedAndMarginAddUp) {
    Finding finding = tooHigh();
    finding.value = 41.93, finding.limit = 50, finding.margin = -8.07;
    EXPECT_EQ(valueText(finding, kMetric), "41.9 mm");
    EXPECT_EQ(marginText(finding, kMetric), "8.1 mm short");
    finding.value = 1.95, finding.limit = 2, finding.margin = -0.05;
    EXPECT_EQ(marginText(finding, kMetric), "0.05 mm short");
    finding.value = 49.99, finding.limit = 50, finding.margin = -0.01;
    EXPECT_EQ(marginText(finding, kMetric), "0.01 mm short") << "never 0 where something is lacking";
}

TEST(FindingText, HasTheSignsOfPrint) {
    EXPECT_EQ(withSigns("at least 120 cm2 (18.60 in2)"), "at least 120 cm² (18.60 in²)");
    EXPECT_EQ(withSigns("8 cm3, 12 mm4"), "8 cm³, 12 mm⁴");
    EXPECT_EQ(withSigns("at least 50 deg"), "at least 50°");
    EXPECT_EQ(withSigns("clause mm2b, 45x2.5, 2 degrees"), "clause mm2b, 45x2.5, 2 degrees");
    EXPECT_EQ(withSigns(""), "");
}

TEST(TubeText, IsWrittenAsTheShopSaysIt) {
    EXPECT_EQ(tubeText({45, 2.5}, LengthUnit::mm), "Ø45 × 2.5");
    EXPECT_EQ(tubeText({44.45, 3.048}, LengthUnit::in), "Ø1.750 × 0.120");
    EXPECT_EQ(tubeText({44.45, 3.048}, LengthUnit::mm), "Ø44.45 × 3.05");
}

}  // namespace
}  // namespace hoopwright
