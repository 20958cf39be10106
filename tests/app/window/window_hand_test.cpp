// A whole job by hand: real clicks and keys in the real window.
#include <QFile>
#include <QFileDialog>
#include <QLineEdit>
#include <QMenu>
#include <QMouseEvent>
#include <QSettings>
#include <QTextBrowser>
#include <set>

#include "app/window/guide.h"
#include "app/window/order_page.h"
#include "app/window/problems_page.h"
#include "window_fixture.h"

namespace hoopwright {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

class WindowHandTest : public WindowTest {
protected:
    void key(int key, Qt::KeyboardModifiers keys = {}) {
        QWidget* at = QApplication::focusWidget();
        QTest::keyClick(at ? at : window_.get(), Qt::Key(key), keys);
        settle();
    }
    /// Does `act` to the next modal dialog, once it is there.
    template <class Act>
    void whenAsked(const Act& act) {
        auto* timer = new QTimer(window_.get());
        QObject::connect(timer, &QTimer::timeout, window_.get(), [timer, act] {
            QWidget* dialog = QApplication::activeModalWidget();
            if (!dialog) return;
            timer->deleteLater();
            act(dialog);
        });
        timer->start(50);
    }
    static void press(QWidget* dialog, const QString& words) {
        for (auto* one : dialog->findChildren<QPushButton*>()) {
            if (one->text().remove(QLatin1Char('&')) == words) return one->click();
        }
        ADD_FAILURE() << "no button " << words.toStdString();
        dialog->close();
    }
    /// A pixel of the view where that bar can be picked; empty if it is hidden from here.
    std::optional<QPoint> pixelOf(const std::string& id) {
        const CageGeometry& cage = desk().document.geometry();
        const int bar = cage.member(id);
        const Centreline& line = cage.members[std::size_t(bar)].line;
        for (int n = 1; n < 60; ++n) {
            const auto place = view().positionOf(line.point(line.length_mm() * n / 60));
            if (place && view().rect().contains(place->toPoint()) && view().pickAt(*place).member == bar)
                return place->toPoint();
        }
        return std::nullopt;
    }
};

TEST_F(WindowHandTest, AClickOnABarInTheViewChoosesItAndOneBesideItLetsGo) {
    lookFrom("front");
    const auto at = pixelOf("main_hoop");
    ASSERT_TRUE(at);
    QTest::mouseClick(&view(), Qt::LeftButton, {}, *at);
    settle();
    ASSERT_NE(desk().selection.last(), nullptr);
    EXPECT_EQ(desk().selection.last()->id, "main_hoop");
    EXPECT_EQ(list()->currentIndex().data().toString(), QStringLiteral("Main hoop"));
    QTest::mouseClick(&view(), Qt::LeftButton, {}, QPoint(view().width() - 12, view().height() - 12));
    settle();
    EXPECT_EQ(desk().selection.last(), nullptr);
}

TEST_F(WindowHandTest, ADragTurnsAndNeverChoosesAndTheWheelGoesNearer) {
    land();
    const Vec3 before = view().view().eye;
    const QPoint from(view().width() / 2, view().height() / 2);
    QTest::mousePress(&view(), Qt::LeftButton, {}, from);
    for (int n = 1; n <= 20; ++n) {
        const QPointF at = from + QPoint(6 * n, 2 * n);
        QMouseEvent move(QEvent::MouseMove, at, view().mapToGlobal(at), Qt::NoButton, Qt::LeftButton, {});
        QApplication::sendEvent(&view(), &move);
    }
    QTest::mouseRelease(&view(), Qt::LeftButton, {}, from + QPoint(120, 40));
    settle();
    EXPECT_GT((view().view().eye - before).norm(), 100);
    EXPECT_TRUE(desk().selection.all().empty());
    rest();
    EXPECT_EQ(view().drawn().last, Quality::full);
}

TEST_F(WindowHandTest, AHostIsPickedInTheViewForALanding) {
    lookFrom("front");
    desk().selection.set({Kind::member, "belt_bar"});
    settle();
    QPushButton* pick = button(QStringLiteral("Belt bar, last end, pick in view"));
    ASSERT_NE(pick, nullptr);
    pick->click();
    EXPECT_TRUE(view().asking());
    const auto at = pixelOf("windshield_bar");
    ASSERT_TRUE(at);
    QTest::mouseClick(&view(), Qt::LeftButton, {}, *at);
    settle();
    EXPECT_FALSE(view().asking());
    EXPECT_EQ(std::get<Landing>(job().cage.member("belt_bar")->path[1].place).host, "windshield_bar");
    EXPECT_EQ(desk().selection.last()->id, "belt_bar") << "a pick chooses nothing";
    QTest::keyClick(window_.get(), Qt::Key_Z, Qt::ControlModifier);
    EXPECT_EQ(std::get<Landing>(job().cage.member("belt_bar")->path[1].place).host, "hoop_diagonal");
}

TEST_F(WindowHandTest, EscapeLeavesAPickAndThenWhatIsChosen) {
    desk().selection.set({Kind::member, "belt_bar"});
    settle();
    pickTwoAndInsert(desk(), "seat_bar");
    ASSERT_TRUE(view().asking());
    key(Qt::Key_Escape);
    EXPECT_FALSE(desk().picking());
    EXPECT_FALSE(desk().selection.all().empty());
    key(Qt::Key_Escape);
    EXPECT_TRUE(desk().selection.all().empty());
}

TEST_F(WindowHandTest, AJobIsDoneWithTheKeyboardAlone) {
    // Find the bar, go to its height, change it, make a copy, throw it away, undo, save: no mouse.
    key(Qt::Key_F, Qt::ControlModifier);
    QTest::keyClicks(QApplication::focusWidget(), QStringLiteral("dash bar"));
    key(Qt::Key_Return);
    ASSERT_NE(desk().selection.last(), nullptr);
    EXPECT_EQ(desk().selection.last()->id, "dash_bar");
    ValueField* height = field(QStringLiteral("Dash bar, first end, height"));
    ASSERT_NE(height, nullptr);
    QWidget* at = nullptr;
    for (int n = 0; n < 6 && !(at && window_->details().isAncestorOf(at)); ++n) {
        key(Qt::Key_F6);
        at = QApplication::focusWidget();
    }
    ASSERT_TRUE(at && window_->details().isAncestorOf(at)) << "F6 comes to the details";
    for (int n = 0; n < 30 && QApplication::focusWidget() != height; ++n) key(Qt::Key_Tab);
    ASSERT_EQ(QApplication::focusWidget(), height) << "Tab comes to every field";
    QTest::keyClicks(height, QStringLiteral("300"));
    key(Qt::Key_Return);
    EXPECT_EQ(std::get<Landing>(job().cage.member("dash_bar")->path[0].place).value, 300);
    key(Qt::Key_D, Qt::ControlModifier);
    EXPECT_NE(job().cage.member("dash_bar_2"), nullptr);
    window_->viewHost().view()->setFocus();
    key(Qt::Key_Delete);
    EXPECT_EQ(job().cage.member("dash_bar_2"), nullptr);
    key(Qt::Key_Z, Qt::ControlModifier);
    EXPECT_NE(job().cage.member("dash_bar_2"), nullptr);
    EXPECT_TRUE(window_->isWindowModified());
    key(Qt::Key_S, Qt::ControlModifier);
    EXPECT_FALSE(window_->isWindowModified());
}

TEST_F(WindowHandTest, EveryActionWithAKeyHasOneOfItsOwnAndEveryActionIsInAMenuOrFound) {
    QMap<QString, QString> keys;
    for (QAction* one : window_->actions()) {
        for (const QKeySequence& shortcut : one->shortcuts()) {
            const QString key = shortcut.toString();
            EXPECT_FALSE(keys.contains(key)) << key.toStdString() << ": " << keys[key].toStdString()
                                             << " and " << one->text().toStdString();
            keys[key] = one->text();
        }
        EXPECT_FALSE(one->toolTip().isEmpty()) << one->text().toStdString();
    }
    for (const char* needed :
         {"Ctrl+N", "Ctrl+O", "Ctrl+S", "Ctrl+Shift+S", "Ctrl+Z", "Ctrl+Shift+Z", "Ctrl+D", "Del", "Ctrl+B",
          "Ctrl+M", "F1", "F4", "F6", "F11", "Ctrl+U", "Ctrl+F", "Ctrl+T"})
        EXPECT_TRUE(keys.contains(QString::fromLatin1(needed))) << needed;
    // The page of keys in the guide names each of them.
    QFile page(QStringLiteral(HOOPWRIGHT_SOURCE_DIR "/data/guide/keys.md"));
    ASSERT_TRUE(page.open(QIODevice::ReadOnly));
    const QString words = QString::fromUtf8(page.readAll());
    for (const QString& key : keys.keys()) {
        const QString written = key == QStringLiteral("Del") ? QStringLiteral("Delete") : key;
        const bool step = key.startsWith(QStringLiteral("Ctrl+")) && key.size() == 6 && key[5].isDigit();
        EXPECT_TRUE(step || key == QStringLiteral("Ctrl+Y") || words.contains(written)) << key.toStdString();
    }
}

TEST_F(WindowHandTest, ABrokenFileShowsItsProblemsAndTheOpenJobStays) {
    const std::filesystem::path broken = demo_.root() / "cages" / "broken.yaml";
    QFile file(QString::fromStdString(broken.string()));
    ASSERT_TRUE(file.open(QIODevice::WriteOnly));
    file.write("hoopwright: cage\nversion: 1\nmembers:\n  - {id: a, stok: 45x2.5}\n");
    file.close();
    QString shown;
    whenAsked([&](QWidget* dialog) {
        shown = dialog->findChild<QTextBrowser*>()->toPlainText();
        press(dialog, QStringLiteral("Close"));
    });
    EXPECT_FALSE(window_->openFile(broken));
    EXPECT_THAT(shown.toStdString(), HasSubstr("stok"));
    EXPECT_THAT(shown.toStdString(), HasSubstr("line 4"));
    EXPECT_EQ(desk().document.files().cage, demo_.saloon());
    EXPECT_NE(QSettings().value(QStringLiteral("recent")).toStringList().front(),
              QString::fromStdString(broken.string()));
}

TEST_F(WindowHandTest, UnsavedChangesAreAskedAboutBeforeAnotherJobComes) {
    desk().document.edit(QStringLiteral("reach"), [](Job& job) { job.cage.node_reach_mm = 61; });
    EXPECT_TRUE(window_->isWindowModified());
    QAction* demo = window_->action(QStringLiteral("Demo: mile pickup"));
    ASSERT_NE(demo, nullptr);
    whenAsked([](QWidget* box) { press(box, QStringLiteral("Stay here")); });
    demo->trigger();
    settle();
    EXPECT_EQ(job().cage.node_reach_mm, 61) << "stayed";
    whenAsked([](QWidget* box) { press(box, QStringLiteral("Throw the changes away")); });
    demo->trigger();
    settle();
    EXPECT_EQ(desk().document.files().cage.filename(), "mile_pickup.yaml");
    EXPECT_FALSE(window_->isWindowModified());
}

TEST_F(WindowHandTest, RecentJobsAreListedNewestFirstAndOpen) {
    ASSERT_TRUE(window_->openFile(demo_.pickup()));
    const QStringList recent = QSettings().value(QStringLiteral("recent")).toStringList();
    ASSERT_GE(recent.size(), 2);
    EXPECT_EQ(recent[0], QString::fromStdString(demo_.pickup().string()));
    EXPECT_EQ(recent[1], QString::fromStdString(demo_.saloon().string()));
    EXPECT_LE(recent.size(), 8);
    QMenu* menu = nullptr;
    for (auto* one : window_->findChildren<QMenu*>()) {
        if (one->title() == QStringLiteral("Open recent")) menu = one;
    }
    ASSERT_NE(menu, nullptr);
    emit menu->aboutToShow();
    ASSERT_GE(menu->actions().size(), 2);
    menu->actions()[1]->trigger();
    settle();
    EXPECT_EQ(desk().document.files().cage, demo_.saloon());
}

TEST_F(WindowHandTest, SavedAsElsewhereItIsTheSameJobInAnotherFile) {
    const std::filesystem::path other = demo_.root() / "cages" / "other.yaml";
    const Job before = job();
    QApplication::setAttribute(Qt::AA_DontUseNativeDialogs);
    // Again and again, as the dialog may still be reading its folder.
    QTimer again;
    QObject::connect(&again, &QTimer::timeout, [&] {
        auto* files = qobject_cast<QFileDialog*>(QApplication::activeModalWidget());
        if (!files) return;
        auto* name = files->findChild<QLineEdit*>(QStringLiteral("fileNameEdit"));
        if (!name) return files->reject();
        name->setText(QString::fromStdString(other.string()));
        QTest::keyClick(name, Qt::Key_Return);
    });
    again.start(200);
    window_->action(QStringLiteral("Save as"))->trigger();
    again.stop();
    settle();
    EXPECT_TRUE(std::filesystem::exists(other));
    EXPECT_EQ(desk().document.files().cage, other);
    EXPECT_TRUE(job() == before);
}

TEST_F(WindowHandTest, ANewJobIsBegunFromTheMenu) {
    whenAsked([](QWidget* dialog) {
        for (auto* one : dialog->findChildren<QLineEdit*>()) {
            if (one->accessibleName() == QStringLiteral("Name of the job"))
                one->setText(QStringLiteral("Fresh"));
        }
        press(dialog, QStringLiteral("Begin"));
    });
    window_->action(QStringLiteral("New job"))->trigger();
    settle();
    EXPECT_EQ(desk().document.title(), QStringLiteral("Fresh"));
    EXPECT_TRUE(job().cage.members.empty());
    EXPECT_EQ(view().cage().members.size(), 0u);
    whenAsked([](QWidget* dialog) {
        for (auto* one : dialog->findChildren<QLineEdit*>()) {
            if (one->accessibleName() == QStringLiteral("Find a role"))
                QTest::keyClicks(one, QStringLiteral("main hoop"));
        }
        press(dialog, QStringLiteral("In the middle of the cage"));
    });
    window_->action(QStringLiteral("Add bar"))->trigger();
    settle();
    ASSERT_EQ(job().cage.members.size(), 1u) << "the first bar of an empty cage";
    EXPECT_EQ(job().cage.members[0].role, "main_hoop");
    desk().document.undoStack().setClean();
}

TEST_F(WindowHandTest, NextFindingGoesRoundAllThatFallsShortAndDrawsEach) {
    ASSERT_TRUE(window_->openFile(demo_.root() / "cages" / "faults" / "hillclimb_saloon.yaml"));
    const int count = window_->fallsShort().list()->model()->rowCount();
    ASSERT_GT(count, 5);
    std::set<std::string> seen;
    for (int n = 0; n < count; ++n) {
        window_->action(QStringLiteral("Next finding"))->trigger();
        settle(0);
        ASSERT_NE(desk().selection.last(), nullptr);
        seen.insert(desk().selection.last()->id);
    }
    EXPECT_EQ(int(seen.size()), count);
    window_->action(QStringLiteral("Next finding"))->trigger();
    EXPECT_TRUE(seen.count(desk().selection.last()->id)) << "round again";
    window_->action(QStringLiteral("Let go"))->trigger();
    EXPECT_EQ(desk().selection.last(), nullptr);
}

TEST_F(WindowHandTest, TheStepsOfTheRailSayWhereTheyStand) {
    ASSERT_TRUE(window_->openFile(demo_.root() / "cages" / "faults" / "hillclimb_saloon.yaml"));
    auto* rail = window_->findChild<StepRail*>();
    ASSERT_NE(rail, nullptr);
    EXPECT_TRUE(rail->state(Step::check).endsWith(QStringLiteral("fail")));
    EXPECT_EQ(rail->state(Step::cage), QStringLiteral("25 bars"));
    EXPECT_TRUE(rail->state(Step::order).endsWith(QStringLiteral(" m")));
    desk().setUnits(UnitsShown::in);
    EXPECT_TRUE(rail->state(Step::order).endsWith(QStringLiteral(" ft")));
    desk().setUnits(UnitsShown::mm);
}

TEST_F(WindowHandTest, AFindingChosenInTheOrderStepOpensTheCheckStep) {
    window_->goTo(Step::order);
    settle();
    window_->action(QStringLiteral("Next finding"))->trigger();
    settle();
    auto* rail = window_->findChild<StepRail*>();
    ASSERT_NE(rail, nullptr);
    EXPECT_TRUE(window_->details().isVisible()) << "what it says is there to be read";
    window_->goTo(Step::order);
    settle();
    EXPECT_FALSE(window_->details().isVisible()) << "asked for, the sticks come back";
}

TEST_F(WindowHandTest, WhatWasChosenOfTheCarStaysBehindInItsStep) {
    window_->action(QStringLiteral("Step: Car"))->trigger();
    desk().selection.set({Kind::car_point, job().car.points.front().name});
    window_->action(QStringLiteral("Step: Driver"))->trigger();
    settle();
    EXPECT_EQ(desk().selection.last(), nullptr);
    desk().selection.set({Kind::member, "main_hoop"});
    window_->action(QStringLiteral("Step: Check"))->trigger();
    settle();
    ASSERT_NE(desk().selection.last(), nullptr) << "a bar is looked at in every step";
    EXPECT_EQ(desk().selection.last()->id, "main_hoop");
}

TEST_F(WindowHandTest, ClassTablesGoInAndOutFromTheTop) {
    QMenu* menu = nullptr;
    for (auto* one : window_->findChildren<QMenu*>()) {
        if (one->title() == QStringLiteral("Class tables")) menu = one;
    }
    ASSERT_NE(menu, nullptr);
    emit menu->aboutToShow();
    int used = 0;
    for (QAction* one : menu->actions()) used += one->isChecked();
    EXPECT_EQ(used, 1);
    EXPECT_GE(menu->actions().size(), 4);
}

TEST_F(WindowHandTest, TheGuideOpensAtItsPages) {
    window_->action(QStringLiteral("Keys"))->trigger();
    settle();
    auto* guide = window_->findChild<Guide*>();
    ASSERT_NE(guide, nullptr);
    EXPECT_TRUE(waitForActive(guide));
    QTest::keyClick(guide, Qt::Key_Escape);
    EXPECT_FALSE(guide->isVisible());
    window_->action(QStringLiteral("Guide"))->trigger();
    settle();
    EXPECT_TRUE(guide->isVisible()) << "one guide, opened again";
}

}  // namespace
}  // namespace hoopwright
