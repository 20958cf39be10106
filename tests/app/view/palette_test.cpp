#include "app/view/palette.h"

#include <gtest/gtest.h>

#include <QFontDatabase>
#include <QFontInfo>
#include <algorithm>
#include <cmath>
#include <vector>

namespace hoopwright {

void PrintTo(Tone tone, std::ostream* out) {
    *out << (tone == Tone::light ? "light" : "dark");
}

namespace {

// Relative luminance and contrast ratio. Source: W3C, Web Content Accessibility Guidelines 2.1 (2018),
// definitions of "relative luminance" and "contrast ratio".
double luminance(const QColor& c) {
    const auto channel = [](double v) {
        return v <= 0.03928 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
    };
    return 0.2126 * channel(c.redF()) + 0.7152 * channel(c.greenF()) + 0.0722 * channel(c.blueF());
}

double contrast(const QColor& a, const QColor& b) {
    const double high = std::max(luminance(a), luminance(b)), low = std::min(luminance(a), luminance(b));
    return (high + 0.05) / (low + 0.05);
}

class PaletteIn : public testing::TestWithParam<Tone> {
protected:
    const Palette palette_ = paletteOf(GetParam());
};

TEST(Contrast, IsTwentyOneBetweenBlackAndWhite) {
    EXPECT_NEAR(contrast(Qt::black, Qt::white), 21.0,
                1e-9);  // WCAG 2.2: "Contrast ratios can range from 1 to 21"
}

TEST_P(PaletteIn, EveryTextIsReadableWhereItStands) {
    const auto& p = palette_;
    for (const QColor& ground : {p.paper, p.card, p.field, p.chosen})
        for (const QColor& text : {p.ink, p.ink_soft})
            EXPECT_GE(contrast(text, ground), 4.5) << text.name().toStdString();
    for (const QColor& ground : {p.paper, p.card}) {
        EXPECT_GE(contrast(p.action, ground), 4.5);
        for (const QColor& text : {p.meets, p.fails, p.ask, p.cannot_tell, p.does_not_apply})
            EXPECT_GE(contrast(text, ground), 4.5) << text.name().toStdString();
    }
    EXPECT_GE(contrast(p.rail_ink, p.rail), 4.5);
    EXPECT_GE(contrast(p.rail_soft, p.rail), 4.5);
    EXPECT_GE(contrast(p.accent_ink, p.accent), 4.5);
}

TEST_P(PaletteIn, EveryMarkIsSeenOnCardsAndOnTheChosenRow) {
    const auto& p = palette_;
    for (const QColor& ground : {p.paper, p.card, p.field, p.chosen})
        for (const QColor& mark : {p.meets, p.fails, p.ask, p.cannot_tell, p.does_not_apply, p.accent_edge})
            EXPECT_GE(contrast(mark, ground), 3.0)
                << mark.name().toStdString() << " on " << ground.name().toStdString();
}

TEST_P(PaletteIn, ResultColoursAreTheOnesOfTheirAnswers) {
    EXPECT_EQ(palette_.of(Answer::meets), palette_.meets);
    EXPECT_EQ(palette_.of(Answer::fails), palette_.fails);
    EXPECT_EQ(palette_.of(Answer::ask_person), palette_.ask);
    EXPECT_EQ(palette_.of(Answer::cannot_tell), palette_.cannot_tell);
    EXPECT_EQ(palette_.of(Answer::does_not_apply), palette_.does_not_apply);
}

INSTANTIATE_TEST_SUITE_P(BothSets, PaletteIn, testing::Values(Tone::light, Tone::dark));

TEST(Type, HasTheSizeAndWeightAskedFor) {
    EXPECT_EQ(typeFont(TypeSize::body).pixelSize(), 13);
    EXPECT_EQ(typeFont(TypeSize::small, TypeWeight::plain, 2).pixelSize(), 24);
    EXPECT_EQ(typeFont(TypeSize::head, TypeWeight::strong).weight(), QFont::DemiBold);
    const bool is_inter = QFontInfo(typeFont(TypeSize::body)).family() == "Inter";
    EXPECT_EQ(is_inter, QFontDatabase::hasFamily("Inter"));
}

}  // namespace
}  // namespace hoopwright
