// The tape as a steel tape: its marks stand where the number says, a drag moves them with the hand, one drag
// is one undo.
#include <QFocusEvent>
#include <QMouseEvent>
#include <random>

#include "app/window/tape_strip.h"
#include "desk_fixture.h"

namespace hoopwright {
namespace {

using testing::HasSubstr;

constexpr int kWidth = 1100, kMiddle = kWidth / 2;
constexpr double kPixelsPerMm = 4;  // as the tape says in its header: four pixels a millimetre

class Tape : public DeskTest {
protected:
    Tape() {
        strip_.resize(kWidth, strip_.height());
        strip_.show();
        QCoreApplication::processEvents();
    }
    /// Puts the height at which the belt bar meets the hoop on the tape.
    void takeHeight() {
        choose(Kind::member, "belt_bar");
        QFocusEvent in(QEvent::FocusIn, Qt::TabFocusReason);
        QCoreApplication::sendEvent(control<ValueField>(QStringLiteral("Belt bar, first end, height")), &in);
        QCoreApplication::processEvents();
    }
    double height() const { return std::get<Landing>(member("belt_bar").path[0].place).value; }
    void setHeight(double mm) {
        desk_.document.edit(QStringLiteral("height"), [mm](Job& next) {
            std::get<Landing>(findMember(next.cage, "belt_bar")->path[0].place).value = mm;
        });
    }
    void press(int x, Qt::KeyboardModifiers keys = {}) {
        QTest::mousePress(&strip_, Qt::LeftButton, keys, {x, 6});
    }
    void moveTo(int x, Qt::KeyboardModifiers keys = {}) {
        const QPointF at(x, 6);
        QMouseEvent move(QEvent::MouseMove, at, strip_.mapToGlobal(at), Qt::NoButton, Qt::LeftButton, keys);
        QCoreApplication::sendEvent(&strip_, &move);
    }
    void letGo(int x) { QTest::mouseRelease(&strip_, Qt::LeftButton, {}, {x, 6}); }
    /// How far a mark reaches down from the top edge at that pixel column; 0: there is none.
    static int markFromTop(const QImage& picture, int x) {
        int down = 0;
        while (down < 30 && picture.pixelColor(x, down).lightness() < 90) ++down;
        return down;
    }
    static int markFromBottom(const QImage& picture, int x) {
        int up = 0;
        while (up < 30 && picture.pixelColor(x, picture.height() - 1 - up).lightness() < 90) ++up;
        return up;
    }

