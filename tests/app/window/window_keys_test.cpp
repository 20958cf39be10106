// The window by keys alone: every pane, every value, every menu, and always a way back.
#include <QComboBox>
#include <QLineEdit>
#include <QMenu>
#include <QMenuBar>
#include <QSettings>
#include <set>

#include "app/window/find_box.h"
#include "app/window/findings.h"
#include "app/window/guide.h"
#include "window_fixture.h"

namespace hoopwright {
namespace {

class WindowKeysTest : public WindowTest {
protected:
    static QWidget* focused() { return QApplication::focusWidget(); }
    void key(int key, Qt::KeyboardModifiers keys = {}) {
        QTest::keyClick(focused() ? focused() : window_.get(), Qt::Key(key), keys);
        settle(20);
    }
    /// F6 until the keyboard is in that widget.
    bool paneTo(QWidget* pane) {
        for (int n = 0; n < 7; ++n) {
            if (focused() && (focused() == pane || pane->isAncestorOf(focused()))) return true;
            key(Qt::Key_F6);
        }
        return false;
    }
};

TEST_F(WindowKeysTest, F6GoesRoundEveryPaneAndShiftF6BackAgain) {
    desk().selection.set({Kind::member, "belt_bar"});
    settle();
    list()->setFocus();
    std::vector<QWidget*> way;
    for (int n = 0; n < 8; ++n) {
        way.push_back(focused());
        key(Qt::Key_F6);
        if (focused() == list()) break;
    }
    EXPECT_GE(way.size(), 4u) << "list, view, findings, details at the least";
    EXPECT_EQ(focused(), list());
    for (std::size_t n = way.size(); n-- > 0;) {
        key(Qt::Key_F6, Qt::ShiftModifier);
        EXPECT_EQ(focused(), way[n]) << n;
    }
}

TEST_F(WindowKeysTest, TabComesToEverythingThatCanBeFocusedAndRound) {
    desk().selection.set({Kind::member, "belt_bar"});
    settle();
    list()->setFocus();
    std::set<QWidget*> reached;
    QWidget* first = focused();
    for (int n = 0; n < 400; ++n) {
        key(Qt::Key_Tab);
        if (focused() == first) break;
        reached.insert(focused());
    }
    EXPECT_EQ(focused(), first) << "round";
    for (QWidget* one : window_->findChildren<QWidget*>()) {
        if (!(one->focusPolicy() & Qt::TabFocus) || !one->isVisible() || !one->isEnabled() || one == first)
            continue;
        if (one->focusProxy() || one->inherits("QMenuBar")) continue;
        // Of buttons that exclude each other one is reached by Tab, the others by arrows.
        const auto* button = qobject_cast<QAbstractButton*>(one);
        if (button && button->autoExclusive() && !button->isChecked()) continue;
        EXPECT_TRUE(reached.count(one))
            << one->metaObject()->className() << " " << one->accessibleName().toStdString();
    }
}

TEST_F(WindowKeysTest, ArrowsInTheListChooseAndEnterGoesToTheBarsValues) {
    list()->setFocus();
    click(list(), rowCalled(list(), QStringLiteral("Main hoop")));
    const int from = list()->currentIndex().row();
    key(Qt::Key_Down);
    EXPECT_GT(list()->currentIndex().row(), from);
    ASSERT_NE(desk().selection.last(), nullptr);
    EXPECT_EQ(desk().selection.all().size(), 1u);
    EXPECT_NE(desk().selection.last()->id, "main_hoop");
    key(Qt::Key_Down, Qt::ShiftModifier);
    EXPECT_EQ(desk().selection.all().size(), 2u) << "Shift takes the next along";
    key(Qt::Key_Up);
    const Vec3 eye = view().view().eye;
    key(Qt::Key_Return);
    ASSERT_NE(focused(), nullptr);
    EXPECT_TRUE(window_->details().isAncestorOf(focused()));
    EXPECT_TRUE(waitFor([&] { return (view().view().eye - eye).norm() > 1; })) << "and the view flies there";
}

TEST_F(WindowKeysTest, AHostIsPickedFromTheListWithEnter) {
    desk().selection.set({Kind::member, "belt_bar"});
    settle();
    QPushButton* pick = button(QStringLiteral("Belt bar, last end, pick in view"));
    ASSERT_NE(pick, nullptr);
    pick->setFocus();
    key(Qt::Key_Space);
    ASSERT_TRUE(view().asking());
    list()->setFocus();
    list()->selectionModel()->setCurrentIndex(rowCalled(list(), QStringLiteral("Dash bar")),
                                              QItemSelectionModel::NoUpdate);
    key(Qt::Key_Return);
    EXPECT_FALSE(view().asking());
    EXPECT_EQ(std::get<Landing>(job().cage.member("belt_bar")->path[1].place).host, "dash_bar");
}

TEST_F(WindowKeysTest, DeleteInAFieldTakesALetterNotTheBar) {
    desk().selection.set({Kind::member, "belt_bar"});
    ValueField* height = field(QStringLiteral("Belt bar, first end, height"));
    ASSERT_NE(height, nullptr);
    height->setFocus();
    settle();
    key(Qt::Key_Home);
    key(Qt::Key_Delete);
    EXPECT_NE(job().cage.member("belt_bar"), nullptr);
    EXPECT_EQ(height->text(), QStringLiteral("15.0"));
    key(Qt::Key_Escape);
    EXPECT_EQ(height->text(), QStringLiteral("515.0"));
    EXPECT_NE(desk().selection.last(), nullptr) << "the first Escape is the field's";
    key(Qt::Key_Escape);
    EXPECT_EQ(desk().selection.last(), nullptr) << "the second lets go";
}

TEST_F(WindowKeysTest, LettersAndDigitsInAFieldAreNotKeysOfTheView) {
    desk().selection.set({Kind::member, "belt_bar"});
    ValueField* height = field(QStringLiteral("Belt bar, first end, height"));
    ASSERT_NE(height, nullptr);
    land();
    const View before = view().view();
    height->setFocus();
    for (const int one : {Qt::Key_1, Qt::Key_2, Qt::Key_F, Qt::Key_O, Qt::Key_Plus}) key(one);
    settle(500);
    EXPECT_EQ((view().view().eye - before.eye).norm(), 0);
    EXPECT_EQ(view().orthographic(), before.orthographic_height_mm > 0);
    key(Qt::Key_Escape);
}

TEST_F(WindowKeysTest, UndoAndRedoReachBackFromAnyPane) {
    for (QWidget* pane : {static_cast<QWidget*>(list()), static_cast<QWidget*>(&view()),
                          static_cast<QWidget*>(window_->fallsShort().list())}) {
        desk().document.edit(QStringLiteral("reach"), [](Job& next) { next.cage.node_reach_mm = 71; });
        pane->setFocus();
        key(Qt::Key_Z, Qt::ControlModifier);
        EXPECT_EQ(job().cage.node_reach_mm, 50) << pane->accessibleName().toStdString();
        key(Qt::Key_Z, Qt::ControlModifier | Qt::ShiftModifier);
        EXPECT_EQ(job().cage.node_reach_mm, 71);
        key(Qt::Key_Z, Qt::ControlModifier);
    }
    desk().selection.set({Kind::member, "belt_bar"});
    ValueField* height = field(QStringLiteral("Belt bar, first end, height"));
    ASSERT_NE(height, nullptr);
    type(height, QStringLiteral("530"));
    key(Qt::Key_Z, Qt::ControlModifier);
    EXPECT_EQ(std::get<Landing>(job().cage.member("belt_bar")->path[0].place).value, 515)
        << "from the field itself, once nothing is being typed";
    EXPECT_EQ(height->text(), QStringLiteral("515.0"));
}

TEST_F(WindowKeysTest, CtrlTGoesToTheTapeAndEnterTakesTheValue) {
    desk().selection.set({Kind::member, "belt_bar"});
    ValueField* height = field(QStringLiteral("Belt bar, first end, height"));
    ASSERT_NE(height, nullptr);
    height->setFocus();
    settle();
    key(Qt::Key_T, Qt::ControlModifier);
    ASSERT_EQ(focused(), window_->tapeStrip().field());
    QTest::keyClicks(focused(), QStringLiteral("20 1/4"));
    key(Qt::Key_Return);
    EXPECT_NEAR(std::get<Landing>(job().cage.member("belt_bar")->path[0].place).value, 514.35, 1e-9);
}

TEST_F(WindowKeysTest, CtrlUGoesRoundTheUnitsAndBack) {
    const UnitsShown start = desk().units();
    std::set<UnitsShown> seen;
    for (int n = 0; n < 3; ++n) {
        key(Qt::Key_U, Qt::ControlModifier);
        seen.insert(desk().units());
    }
    EXPECT_EQ(seen.size(), 3u);
    EXPECT_EQ(desk().units(), start);
}

TEST_F(WindowKeysTest, FindGivesTheKeyboardBackOnEscape) {
    list()->setFocus();
    key(Qt::Key_F, Qt::ControlModifier);
    auto* find = window_->findChild<FindBox*>();
    ASSERT_EQ(focused(), find);
    QTest::keyClicks(find, QStringLiteral("roof"));
    key(Qt::Key_Escape);
    EXPECT_TRUE(find->text().isEmpty());
    EXPECT_EQ(focused(), list()) << "where it was before";
}

TEST_F(WindowKeysTest, EveryMenuOpensByItsLetter) {
    auto* bar = window_->findChild<QMenuBar*>();
    ASSERT_NE(bar, nullptr);
    std::set<QChar> letters;
    for (QAction* one : bar->actions()) {
        const qsizetype at = one->text().indexOf(QLatin1Char('&'));
        ASSERT_GE(at, 0) << one->text().toStdString();
        const QChar letter = one->text()[at + 1].toLower();
        EXPECT_TRUE(letters.insert(letter).second) << "two menus answer to the same letter";
        list()->setFocus();
        QTest::keyClick(window_.get(), Qt::Key(letter.toUpper().unicode()), Qt::AltModifier);
        settle(30);
        EXPECT_EQ(QApplication::activePopupWidget(), one->menu()) << one->text().toStdString();
        if (QWidget* popup = QApplication::activePopupWidget()) popup->close();
        settle(20);
    }
    EXPECT_GE(letters.size(), 6u);
}

TEST_F(WindowKeysTest, FindingsByF4AreFlownToAndEscapeLetsGo) {
    ASSERT_TRUE(window_->openFile(demo_.root() / "cages" / "faults" / "hillclimb_saloon.yaml"));
    land();
    Vec3 eye = view().view().eye;
    int flown = 0;
    for (int n = 0; n < 3; ++n) {
        key(Qt::Key_F4);
        ASSERT_NE(desk().selection.last(), nullptr);
        EXPECT_EQ(desk().selection.last()->kind, Kind::finding);
        EXPECT_TRUE(view().showsEvidence());
        const Finding* finding = findFinding(desk().document.report(), desk().selection.last()->id);
        ASSERT_NE(finding, nullptr);
        // What is about the whole cage is seen from where the whole cage is seen already.
        if (!finding->evidence.members.empty()) {
            EXPECT_TRUE(waitFor([&] { return (view().view().eye - eye).norm() > 1; })) << n;
            ++flown;
        }
        EXPECT_TRUE(waitFor([&] { return !view().flying(); }));
        eye = view().view().eye;
    }
    EXPECT_GE(flown, 2);
    const std::string third = desk().selection.last()->id;
    key(Qt::Key_F4, Qt::ShiftModifier);
    EXPECT_NE(desk().selection.last()->id, third);
    key(Qt::Key_Escape);
    EXPECT_FALSE(view().showsEvidence());
    EXPECT_EQ(desk().selection.last(), nullptr);
}

TEST_F(WindowKeysTest, ABarIsAddedFromTheDialogWithoutAMouse) {
    desk().selection.set({{Kind::member, "side_bar.left"}, {Kind::member, "side_bar.right"}});
    settle();
    const std::size_t bars = job().cage.members.size();
    bool asked = false;
    QTimer::singleShot(200, [&] {
        QWidget* dialog = QApplication::activeModalWidget();
        if (!dialog) return;
        asked = waitForActive(dialog);
        QTest::keyClicks(QApplication::focusWidget(), QStringLiteral("dash bar"));
        QTest::keyClick(QApplication::focusWidget(), Qt::Key_Return);
        if (QApplication::activeModalWidget() == dialog) dialog->close();
    });
    key(Qt::Key_B, Qt::ControlModifier);
    settle(100);
    ASSERT_TRUE(asked);
    ASSERT_EQ(job().cage.members.size(), bars + 1);
    EXPECT_EQ(job().cage.members.back().role, "dash_bar");
}

TEST_F(WindowKeysTest, PanesAreFoldedAndUnfoldedByKeysAndTheViewTakesTheRoom) {
    const int before = window_->viewHost().width();
    key(Qt::Key_F9);
    settle();
    EXPECT_FALSE(window_->leftPages().isVisible());
    const int without_list = window_->viewHost().width();
    EXPECT_GT(without_list, before);
    key(Qt::Key_F10);
    settle();
    EXPECT_FALSE(window_->rightPanel().isVisible());
    EXPECT_GT(window_->viewHost().width(), without_list);
    key(Qt::Key_F9);
    key(Qt::Key_F10);
    settle();
    EXPECT_EQ(window_->viewHost().width(), before);
}

}  // namespace
}  // namespace hoopwright
