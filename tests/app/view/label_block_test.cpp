// The pieces of paper that stand in a picture: all their words lie on them, at every size.
#include "app/view/label_block.h"

#include <gtest/gtest.h>

#include <QFontMetricsF>
#include <QImage>
#include <QPainter>
#include <algorithm>
#include <cmath>

#include "app/view/finding_text.h"
#include "core/model/role.h"
#include "demo_jobs.h"
#include "render/colours.h"

namespace hoopwright {
namespace {

const LengthStyle kInMm{LengthUnit::mm, 1, 0, true}, kInInches{LengthUnit::in, 1, 0, true};

/// Every run inside the block, none on another.
void expectReadable(const LabelBlock& block) {
    std::vector<QRectF> places;
    for (const auto& run : block.runs) {
        const QFontMetricsF metrics(run.font);
        const QRectF place(run.baseline.x(), run.baseline.y() - metrics.capHeight(),
                           metrics.horizontalAdvance(run.text), metrics.capHeight());
        SCOPED_TRACE(run.text.toStdString());
        EXPECT_GE(place.left(), 3);
        EXPECT_LE(place.right(), block.size.width() - 3);
        EXPECT_GE(place.top(), 1);
        EXPECT_LE(place.bottom() + metrics.descent(), block.size.height());
        for (const QRectF& other : places) EXPECT_FALSE(place.intersects(other));
        places.push_back(place);
    }
}

QString wordsOn(const LabelBlock& block) {
    QStringList all;
    for (const auto& run : block.runs) all << run.text;
    return all.join(QLatin1Char(' '));
}

TEST(LabelBlocks, ANameHoldsItsWordsAndItsChipAtEverySize) {
    for (const double scale : {1.0, 1.25, 2.0, 3.0}) {
        const LabelBlock block = nameBlock(QStringLiteral("Side bar, left"), QStringLiteral("Ø45 × 2.5"),
                                           Qt::red, paletteOf(Tone::light), scale);
        expectReadable(block);
        ASSERT_EQ(block.chips.size(), 1u);
        EXPECT_TRUE(QRectF(QPointF(), block.size).contains(block.chips[0].first));
        EXPECT_LT(block.chips[0].first.right(), block.runs[0].baseline.x()) << "the chip stands before";
        EXPECT_EQ(block.size.height(), 22 * scale);
    }
    const LabelBlock plain = nameBlock(QStringLiteral("Point"), {}, {}, paletteOf(Tone::light), 1);
    EXPECT_TRUE(plain.chips.empty());
    EXPECT_EQ(plain.runs.size(), 1u);
}

// W3C, Web Content Accessibility Guidelines 2.2 (2023), 1.4.11: what tells things apart stands out 3 : 1 from
// what is beside it; luminance and contrast as defined there.
TEST(LabelBlocks, TheChipOfEveryPlaceStandsOutInBothTones) {
    const auto luminance = [](const QColor& c) {
        const auto linear = [](double v) {
            return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
        };
        return 0.2126 * linear(c.redF()) + 0.7152 * linear(c.greenF()) + 0.0722 * linear(c.blueF());
    };
    constexpr int kScale = 4;
    for (const Tone tone : {Tone::light, Tone::dark}) {
        const Palette palette = paletteOf(tone);
        for (const Role& role : knownRoles()) {
            SCOPED_TRACE(role.word + (tone == Tone::dark ? ", dark" : ", light"));
            const Rgb own = placeColour(role.place);
            const QColor colour = QColor::fromRgbF(own.r, own.g, own.b);
            const LabelBlock block = nameBlock(QStringLiteral("Bar"), {}, colour, palette, kScale);
            QImage image(block.size.toSize() + QSize(8, 8), QImage::Format_ARGB32);
            image.fill(palette.card);
            QPainter painter(&image);
            paintBlock(painter, block, {4, 4}, palette);
            painter.end();
            const QRect chip = block.chips[0].first.translated(4, 4).toRect();
            EXPECT_EQ(image.pixelColor(chip.center()).rgb(), colour.rgb()) << "inside it is the bar's own";
            double best = 0;
            const double paper = luminance(palette.card);
            for (int x = chip.left() - kScale; x <= chip.right() + kScale; ++x) {
                const double seen = luminance(image.pixelColor(x, chip.center().y()));
                best = std::max(best, (std::max(seen, paper) + 0.05) / (std::min(seen, paper) + 0.05));
            }
            EXPECT_GE(best, 3);
        }
    }
}

TEST(LabelBlocks, ANoteIsBrokenAndStaysReadable) {
    const QString sentence = QStringLiteral(
        "Lower door bar, left: runs along inside Upper door bar, left; that is no joint, 3.9 mm deep, at x "
        "1075.7 mm, y 636.4 mm, z 47.4 mm.");
    for (const double scale : {1.0, 1.5, 2.0}) {
        for (const QString& head : {QString(), QStringLiteral("moved -81.0 mm")}) {
            const LabelBlock block = noteBlock(head, sentence, Qt::red, paletteOf(Tone::light), scale);
            expectReadable(block);
            EXPECT_LE(block.size.width(), 300 * scale + 1);
            EXPECT_EQ(wordsOn(block), head.isEmpty() ? sentence : head + QLatin1Char(' ') + sentence);
        }
    }
    EXPECT_LT(noteBlock({}, QStringLiteral("Too short."), {}, paletteOf(Tone::light), 1).size.width(), 120);
}

TEST(LabelBlocks, AMeasureIsAsWideAsItsWords) {
    const LabelBlock little = measureBlock(QStringLiteral("8 mm"), paletteOf(Tone::light), 1);
    const LabelBlock much = measureBlock(QStringLiteral("1812.4 mm"), paletteOf(Tone::light), 1);
    expectReadable(little);
    expectReadable(much);
    EXPECT_LT(little.size.width(), much.size.width());
    EXPECT_EQ(little.edge, paletteOf(Tone::light).accent_edge);
}

TEST(LabelBlocks, TheCardOfEveryFindingIsReadableInBothUnitsAndBothTones) {
    for (const std::string& name : demoNames()) {
        for (const Finding& finding : demoJob(name).report.findings) {
            for (const LengthStyle& style : {kInMm, kInInches}) {
                for (const Tone tone : {Tone::light, Tone::dark}) {
                    SCOPED_TRACE(name + " " + finding.rule + " " + finding.subject);
                    const LabelBlock card = findingBlock(finding, style, paletteOf(tone), 1, 300);
                    expectReadable(card);
                    EXPECT_LE(card.size.width(), 340);
                    EXPECT_LE(card.size.height(), 320) << "a card, not a page";
                    ASSERT_TRUE(card.mark);
                    EXPECT_EQ(card.mark->second, finding.answer);
                    EXPECT_EQ(card.edge, paletteOf(tone).of(finding.answer));
                }
            }
        }
    }
}

TEST(LabelBlocks, ACardSaysMeasuredWantedByHowMuchClauseAndWayOut) {
    Finding finding;
    finding.title = "Belt bar height against shoulder";
    finding.subject_name = "Belt bar";
    finding.answer = Answer::fails;
    finding.dimension = Dimension::length;
    finding.unit = {"mm", Dimension::length, 1};
    finding.value = 131, finding.limit = 100, finding.margin = -31;
    finding.limit_text = "0 to 100 mm";
    finding.clause = "C 2.6", finding.edition = "2026";
    finding.way_out = "Lower it by 31 mm.";
    const QString said = wordsOn(findingBlock(finding, kInMm, paletteOf(Tone::light), 1));
    for (const char* part : {"Belt bar height against shoulder", "131", "0 to 100 mm", "31", "C 2.6",
                             "edition 2026", "Lower it by 31 mm."})
        EXPECT_TRUE(said.contains(QString::fromUtf8(part))) << part << " in " << said.toStdString();
    const QString inches = wordsOn(findingBlock(finding, kInInches, paletteOf(Tone::light), 1));
    EXPECT_TRUE(inches.contains(QStringLiteral("5.157 in"))) << "131 / 25.4; " << inches.toStdString();
    EXPECT_TRUE(inches.contains(QStringLiteral("1.220 in"))) << "31 / 25.4; " << inches.toStdString();
}

TEST(LabelBlocks, ACardOfWhatMeetsByTheNominalWallSaysToBeware) {
    Finding finding;
    finding.title = "Tube of the hoops";
    finding.answer = Answer::meets;
    finding.found = "45x2.5";
    finding.limit_text = "od at least 45 mm, wall at least 2.5 mm";
    const LabelBlock without = findingBlock(finding, kInMm, paletteOf(Tone::light), 1);
    EXPECT_FALSE(wordsOn(without).contains(QStringLiteral("Beware")));
    finding.beware = "The nominal wall of 2.5 mm (0.0984 in) passes; the mill may deliver down to 2.25 mm.";
    const LabelBlock with = findingBlock(finding, kInMm, paletteOf(Tone::light), 1);
    expectReadable(with);
    EXPECT_TRUE(wordsOn(with).contains(QStringLiteral("Beware: The nominal wall of 2.5 mm")));
    EXPECT_TRUE(wordsOn(with).contains(QStringLiteral("2.25 mm.")));
    EXPECT_GT(with.size.height(), without.size.height());
}

TEST(LabelBlocks, ALongWordStandsAloneAndMakesTheCardWiderRatherThanBeingLost) {
    Finding finding;
    finding.title = "Weld " + std::string(60, 'w') + " all round";
    finding.answer = Answer::ask_person;
    finding.missing = "Is it?";
    const LabelBlock card = findingBlock(finding, kInMm, paletteOf(Tone::light), 1, 200);
    expectReadable(card);
    EXPECT_TRUE(wordsOn(card).contains(QString(60, QLatin1Char('w'))));
}

TEST(LabelBlocks, PaintedTheWordsAreOnPaperAndThePaperEndsWithTheBlock) {
    for (const Tone tone : {Tone::light, Tone::dark}) {
        const Palette palette = paletteOf(tone);
        const LabelBlock block =
            nameBlock(QStringLiteral("Main hoop"), QStringLiteral("Ø45 × 2.5"), Qt::red, palette, 2);
        QImage image(400, 120, QImage::Format_RGB32);
        image.fill(QColor(0, 90, 255));
        QPainter painter(&image);
        paintBlock(painter, block, QPointF(40, 30), palette);
        painter.end();
        const auto paper = [&](int x, int y) {
            const QColor c = image.pixelColor(x, y);
            return std::abs(c.lightness() - palette.card.lightness()) < 25;
        };
        EXPECT_TRUE(paper(44, 30 + 22));
        EXPECT_EQ(image.pixelColor(20, 52), QColor(0, 90, 255));
        EXPECT_EQ(image.pixelColor(int(40 + block.size.width()) + 6, 52), QColor(0, 90, 255));
        int ink = 0, chip = 0;
        for (int y = 30; y < 74; ++y) {
            for (int x = 40; x < 40 + int(block.size.width()); ++x) {
                const QColor c = image.pixelColor(x, y);
                ink += std::abs(c.lightness() - palette.ink.lightness()) < 40;
                chip += c.red() > 200 && c.green() < 60 && c.blue() < 60;
            }
        }
        EXPECT_GT(ink, 150);
        EXPECT_GT(chip, 100) << "a chip of 8 x 24";
    }
}

}  // namespace
}  // namespace hoopwright
