// A whole cage from a starter, and bars fitted to the car: real keys and clicks in the real dialogs.
#include <QCheckBox>
#include <QDialog>
#include <QLineEdit>
#include <QListWidget>
#include <QTreeWidget>

#include "core/skin/gap_to_skin.h"
#include "window_fixture.h"

namespace hoopwright {
namespace {

using testing::HasSubstr;

class WindowStarterTest : public WindowTest {
protected:
    /// Does `act` to the next modal dialog with that title, once it is there.
    template <class Act>
    void whenAsked(const QString& title, const Act& act) {
        auto* timer = new QTimer(window_.get());
        QObject::connect(timer, &QTimer::timeout, window_.get(), [timer, title, act] {
            QWidget* dialog = QApplication::activeModalWidget();
            if (!dialog || dialog->windowTitle() != title) return;
            timer->deleteLater();
            act(dialog);
            if (dialog->isVisible()) dialog->close();
        });
        timer->start(50);
    }
    template <class Control>
    static Control* called(QWidget* in, const QString& name) {
        for (auto* one : in->findChildren<Control*>())
            if (one->accessibleName() == name) return one;
        ADD_FAILURE() << "nothing is called " << name.toStdString();
        return nullptr;
    }
    static QPushButton* saying(QWidget* in, const QString& words) {
        for (auto* one : in->findChildren<QPushButton*>())
            if (one->text() == words) return one;
        ADD_FAILURE() << "no button " << words.toStdString();
        return nullptr;
    }
    /// Waits until the button can be pressed: the work is done.
    static bool waitUntilOn(QPushButton* button) {
        return waitFor([button] { return button->isEnabled(); });
    }
    static void keepDialog(QWidget* dialog, const QString& name) {
        QDir().mkpath(QStringLiteral(HOOPWRIGHT_PICTURES));
        dialog->grab().save(QStringLiteral(HOOPWRIGHT_PICTURES "/") + name + QStringLiteral(".png"));
    }
    static QTreeWidgetItem* option(QTreeWidget* tree, const QString& words) {
        const auto found = tree->findItems(words, Qt::MatchExactly);
        return found.isEmpty() ? nullptr : found.front();
    }
    /// Types into a field of a dialog and leaves it.
    static void typeInto(QWidget* dialog, const QString& name, const QString& words) {
        auto* field = called<QLineEdit>(dialog, name);
        ASSERT_TRUE(giveFocus(field));
        type(field, words, Qt::Key_Tab);
    }
    /// A click on the box before an option.
    static void turn(QTreeWidget* tree, const QString& words) {
        QTreeWidgetItem* item = option(tree, words);
        ASSERT_NE(item, nullptr) << words.toStdString();
        tree->scrollToItem(item);
        QTest::mouseClick(
            tree->viewport(), Qt::LeftButton, {},
            tree->visualItemRect(item).topLeft() + QPoint(12, tree->visualItemRect(item).height() / 2));
    }
    bool has(const char* member) { return desk().document.geometry().member(member) >= 0; }
};

TEST_F(WindowStarterTest, ACageIsLaidOutInPlaceOfTheOneThereIsAndUndoneInOneStep) {
    const Job before = job();
    whenAsked(QStringLiteral("Lay out from a starter"), [](QWidget* dialog) {
        auto* list = called<QListWidget>(dialog, QStringLiteral("Starters"));
        auto* use = saying(dialog, QStringLiteral("Lay it out"));
        ASSERT_EQ(list->count(), 9);
        EXPECT_FALSE(use->isEnabled()) << "nothing is worked out yet";
        const QModelIndex hoops = list->model()->index(6, 0);
        list->scrollTo(hoops);
        QTest::mouseClick(list->viewport(), Qt::LeftButton, {}, list->visualRect(hoops).center());
        ASSERT_TRUE(waitUntilOn(use));
        auto* tree = called<QTreeWidget>(dialog, QStringLiteral("Options"));
        EXPECT_EQ(option(tree, QStringLiteral("Dash bar"))->checkState(0), Qt::Checked);
        EXPECT_TRUE(option(tree, QStringLiteral("Dash bar"))->text(1).endsWith(QStringLiteral("kg")));
        EXPECT_TRUE(option(tree, QStringLiteral("Dash bar"))->text(2).contains(QStringLiteral("2.4")));
        turn(tree, QStringLiteral("Roof cross"));
        EXPECT_FALSE(use->isEnabled()) << "it is being laid out anew";
        ASSERT_TRUE(waitUntilOn(use));
        EXPECT_EQ(option(tree, QStringLiteral("Roof cross"))->checkState(0), Qt::Checked);
        EXPECT_EQ(option(tree, QStringLiteral("Roof diagonal"))->checkState(0), Qt::Unchecked)
            << "of one group a cage has one";
        ASSERT_TRUE(waitFor([list] {
            for (int i = 0; i < list->count(); ++i)
                if (!list->item(i)->text().contains(QStringLiteral("tubes"))) return false;
            return true;
        })) << "every starter is weighed";
        EXPECT_TRUE(list->item(3)->text().contains(QStringLiteral("meets its class")))
            << list->item(3)->text().toStdString();
        keepDialog(dialog, QStringLiteral("starter_picker"));
        QTest::mouseClick(use, Qt::LeftButton);
    });
    window_->action(QStringLiteral("Lay out from a starter"))->trigger();
    settle();
    EXPECT_TRUE(has("front_hoop"));
    EXPECT_TRUE(has("roof_diagonal_across_first"));
    EXPECT_TRUE(desk().document.geometry().problems.empty());
    EXPECT_EQ(job().cage.name, before.cage.name);
    keep(QStringLiteral("starter_laid_out"));
    desk().document.undoStack().undo();
    EXPECT_TRUE(job() == before);
}

TEST_F(WindowStarterTest, EscapeLaysNothingOut) {
    const Job before = job();
    whenAsked(QStringLiteral("Lay out from a starter"),
              [](QWidget* dialog) { QTest::keyClick(dialog, Qt::Key_Escape); });
    window_->action(QStringLiteral("Lay out from a starter"))->trigger();
    EXPECT_TRUE(job() == before);
    EXPECT_EQ(desk().document.undoStack().count(), 0);
}

TEST_F(WindowStarterTest, AWiderGapIsTypedAndKept) {
    whenAsked(QStringLiteral("Lay out from a starter"), [](QWidget* dialog) {
        auto* use = saying(dialog, QStringLiteral("Lay it out"));
        ASSERT_TRUE(waitUntilOn(use));
        typeInto(dialog, QStringLiteral("Gap to the skin, at least"), QStringLiteral("40"));
        ASSERT_TRUE(waitUntilOn(use));
        QTest::mouseClick(use, Qt::LeftButton);
    });
    window_->action(QStringLiteral("Lay out from a starter"))->trigger();
    ASSERT_TRUE(has("side_bar.left"));
    const CarSkin skin = carSkin(job().car, job().scan_meshes);
    for (const char* id : {"main_hoop", "side_bar.left", "side_bar.right"}) {
        const CageGeometry& cage = desk().document.geometry();
        const auto gap = gapToSkin(cage.members[std::size_t(cage.member(id))], skin,
                                   bitOf(SurfaceKind::shell) | bitOf(SurfaceKind::glass));
        ASSERT_TRUE(gap);
        EXPECT_GE(gap->gap.least_mm, 40 - 0.2) << id;
    }
}

TEST_F(WindowStarterTest, ANewJobGoesOnToAStarter) {
    whenAsked(QStringLiteral("New job"), [](QWidget* dialog) {
        QCheckBox* starter = nullptr;
        for (auto* box : dialog->findChildren<QCheckBox*>())
            if (box->text().contains(QStringLiteral("starter"))) starter = box;
        ASSERT_NE(starter, nullptr);
        EXPECT_FALSE(starter->isEnabled()) << "nobody sits in it yet";
        auto* cars = called<QComboBox>(dialog, QStringLiteral("Car"));
        cars->setCurrentIndex(cars->findText(QStringLiteral("Two-door saloon")));
        auto* racks = called<QComboBox>(dialog, QStringLiteral("Tube stock"));
        racks->setCurrentIndex(racks->findText(QStringLiteral("Rack, metric cold-drawn tube")));
        auto* dies = called<QComboBox>(dialog, QStringLiteral("Bending dies"));
        dies->setCurrentIndex(dies->findText(QStringLiteral("Rotary draw bender, metric dies")));
        auto* drivers = called<QListWidget>(dialog, QStringLiteral("Drivers"));
        drivers->findItems(QStringLiteral("Tall driver (saloon tall)"), Qt::MatchExactly)
            .front()
            ->setCheckState(Qt::Checked);
        EXPECT_TRUE(starter->isEnabled());
        QTest::mouseClick(saying(dialog, QStringLiteral("Begin")), Qt::LeftButton);
    });
    whenAsked(QStringLiteral("Lay out from a starter"), [](QWidget* dialog) {
        auto* use = saying(dialog, QStringLiteral("Lay it out"));
        ASSERT_TRUE(waitUntilOn(use));
        QTest::mouseClick(use, Qt::LeftButton);
    });
    window_->action(QStringLiteral("New job"))->trigger();
    settle();
    EXPECT_TRUE(has("main_hoop"));
    EXPECT_TRUE(has("side_bar.left"));
    EXPECT_TRUE(desk().document.geometry().problems.empty());
    desk().document.undoStack().setClean();
}

// Its gap measured by core/skin, not by what fitted it.
TEST_F(WindowStarterTest, AHoopIsFittedToTheCarAndUsedInOneStep) {
    desk().selection.set({Kind::member, "main_hoop"});
    const Job before = job();
    whenAsked(QStringLiteral("Fit to the car"), [](QWidget* dialog) {
        auto* use = saying(dialog, QStringLiteral("Use it"));
        ASSERT_TRUE(waitUntilOn(use));
        typeInto(dialog, QStringLiteral("Fit, gap, at least"), QStringLiteral("32"));
        ASSERT_TRUE(waitUntilOn(use));
        const QString table = called<QLabel>(dialog, QStringLiteral("Gap before and after"))->text();
        for (const char* word : {"as it is", "fitted", "least", "mean", "greatest", "32"})
            EXPECT_THAT(table.toStdString(), HasSubstr(word));
        EXPECT_THAT(called<QLabel>(dialog, QStringLiteral("What holds it"))->text().toStdString(),
                    HasSubstr("roof gap"));
        keepDialog(dialog, QStringLiteral("fit_bar"));
        QTest::mouseClick(use, Qt::LeftButton);
    });
    window_->action(QStringLiteral("Fit to the car"))->trigger();
    EXPECT_FALSE(job() == before);
    const CarSkin skin = carSkin(job().car, job().scan_meshes);
    const CageGeometry& cage = desk().document.geometry();
    const auto gap = gapToSkin(cage.members[std::size_t(cage.member("main_hoop"))], skin,
                               bitOf(SurfaceKind::shell) | bitOf(SurfaceKind::glass));
    ASSERT_TRUE(gap);
    EXPECT_NEAR(gap->gap.least_mm, 32, 0.3);
    desk().document.undoStack().undo();
    EXPECT_TRUE(job() == before);
}

TEST_F(WindowStarterTest, WhatCannotBeFittedSaysWhy) {
    QString said;
    QObject::connect(&desk(), &Desk::say, &desk(), [&](const QString& words) { said = words; });
    desk().selection.clear();
    window_->action(QStringLiteral("Fit to the car"))->trigger();
    EXPECT_THAT(said.toStdString(), HasSubstr("Choose the bar"));
    desk().selection.set({Kind::member, "belt_bar"});
    whenAsked(QStringLiteral("Fit to the car"), [](QWidget* dialog) {
        auto* words = called<QLabel>(dialog, QStringLiteral("Gap before and after"));
        ASSERT_TRUE(waitFor([words] { return words->text().contains(QStringLiteral("straight")); }));
        EXPECT_FALSE(saying(dialog, QStringLiteral("Use it"))->isEnabled());
        QTest::keyClick(dialog, Qt::Key_Escape);
    });
    window_->action(QStringLiteral("Fit to the car"))->trigger();
    EXPECT_EQ(desk().document.undoStack().count(), 0);
}

}  // namespace
}  // namespace hoopwright
