#include "app/view/marks.h"

#include <gtest/gtest.h>

#include <QImage>
#include <QPainter>
#include <array>
#include <cmath>

namespace hoopwright {
namespace {

constexpr std::array kAnswers{Answer::meets, Answer::fails, Answer::ask_person, Answer::cannot_tell,
                              Answer::does_not_apply};

QImage markImage(Answer answer, int side_px) {
    QImage image(side_px, side_px, QImage::Format_ARGB32_Premultiplied);
    image.fill(Qt::transparent);
    QPainter painter(&image);
    paintMark(painter, QRectF(0, 0, side_px, side_px), answer, paletteOf(Tone::light));
    return image;
}

// Share of pixels that one silhouette has and the other has not, of all pixels either has.
double unlikeShape(const QImage& a, const QImage& b) {
    int either = 0, one = 0;
    for (int y = 0; y < a.height(); ++y)
        for (int x = 0; x < a.width(); ++x) {
            const bool in_a = qAlpha(a.pixel(x, y)) > 127, in_b = qAlpha(b.pixel(x, y)) > 127;
            either += in_a || in_b;
            one += in_a != in_b;
        }
    return either ? static_cast<double>(one) / either : 0;
}

TEST(Marks, AreToldApartByTheirSilhouetteAlone) {
    for (const int side : {14, 20, 40})
        for (const Answer a : kAnswers)
            for (const Answer b : kAnswers) {
                if (a == b) continue;
                EXPECT_GT(unlikeShape(markImage(a, side), markImage(b, side)), 0.2)
                    << answerWord(a) << " and " << answerWord(b) << " at " << side;
            }
}

TEST(Marks, StayInsideTheirBox) {
    for (const Answer answer : kAnswers) {
        QImage image(60, 60, QImage::Format_ARGB32_Premultiplied);
        image.fill(Qt::transparent);
        QPainter painter(&image);
        paintMark(painter, QRectF(20, 10, 20, 40), answer, paletteOf(Tone::dark));
        painter.end();
        bool drawn = false;
        for (int y = 0; y < 60; ++y)
            for (int x = 0; x < 60; ++x) {
                const int alpha = qAlpha(image.pixel(x, y));
                drawn |= alpha > 0;
                const bool inside = x >= 19 && x <= 40 && y >= 19 && y <= 40;
                EXPECT_TRUE(inside || alpha == 0) << answerWord(answer) << " at " << x << ", " << y;
            }
        EXPECT_TRUE(drawn);
    }
}

TEST(Marks, LeaveThePainterAsTheyFoundIt) {
    QImage image(20, 20, QImage::Format_ARGB32_Premultiplied);
    QPainter painter(&image);
    painter.setPen(Qt::blue);
    for (const Answer answer : kAnswers)
        paintMark(painter, QRectF(0, 0, 20, 20), answer, paletteOf(Tone::light));
    EXPECT_EQ(painter.pen().color(), QColor(Qt::blue));
    EXPECT_EQ(painter.brush().style(), Qt::NoBrush);
}

TEST(Figures, AreAllAsWideAsEachOther) {
    const QFont font = typeFont(TypeSize::body);
    const double ones = figuresWidth(font, "1111.1"), eights = figuresWidth(font, "8888.8");
    EXPECT_NEAR(ones, eights, 1e-9);
    EXPECT_GT(figuresWidth(font, "812.4 mm"), figuresWidth(font, "812.4"));
}

TEST(Figures, EndAtTheRightEdgeOfTheirBox) {
    QImage image(120, 24, QImage::Format_ARGB32_Premultiplied);
    image.fill(Qt::white);
    QPainter painter(&image);
    painter.setFont(typeFont(TypeSize::body));
    drawFigures(painter, QRectF(0, 0, 100, 24), Qt::AlignRight | Qt::AlignVCenter, "812.4");
    painter.end();
    int rightmost = -1, leftmost = 120;
    for (int y = 0; y < 24; ++y)
        for (int x = 0; x < 120; ++x)
            if (qGray(image.pixel(x, y)) < 128)
                rightmost = std::max(rightmost, x), leftmost = std::min(leftmost, x);
    EXPECT_LE(rightmost, 100);
    EXPECT_GE(rightmost, 94);
    EXPECT_NEAR(rightmost - leftmost, figuresWidth(typeFont(TypeSize::body), "812.4"), 4);
}

}  // namespace
}  // namespace hoopwright
