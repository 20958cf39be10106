// The small controls and the tape: what typing, stepping, escaping and dragging do to one value.
#include "app/window/fields.h"

#include <gmock/gmock.h>

#include <QSignalSpy>
#include <QTest>

#include "app/window/tape_strip.h"

namespace hoopwright {
namespace {

using testing::HasSubstr;

/// A field on a number of its own.
class Fields : public testing::Test {
protected:
    ValueField& make(Dimension dimension = Dimension::length, bool may_be_empty = false) {
        ValueField::Value value;
        value.label = QStringLiteral("Thing, size");
        value.dimension = dimension;
        value.may_be_empty = may_be_empty;
        value.get = [this] { return number_; };
        value.set = [this](std::optional<double> to, const QByteArray& key) {
            number_ = to;
            keys_.push_back(key);
        };
        field_ = std::make_unique<ValueField>(desk_, value);
        field_->resize(200, 28);
        field_->show();
        return *field_;
    }
    void type(const char* words, Qt::Key end = Qt::Key_Return) {
        field_->selectAll();
        QTest::keyClicks(field_.get(), QString::fromUtf8(words));
        QTest::keyClick(field_.get(), end);
    }

    Desk desk_;
    std::optional<double> number_ = 100;
    std::vector<QByteArray> keys_;
    std::unique_ptr<ValueField> field_;
};

TEST_F(Fields, ALengthIsTakenAsItIsSpokenInAShop) {
    make();
    // 25.4 mm to the inch and 304.8 to the foot exactly (international yard and pound agreement, 1959).
    const std::pair<const char*, double> entries[] = {
        {"812.4", 812.4}, {"1-5/8\"", 41.275}, {"1 5/8 in", 41.275}, {"4.2 cm", 42},
        {"3/4", 19.05},   {"2' 3\"", 685.8},   {"0.5 m", 500},       {"-12", -12}};
    for (const auto& [words, mm] : entries) {
        type(words);
        EXPECT_NEAR(*number_, mm, 1e-9) << words;
        EXPECT_TRUE(field_->complaint().isEmpty()) << words;
    }
}

TEST_F(Fields, EntriesThatMakeNoSenseSayWhyAndStayForMending) {
    make();
    for (const char* words : {"8l2", "12 apples", "1/0", "1e400", "- 3 -", "12,5 kg"}) {
        type(words);
        EXPECT_EQ(number_, 100) << words;
        EXPECT_FALSE(field_->complaint().isEmpty()) << words;
        EXPECT_EQ(field_->text(), QString::fromUtf8(words)) << "what was typed is still there";
        EXPECT_TRUE(field_->property("wrong").toBool()) << words;
    }
    type("105");
    EXPECT_EQ(number_, 105);
    EXPECT_TRUE(field_->complaint().isEmpty());
    EXPECT_FALSE(field_->property("wrong").toBool());
}

TEST_F(Fields, EscapePutsTheOldValueBack) {
    make();
    type("777", Qt::Key_Escape);
    EXPECT_EQ(number_, 100);
    EXPECT_EQ(field_->text(), QStringLiteral("100.0"));
    EXPECT_TRUE(keys_.empty());
}

TEST_F(Fields, EnterOnAnUntouchedFieldIsNoEdit) {
    make();
    number_ = 100.00004;  // more than the field shows
    field_->refresh();
    QTest::keyClick(field_.get(), Qt::Key_Return);
    EXPECT_TRUE(keys_.empty());
    EXPECT_EQ(number_, 100.00004);
}

TEST_F(Fields, UpAndDownStepByAMillimetreOrASixteenth) {
    make();
    QTest::keyClick(field_.get(), Qt::Key_Up);
    EXPECT_EQ(number_, 101);
    QTest::keyClick(field_.get(), Qt::Key_Down, Qt::ShiftModifier);
    EXPECT_EQ(number_, 91);
    desk_.setUnits(UnitsShown::in);
    QTest::keyClick(field_.get(), Qt::Key_Up);
    EXPECT_DOUBLE_EQ(*number_, 91 + 25.4 / 16);
    ASSERT_EQ(keys_.size(), 3u);
    EXPECT_FALSE(keys_[0].isEmpty());
    EXPECT_EQ(keys_[0], keys_[2]) << "steps in a row are one undo";
}

TEST_F(Fields, AnAngleStepsByADegree) {
    number_ = 0.5;
    make(Dimension::angle);
    QTest::keyClick(field_.get(), Qt::Key_Up);
    EXPECT_NEAR(*number_, 0.5 + 0.017453292519943295, 1e-12);
}

TEST_F(Fields, TheLeastIsSaidInThePersonsUnitAndStepsStopThere) {
    make().setLeast(0);
    desk_.setUnits(UnitsShown::in);
    field_->refresh();
    type("-1");
    EXPECT_EQ(number_, 100);
    EXPECT_THAT(field_->complaint().toStdString(),
                HasSubstr("-1.000 in is too little: 0.000 in is the least"));
    desk_.setUnits(UnitsShown::mm);
    type("0");
    EXPECT_EQ(number_, 0);
    QTest::keyClick(field_.get(), Qt::Key_Down);
    EXPECT_EQ(number_, 0);
}

TEST_F(Fields, OnlyAnOptionalValueMayBeEmptied) {
    make();
    field_->selectAll();
    QTest::keyClick(field_.get(), Qt::Key_Delete);
    QTest::keyClick(field_.get(), Qt::Key_Return);
    EXPECT_EQ(number_, 100);
    EXPECT_FALSE(field_->complaint().isEmpty());
    make(Dimension::length, true);
    field_->selectAll();
    QTest::keyClick(field_.get(), Qt::Key_Delete);
    QTest::keyClick(field_.get(), Qt::Key_Return);
    EXPECT_EQ(number_, std::nullopt);
    EXPECT_TRUE(field_->text().isEmpty());
}

TEST_F(Fields, WhatIsBeingTypedIsNotOverwrittenByTheJob) {
    make();
    QTest::keyClicks(field_.get(), QStringLiteral("1"));
    type("abc");
    number_ = 250;
    field_->refresh();
    EXPECT_EQ(field_->text(), QStringLiteral("abc"));
    QTest::keyClick(field_.get(), Qt::Key_Escape);
    EXPECT_EQ(field_->text(), QStringLiteral("250.0"));
}

TEST_F(Fields, ATextFieldRefusesWithASentence) {
    QString held = QStringLiteral("old");
    TextField field(
        QStringLiteral("Thing, name"), [&] { return held; },
        [&](const QString& to) {
            if (to.isEmpty()) return QStringLiteral("It needs a name.");
            held = to;
            return QString();
        });
    QSignalSpy complaints(&field, &TextField::complained);
    field.selectAll();
    QTest::keyClick(&field, Qt::Key_Delete);
    QTest::keyClick(&field, Qt::Key_Return);
    EXPECT_EQ(held, QStringLiteral("old"));
    ASSERT_FALSE(complaints.isEmpty());
    EXPECT_EQ(complaints.last().front().toString(), QStringLiteral("It needs a name."));
    QTest::keyClicks(&field, QStringLiteral("new"));
    QTest::keyClick(&field, Qt::Key_Return);
    EXPECT_EQ(held, QStringLiteral("new"));
}

TEST_F(Fields, AChoiceFollowsTheJobAndTheWheelLeavesItAlone) {
    std::string held = "b";
    ChoiceField field(
        desk_, QStringLiteral("Thing, kind"),
        [] {
            return std::vector<ChoiceField::Option>{{"a", QStringLiteral("first")},
                                                    {"b", QStringLiteral("second")}};
        },
        [&] { return held; }, [&](const std::string& to) { held = to; });
    EXPECT_EQ(field.currentText(), QStringLiteral("second"));
    EXPECT_EQ(field.accessibleName(), QStringLiteral("Thing, kind"));
    held = "a";
    field.refresh();
    EXPECT_EQ(field.currentText(), QStringLiteral("first"));
    QWheelEvent wheel(QPointF(5, 5), QPointF(5, 5), {}, QPoint(0, -120), Qt::NoButton, {}, Qt::NoScrollPhase,
                      false);
    QCoreApplication::sendEvent(&field, &wheel);
    EXPECT_EQ(held, "a") << "scrolling a form past it must not change a bar";
}

/// The tape with a number of its own on it.
class Tapes : public testing::Test {
protected:
    Tapes() {
        strip_.resize(900, 56);
        strip_.show();
        desk_.putOnTape({QStringLiteral("Belt bar, height"), [this] { return number_; },
                         [this](double mm, const QByteArray& key) {
                             number_ = mm;
                             keys_.push_back(key);
                         }});
        QCoreApplication::processEvents();
    }
    void drag(int by, Qt::KeyboardModifiers keys = {}) {
        const QPoint from(60, 20);
        QTest::mousePress(&strip_, Qt::LeftButton, keys, from);
        QMouseEvent move(QEvent::MouseMove, QPointF(from + QPoint(by, 0)),
                         strip_.mapToGlobal(QPointF(from + QPoint(by, 0))), Qt::NoButton, Qt::LeftButton,
                         keys);
        QCoreApplication::sendEvent(&strip_, &move);
        QTest::mouseRelease(&strip_, Qt::LeftButton, keys, from + QPoint(by, 0));
    }