    TapeStrip strip_{desk_};
};

TEST_F(Tape, AValueWhoseRowIsGoneIsTakenOff) {
    choose(Kind::member, "belt_bar");
    desk_.document.edit(QStringLiteral("free"), [](Job& next) {
        findMember(next.cage, "belt_bar")->path[0].place = FixedPoint{{-130, 500, 515}};
    });
    QCoreApplication::processEvents();
    QFocusEvent in(QEvent::FocusIn, Qt::TabFocusReason);
    QCoreApplication::sendEvent(control<ValueField>(QStringLiteral("Belt bar, first end, at y")), &in);
    ASSERT_EQ(desk_.tape().label, QStringLiteral("Belt bar, first end, at y"));
    undo();
    QCoreApplication::processEvents();
    EXPECT_NE(desk_.tape().label, QStringLiteral("Belt bar, first end, at y"));
    EXPECT_EQ(desk_.tape().get(), std::optional(height())) << "what the form puts on it first";
}

TEST_F(Tape, MillimetresStandFourPixelsApartFivesAndTensLonger) {
    takeHeight();
    setHeight(500);
    QCoreApplication::processEvents();
    const QImage picture = strip_.grab().toImage();
    // Left of the plate in the middle: 412.5 to 460 mm.
    for (int mm = 380; mm < 420; ++mm) {
        const int x = kMiddle + int(std::lround((mm - 500) * kPixelsPerMm));
        if (mm % 10 == 5) {
            EXPECT_GE(markFromTop(picture, x), 10) << mm << ", perhaps with a digit below";
        } else {
            EXPECT_EQ(markFromTop(picture, x), mm % 10 == 0 ? 14 : 6) << mm;
        }
        EXPECT_EQ(markFromTop(picture, x + 2), 0) << "between " << mm << " and the next";
    }
}

TEST_F(Tape, InInchesSixteenthsStandAlongTheLowerEdge) {
    takeHeight();
    desk_.setUnits(UnitsShown::in);
    setHeight(20 * 25.4);
    QCoreApplication::processEvents();
    const QImage picture = strip_.grab().toImage();
    // A sixteenth is 25.4 / 16 mm = 6.35 pixels here; 15 to 16 inches lie left of the plate.
    for (int n = 15 * 16; n < 16 * 16; ++n) {
        const int x = int(std::round(kWidth / 2.0 + (n / 16.0 - 20) * 25.4 * kPixelsPerMm));
        const int part = n % 16;
        const int length = part == 0 ? 18 : part % 8 == 0 ? 13 : part % 4 == 0 ? 10 : part % 2 == 0 ? 7 : 4;
        if (part >= 1 && part <= 4) {
            EXPECT_GE(markFromBottom(picture, x), length) << n << "/16, perhaps with a digit above";
        } else {
            EXPECT_NEAR(markFromBottom(picture, x), length, 1) << n << "/16";
        }
        EXPECT_EQ(markFromTop(picture, x), 0) << "no millimetres";
    }
}

TEST_F(Tape, BothUnitsHaveAnEdgeEach) {
    takeHeight();
    desk_.setUnits(UnitsShown::both);
    setHeight(508);
    QCoreApplication::processEvents();
    const QImage picture = strip_.grab().toImage();
    EXPECT_EQ(markFromTop(picture, kMiddle + int((410 - 508) * kPixelsPerMm)), 14);
    EXPECT_EQ(markFromBottom(picture, int(std::round(kWidth / 2.0 - 4 * 25.4 * kPixelsPerMm))), 18)
        << "16 in";
}

TEST_F(Tape, TheStripFollowsTheHandPixelByPixel) {
    takeHeight();
    setHeight(515);
    const int from = 300;
    press(from);
    for (const int by : {4, 40, 80, 20, -60, 0, 120}) {
        moveTo(from + by);
        EXPECT_NEAR(height(), 515 - by / kPixelsPerMm, 0.25) << by;  // to half a millimetre
        EXPECT_NEAR(std::fmod(height() * 2, 1.0), 0, 1e-9);
    }
    letGo(from + 120);
    EXPECT_EQ(height(), 485);
    moveTo(from + 400);
    EXPECT_EQ(height(), 485) << "let go is let go";
}

TEST_F(Tape, DragsByChanceAreOneUndoEachAndUndoneToTheStartNothingIsLeft) {
    takeHeight();
    const Job start = job();
    std::mt19937 random(2024);
    std::uniform_int_distribution<int> where(10, kWidth - 10), count(1, 25), coin(0, 3);
    int drags = 0;
    std::vector<Job> after;
    for (int n = 0; n < 20; ++n) {
        const Job before = job();
        const auto keys =
            coin(random) == 0 ? Qt::KeyboardModifiers(Qt::ShiftModifier) : Qt::KeyboardModifiers();
        int x = where(random);
        press(x, keys);
        for (int move = count(random); move > 0; --move) moveTo(x = where(random), keys);
        letGo(x);
        if (job() == before) continue;
        ++drags;
        after.push_back(job());
        EXPECT_EQ(desk_.document.undoStack().index(), drags);
    }
    ASSERT_GT(drags, 10);
    for (std::size_t n = after.size(); n-- > 0;) {
        EXPECT_TRUE(job() == after[n]) << n;
        undo();
    }
    EXPECT_TRUE(job() == start);
    EXPECT_FALSE(desk_.document.dirty());
    while (desk_.document.undoStack().canRedo()) desk_.document.undoStack().redo();
    EXPECT_TRUE(job() == after.back());
}

TEST_F(Tape, InInchesADragStopsAtSixteenthsAndWithShiftAtSixtyFourths) {
    takeHeight();
    desk_.setUnits(UnitsShown::in);
    setHeight(515);
    press(200);
    for (const int by : {3, 17, 55, 101, -64}) {
        moveTo(200 + by);
        const double sixteenths = height() / 25.4 * 16;
        EXPECT_NEAR(sixteenths, std::round(sixteenths), 1e-9) << by;
    }
    moveTo(231, Qt::ShiftModifier);
    const double fine = height() / 25.4 * 64;
    EXPECT_NEAR(fine, std::round(fine), 1e-9);
    letGo(231);
}

TEST_F(Tape, ANumberThatMayNotBeNegativeStopsAtNothing) {
    choose(Kind::member, "main_hoop");
    QFocusEvent in(QEvent::FocusIn, Qt::TabFocusReason);
    QCoreApplication::sendEvent(control<ValueField>(QStringLiteral("Main hoop, padding")), &in);
    press(100);
    moveTo(1000);
    letGo(1000);
    EXPECT_EQ(member("main_hoop").padding_mm, 0);
}

TEST_F(Tape, TheOtherButtonsLeaveTheValueAlone) {
    takeHeight();
    const double was = height();
    QTest::mousePress(&strip_, Qt::RightButton, {}, {300, 6});
    moveTo(500);
    QTest::mouseRelease(&strip_, Qt::RightButton, {}, {500, 6});
    EXPECT_EQ(height(), was);
    EXPECT_EQ(steps(), 0);
}

TEST_F(Tape, ItNamesWhatIsOnItAndGoesBlankWithTheBar) {
    EXPECT_FALSE(strip_.field()->isVisible()) << "nothing yet";
    takeHeight();
    EXPECT_TRUE(strip_.field()->isVisible());
    EXPECT_EQ(strip_.field()->accessibleName(), QStringLiteral("Belt bar, first end, height"));
    setHeight(498.5);
    EXPECT_EQ(strip_.field()->text(), QStringLiteral("498.5")) << "it follows an edit made elsewhere";
    const Job before = job();
    desk_.document.edit(QStringLiteral("gone"), [&](Job& next) {
        deleteParts(next, desk_.document.geometry(), {"belt_bar"}, Orphans::keep_in_place);
    });
    QCoreApplication::processEvents();
    const Job without = job();
    press(300);
    moveTo(420);
    letGo(420);
    EXPECT_TRUE(job() == without) << "a drag on what is gone changes nothing";
    undo();
    EXPECT_TRUE(job() == before);
}

TEST_F(Tape, WhatIsTypedOnItIsTypedInTheField) {
    takeHeight();
    const std::pair<const char*, double> entries[] = {
        {"812.4", 812.4}, {"20 1/4", 514.35}, {"+1/16", 515.9375}, {"less 3", 512.9375}, {"1' 8\"", 508}};
    for (const auto& [words, mm] : entries) {
        type(strip_.field(), QString::fromUtf8(words));
        EXPECT_NEAR(height(), mm, 1e-9) << words;
        EXPECT_EQ(control<ValueField>(QStringLiteral("Belt bar, first end, height"))->text(),
                  strip_.field()->text());
    }
    EXPECT_EQ(steps(), 5);
    type(strip_.field(), QStringLiteral("eleven"));
    EXPECT_THAT(said_.toStdString(), HasSubstr("eleven"));
    EXPECT_EQ(steps(), 5);
}

}  // namespace
}  // namespace hoopwright