    Desk desk_;
    TapeStrip strip_{desk_};
    std::optional<double> number_ = 500;
    std::vector<QByteArray> keys_;
};

TEST_F(Tapes, ShowsTheValueInHandAndTakesTyping) {
    EXPECT_TRUE(strip_.field()->isVisible());
    EXPECT_EQ(strip_.field()->text(), QStringLiteral("500.0"));
    EXPECT_EQ(strip_.field()->accessibleName(), QStringLiteral("Belt bar, height"));
    strip_.field()->selectAll();
    QTest::keyClicks(strip_.field(), QStringLiteral("+1/16"));
    QTest::keyClick(strip_.field(), Qt::Key_Return);
    EXPECT_DOUBLE_EQ(*number_, 500 + 25.4 / 16);
    strip_.field()->selectAll();
    QTest::keyClicks(strip_.field(), QStringLiteral("less 1/16"));
    QTest::keyClick(strip_.field(), Qt::Key_Return);
    EXPECT_DOUBLE_EQ(*number_, 500);
}

TEST_F(Tapes, DraggingMovesTheValueAndShiftMovesItTenTimesFiner) {
    drag(80);
    const double coarse = *number_ - 500;
    EXPECT_GT(std::abs(coarse), 5);
    number_ = 500;
    drag(80, Qt::ShiftModifier);
    EXPECT_NEAR(std::abs(*number_ - 500), std::abs(coarse) / 10, 1.0);
    ASSERT_GE(keys_.size(), 2u);
    EXPECT_NE(keys_.front(), keys_.back()) << "each drag is an undo of its own";
}

TEST_F(Tapes, AWrongEntryIsSaidAndChangesNothing) {
    QSignalSpy said(&desk_, &Desk::say);
    strip_.field()->selectAll();
    QTest::keyClicks(strip_.field(), QStringLiteral("about 5"));
    QTest::keyClick(strip_.field(), Qt::Key_Return);
    EXPECT_EQ(number_, 500);
    EXPECT_EQ(said.size(), 1);
}

TEST_F(Tapes, WhenTheThingIsGoneTheTapeIsBlank) {
    number_.reset();
    desk_.putOnTape(desk_.tape());
    EXPECT_FALSE(strip_.field()->isVisible());
}

}  // namespace
}  // namespace hoopwright
